package rules

import (
	"slices"
	"testing"
)

func TestDoubledThread(t *testing.T) {
	plain := []any{1, 2, 3, 4, 1, 3, 2, 4, 1, 2, 3, 4, 1, 3, 2, 4, 3, 1, 2, 4, 3, 1, 4, 2}
	double := func(at int) []any { return slices.Insert(slices.Clone(plain), at, plain[at-1]) }
	mirror := slices.Clone(plain)
	slices.Reverse(mirror)
	check(t, "draft/doubled-thread", []row{
		{name: "neighbours differ", draft: warpOf(plain...)},
		{name: "two ends", draft: warpOf(double(10)...), want: []string{`note 10=2 {"system":"warp","threads":[10],"count":1}`}},
		{name: "two picks", draft: weftOf("TREADLING", double(10)...), want: []string{`note 10=2 {"system":"weft","threads":[10],"count":1}`}},
		{name: "two picks in two colors", draft: weftOf("TREADLING", double(10)...) + "[WEFT COLORS]\n11=2\n"},
		{name: "two lifts", draft: "[TREADLING]\n" + weftOf("LIFTPLAN", slices.Insert([]any{1, 2, 3, 4, 1, 3, 2, 4, 1, 2, 3, 4, 1, 3, 2, 4, 3, 1, 2, 4, 3, 1, 4, 2}, 10, any(2))...),
			want: []string{`note 10=2 {"system":"weft","threads":[10],"count":1}`}},
		{name: "two treadles tied alike", draft: "[WEAVING]\nShafts=4\nTreadles=5\nRising Shed=true\n" + table("TIEUP", "1,2", "2,3", "3,4", "1,4", "2,3") +
			weftOf("TREADLING", slices.Insert(slices.Clone(plain), 10, any(5))...), want: []string{`note 10=2 {"system":"weft","threads":[10],"count":1}`}},
		{name: "one in twenty", draft: warpOf(double(10)[:21]...)},
		{name: "outer four", draft: warpOf(double(4)...)},
		{name: "outer four at the other edge", draft: warpOf(double(21)...)},
		{name: "the centre of a mirrored draft", draft: warpOf(slices.Concat(plain, mirror)...)},
		{name: "in each repeat", draft: warpOf(slices.Repeat(double(10), 2)...)},
		{name: "a slip", draft: warpOf(slices.Insert(slices.Repeat([]any{1, 2, 3, 4}, 6), 9, any(2))...)},
		{name: "a slip that is not looked for", draft: warpOf(slices.Insert(slices.Repeat([]any{1, 2, 3, 4}, 6), 9, any(2))...), settings: "[rules]\ndraft/slip = off\n",
			want: []string{`note 10=2 {"system":"warp","threads":[10],"count":1}`}},
	})
}
