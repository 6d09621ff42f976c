package rules

import "testing"

func TestLikeTreadles(t *testing.T) {
	const five = "[WEAVING]\nShafts=4\nTreadles=6\nRising Shed=true\n"
	check(t, "draft/like-treadles", []row{
		{name: "all different"},
		{name: "two alike", draft: five + table("TIEUP", "1,2", "2,3", "3,4", "1,4", "1,2") + table("TREADLING", 1, 2, 3, 4, 5, 2, 3, 4),
			want: []string{`note 5=1,2 {"treadles":[1,5]}`}},
		{name: "two pairs, one written the other way round", draft: five + table("TIEUP", "1,2", "2,3", "3,4", "1,4", "2,1", "3,2") + table("TREADLING", 1, 2, 3, 4, 5, 6, 3, 4),
			want: []string{`note 5=2,1 {"treadles":[1,5]}`, `note 6=3,2 {"treadles":[2,6]}`}},
		{name: "three alike", draft: five + table("TIEUP", "1,2", "2,3", "3,4", "1,4", "1,2", "1,2") + table("TREADLING", 1, 2, 3, 4, 5, 6, 3, 4),
			want: []string{`note 5=1,2 {"treadles":[1,5,6]}`}},
		{name: "never pressed", draft: five + table("TIEUP", "1,2", "2,3", "3,4", "1,4", "1,2")},
		{name: "untied", draft: five + table("TIEUP", "1,2", "2,3", "3,4", "1,4", "", "") + table("TREADLING", 1, 2, 3, 4, 5, 6, 3, 4)},
		{name: "a lift plan", draft: five + table("TIEUP", "1,2", "2,3", "3,4", "1,4", "1,2") + table("TREADLING", 1, 2, 3, 4, 5, 2, 3, 4) +
			table("LIFTPLAN", "1,2", "2,3", "3,4", "1,4", "1,2", "2,3", "3,4", "1,4")},
	})
}
