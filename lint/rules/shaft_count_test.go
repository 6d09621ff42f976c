package rules

import "testing"

func TestShaftCount(t *testing.T) {
	check(t, "draft/shaft-count", []row{
		{name: "as declared"},
		{name: "undeclared", draft: "[WEAVING]\nTreadles=4\nRising Shed=true\n"},
		{name: "threading goes beyond", draft: "[WEAVING]\nShafts=3\nTreadles=4\nRising Shed=true\n", says: "declares 3 shafts and names shaft 4; declare 4",
			want: []string{`error Shafts=3 {"declared":3,"used":4}`}},
		{name: "tie-up alone goes beyond", draft: table("TIEUP", "1,2", "2,3", "3,4", "1,4,7"),
			says: "and treadle 4 alone names shaft 7; put that right if it is a slip, else declare 7", fix: "risky",
			want: []string{`error Shafts=4 {"declared":4,"used":7}`}},
		{name: "an end and a treadle go beyond", draft: table("TIEUP", "1,2", "2,3", "3,4", "1,5") + table("THREADING", 1, 2, 3, 4, 1, 2, 3, 5),
			says: "names shaft 5; declare 5", fix: "certain", want: []string{`error Shafts=4 {"declared":4,"used":5}`}},
		{name: "lift plan alone goes beyond", draft: table("LIFTPLAN", "1,2", "2,3", "3,4", "1,5"),
			want: []string{`error Shafts=4 {"declared":4,"used":5}`}},
	})
}
