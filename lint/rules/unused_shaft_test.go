package rules

import "testing"

func TestUnusedShaft(t *testing.T) {
	check(t, "draft/unused-shaft", []row{
		{name: "all carry ends"},
		{name: "two more", draft: "[WEAVING]\nShafts=6\nTreadles=4\nRising Shed=true\n",
			want: []string{`note Shafts=6 {"shafts":[5,6]}`}},
		{name: "one within", draft: table("THREADING", 1, 2, 4, 2, 1, 2, 4, 2),
			want: []string{`note Shafts=4 {"shafts":[3]}`}},
		{name: "undeclared, but tied", draft: "[WEAVING]\nTreadles=4\nRising Shed=true\n" + table("TIEUP", "1,2", "2,3", "3,4", "1,4,6"),
			want: []string{`note [WEAVING] {"shafts":[5,6]}`}},
		{name: "nothing threaded at all", draft: "[THREADING]\n"},
	})
}
