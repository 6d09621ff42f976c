package rules

import "testing"

func TestLiftConflict(t *testing.T) {
	check(t, "draft/lift-conflict", []row{
		{name: "no lift plan"},
		{name: "both agree", draft: table("LIFTPLAN", "1,2", "2,3", "3,4", "1,4", "1,2", "2,3", "3,4", "1,4")},
		{name: "two picks differ", draft: table("LIFTPLAN", "1,2", "2,3", "3", "1,4", "1,2", "2,3", "3,4", "1,2,4"),
			want: []string{`error 3=3 {"picks":[3,8],"count":2}`}},
		{name: "lift plan ends early", draft: table("LIFTPLAN", "1,2", "2,3", "3,4", "1,4", "1,2", "2,3"),
			want: []string{`error [LIFTPLAN] {"picks":[7,8],"count":2}`}},
		{name: "lift plan alone", draft: "[TREADLING]\n" + table("LIFTPLAN", "1,3", "2,4")},
		{name: "several treadles at once agree", draft: table("TREADLING", "1,3", 2, 3, 4, 1, 2, 3, 4) + table("LIFTPLAN", "1,2,3,4", "2,3", "3,4", "1,4", "1,2", "2,3", "3,4", "1,4")},
	})
}
