package rules

import "testing"

func TestTreadleCount(t *testing.T) {
	check(t, "draft/treadle-count", []row{
		{name: "as declared"},
		{name: "declared as 0, as lift plan drafts do", draft: "[WEAVING]\nShafts=4\nTreadles=0\nRising Shed=true\n"},
		{name: "tied beyond", draft: "[WEAVING]\nShafts=4\nTreadles=3\nRising Shed=true\n",
			want: []string{`error Treadles=3 {"declared":3,"used":4}`}},
		{name: "pressed beyond", draft: table("TREADLING", 1, 2, 3, 4, 1, 2, 3, 9),
			fix:  "risky",
			want: []string{`error 8=9 {"declared":4,"used":9}`}},
		{name: "pressed beyond twice", draft: table("TREADLING", 1, 2, 3, 4, 1, 2, 5, 5), fix: "certain",
			want: []string{`error Treadles=4 {"declared":4,"used":5}`}},
		{name: "pressed far beyond twice", draft: table("TREADLING", 1, 2, 3, 4, 1, 2, 9, 9), fix: "risky",
			want: []string{`error Treadles=4 {"declared":4,"used":9}`}},
		{name: "tied beyond and not pressed", draft: table("TIEUP", "1,2", "2,3", "3,4", "1,4", "1"), fix: "risky",
			want: []string{`error Treadles=4 {"declared":4,"used":5}`}},
		{name: "a key struck twice", draft: table("TREADLING", 1, 2, 3, 44, 1, 2, 3, 4), fix: "risky",
			want: []string{`error 4=44 {"declared":4,"used":44}`}},
		{name: "in a row's own number", draft: "[TIEUP]\n1=1,2\n22=2,3\n3=3,4\n4=1,4\n", fix: "risky",
			want: []string{`error 22=2,3 {"declared":4,"used":22}`}},
		{name: "in a row's own number, where that row is there", draft: "[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n22=1\n", fix: "risky",
			want: []string{`error Treadles=4 {"declared":4,"used":22}`}},
	})
}
