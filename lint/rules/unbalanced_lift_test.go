package rules

import "testing"

func TestUnbalancedLift(t *testing.T) {
	check(t, "loom/unbalanced-lift", []row{
		{name: "balanced throughout", settings: "[loom]\nshed = balanced\n"},
		{name: "rising loom", draft: table("TIEUP", "1", "2,3", "3,4", "1,4"), settings: "[loom]\nshed = rising\n"},
		{name: "one against three", draft: table("TIEUP", "1", "2,3", "3,4", "1,4"), settings: "[loom]\nshed = balanced\n",
			want: []string{`warning 1=1 {"picks":[1,5],"count":2,"lifted":1,"of":4}`}},
		{name: "sinking draft: named shafts go down", draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=false\n" + table("TIEUP", "1", "2,3", "3,4", "1,4"), settings: "[loom]\nshed = balanced\n",
			want: []string{`warning 1=1 {"picks":[1,5],"count":2,"lifted":3,"of":4}`}},
		{name: "two treadles together", draft: table("TREADLING", 1, 2, 3, "1,2", 1, 2, 3, 4), settings: "[loom]\nshed = balanced\n",
			want: []string{`warning 4=1,2 {"picks":[4],"count":1,"lifted":3,"of":4}`}},
		{name: "lift plan", draft: table("LIFTPLAN", "1,2", "2,3", "3,4", "1,4", "1,2", "2,3", "3,4", "1,2,4"), settings: "[loom]\nshed = balanced\n",
			want: []string{`warning 8=1,2,4 {"picks":[8],"count":1,"lifted":3,"of":4}`}},
		{name: "shafts without ends do not count", draft: "[WEAVING]\nShafts=6\nTreadles=4\nRising Shed=true\n" + table("TIEUP", "1,2,5,6", "2,3", "3,4", "1,4"), settings: "[loom]\nshed = balanced\n"},
	})
}
