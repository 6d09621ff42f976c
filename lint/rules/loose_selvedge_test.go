package rules

import "testing"

func TestLooseSelvedge(t *testing.T) {
	check(t, "cloth/loose-selvedge", []row{
		{name: "caught from the left"},
		{name: "last pick like the one before but one", draft: table("TREADLING", 1, 2, 3, 4, 1, 2, 3, 3),
			want: []string{`note 1=1 {"misses_from_left":1,"misses_from_right":7,"best_start":"left"}`}},
		{name: "either side is as bad", draft: table("TREADLING", 1, 1, 1, 1, 1, 1, 1, 1),
			want: []string{`note 1=1 {"misses_from_left":7,"misses_from_right":7,"best_start":"left"}`}},
		{name: "caught from the right only", draft: table("THREADING", 4, 3, 2, 1, 4, 3, 2, 1)},
		{name: "several shuttles", draft: table("TREADLING", 1, 2, 3, 4, 1, 2, 3, 3) + "[WEFT COLORS]\n2=2\n"},
		{name: "one shuttle, its color row by row", draft: table("TREADLING", 1, 2, 3, 4, 1, 2, 3, 3) + table("WEFT COLORS", 1, 1, 1, 1, 1, 1, 1, 1),
			want: []string{`note 1=1 {"misses_from_left":1,"misses_from_right":7,"best_start":"left"}`}},
		{name: "floating selvedges catch every turn", draft: table("TREADLING", 1, 2, 3, 4, 1, 2, 3, 3), settings: "[project]\nfloating selvedges = yes\n"},
	})
}
