package rules

import "testing"

func TestTreadleCount(t *testing.T) {
	check(t, "draft/treadle-count", []row{
		{name: "as declared"},
		{name: "declared as 0, as lift plan drafts do", draft: "[WEAVING]\nShafts=4\nTreadles=0\nRising Shed=true\n"},
		{name: "tied beyond", draft: "[WEAVING]\nShafts=4\nTreadles=3\nRising Shed=true\n", says: "declares 3 treadles and names treadle 4",
			want: []string{`error Treadles=3 {"declared":3,"used":4}`}},
		{name: "pressed beyond", draft: table("TREADLING", 1, 2, 3, 4, 1, 2, 3, 9),
			says: "and pick 8 alone names treadle 9", fix: "risky",
			want: []string{`error Treadles=4 {"declared":4,"used":9}`}},
		{name: "pressed beyond twice", draft: table("TREADLING", 1, 2, 3, 4, 1, 2, 9, 9), says: "names treadle 9; declare 9", fix: "certain",
			want: []string{`error Treadles=4 {"declared":4,"used":9}`}},
		{name: "tied beyond and not pressed", draft: table("TIEUP", "1,2", "2,3", "3,4", "1,4", "1"), says: "and the tie-up alone names treadle 5", fix: "risky",
			want: []string{`error Treadles=4 {"declared":4,"used":5}`}},
	})
}
