package rules

import "testing"

func TestLooseSelvedge(t *testing.T) {
	check(t, "cloth/loose-selvedge", []row{
		{name: "caught from the left"},
		{name: "last pick like the one before but one", draft: table("TREADLING", 1, 2, 3, 4, 1, 2, 3, 3),
			want: []string{`note 1=1 {"misses_from_left":1,"misses_from_right":7,"best_start":"left"}`}},
		{name: "either side is as bad, and nothing helps", draft: table("TREADLING", 1, 1, 1, 1, 1, 1, 1, 1)},
		// Ends on shafts 1 and 3 change at the odd turns of the seven, those on 2 and 4 at the even ones.
		{name: "one end less", draft: "[WARP]\nThreads=7\nColor=1\n" + table("THREADING", 1, 2, 3, 4, 1, 2, 3),
			want: []string{`note 1=1 {"misses_from_left":3,"misses_from_right":3,"best_start":"left"}`}},
		// The edges are ends 1 and 3 of the draft: 8 × 2 + 3 ends.
		{name: "the edges are those of the whole warp", settings: "[project]\nrepeats = 2\nbalance = 3\n",
			want: []string{`note 1=1 {"misses_from_left":3,"misses_from_right":3,"best_start":"left"}`}},
		{name: "whole repeats end like the draft", settings: "[project]\nrepeats = 2\n"},
		// The misses are at the turns 34-14 and 23-12, wherever the treadling begins.
		{name: "a point treadling", draft: table("TREADLING", 1, 2, 3, 4, 3, 2, 1, 2)},
		{name: "caught from the right only", draft: table("THREADING", 4, 3, 2, 1, 4, 3, 2, 1)},
		{name: "several shuttles", draft: table("TREADLING", 1, 2, 3, 4, 1, 2, 3, 3) + "[WEFT COLORS]\n2=2\n"},
		{name: "one shuttle, its color row by row", draft: table("TREADLING", 1, 2, 3, 4, 1, 2, 3, 3) + table("WEFT COLORS", 1, 1, 1, 1, 1, 1, 1, 1),
			want: []string{`note 1=1 {"misses_from_left":1,"misses_from_right":7,"best_start":"left"}`}},
		{name: "floating selvedges catch every turn", draft: table("TREADLING", 1, 2, 3, 4, 1, 2, 3, 3), settings: "[project]\nfloating selvedges = yes\n"},
	})
}
