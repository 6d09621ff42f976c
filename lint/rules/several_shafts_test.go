package rules

import "testing"

func TestSeveralShafts(t *testing.T) {
	check(t, "draft/several-shafts", []row{
		{name: "one each"},
		{name: "on none is not on several", draft: table("THREADING", 1, 2, 3, 0, 1, 2, 3, 4)},
		{name: "two ends", draft: table("THREADING", 1, 2, 3, "1,4", 1, 2, 3, "2,3,4"),
			want: []string{`note 4=1,4 {"ends":[4,8],"count":2}`}},
	})
}
