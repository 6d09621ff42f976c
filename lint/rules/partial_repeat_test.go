package rules

import "testing"

func TestPartialRepeat(t *testing.T) {
	check(t, "draft/partial-repeat", []row{
		{name: "whole repeats"},
		{name: "two ends over", draft: "[WARP]\nThreads=10\nColor=1\nUnits=Centimeters\nSpacing=0.1\n" + table("THREADING", 1, 2, 3, 4, 1, 2, 3, 4, 1, 2),
			want: []string{`note Threads=10 {"system":"warp","repeat":4,"over":2}`}},
		{name: "one pick over", draft: "[WEFT]\nThreads=9\nColor=1\nUnits=Centimeters\nSpacing=0.1\n" + table("TREADLING", 1, 2, 3, 4, 1, 2, 3, 4, 1),
			want: []string{`note Threads=9 {"system":"weft","repeat":4,"over":1}`}},
		{name: "nothing repeats", draft: table("THREADING", 1, 2, 3, 4, 4, 3, 3, 2)},
		{name: "point draw with its closing end", draft: "[WARP]\nThreads=13\nColor=1\nUnits=Centimeters\nSpacing=0.1\n" + table("THREADING", 1, 2, 3, 4, 3, 2, 1, 2, 3, 4, 3, 2, 1)},
		{name: "less than two repeats", draft: "[WARP]\nThreads=9\nColor=1\nUnits=Centimeters\nSpacing=0.1\n" + table("THREADING", 1, 2, 3, 1, 4, 2, 3, 1, 2)},
	})
}
