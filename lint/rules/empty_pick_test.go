package rules

import "testing"

func TestEmptyPick(t *testing.T) {
	check(t, "draft/empty-pick", []row{
		{name: "none"},
		{name: "no treadle", draft: table("TREADLING", 1, 2, 3, 4, 0, 2, 3, 0),
			want: []string{`warning 5=0 {"picks":[5,8],"count":2}`}},
		{name: "unlisted", draft: table("TREADLING", 1, 2, 3, 4, 1, 2, 3),
			want: []string{`warning [TREADLING] {"picks":[8],"count":1}`}},
		{name: "no shaft in the lift plan", draft: table("LIFTPLAN", "1,2", "2,3", 0, "1,4", "1,2", "2,3", "3,4", "1,4"),
			want: []string{`warning 3=0 {"picks":[3],"count":1}`}},
		{name: "the lift plan counts, not the treadling", draft: table("TREADLING", 1, 2, 0, 4, 1, 2, 3, 4) + table("LIFTPLAN", "1,2", "2,3", "3,4", "1,4", "1,2", "2,3", "3,4", "1,4")},
		{name: "an untied treadle is another matter", draft: table("TIEUP", "1,2", "2,3", "3,4")},
	})
}
