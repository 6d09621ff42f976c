package rules

import "testing"

func TestUntiedTreadle(t *testing.T) {
	check(t, "draft/untied-treadle", []row{
		{name: "all tied"},
		{name: "row left out", draft: table("TIEUP", "1,2", "2,3", "3,4"),
			want: []string{`warning [TIEUP] {"treadle":4,"picks":[4,8]}`}},
		{name: "two of them, one with another treadle", draft: table("TIEUP", "1,2", 0, 0, "1,4") + table("TREADLING", 1, 2, "1,3", 4, 1, 2, 3, 4),
			want: []string{`warning 2=0 {"treadle":2,"picks":[2,6]}`, `warning 3=0 {"treadle":3,"picks":[3,7]}`}},
		{name: "a lift plan says what rises", draft: table("TIEUP", "1,2", "2,3", "3,4") + table("LIFTPLAN", "1,2", "2,3", "3,4", "1,4", "1,2", "2,3", "3,4", "1,4")},
		{name: "untied but not pressed", draft: table("TIEUP", "1,2", "2,3", "3,4", "1,4", 0) + "[WEAVING]\nShafts=4\nTreadles=5\nRising Shed=true\n"},
	})
}
