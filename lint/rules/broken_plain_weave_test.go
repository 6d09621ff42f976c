package rules

import (
	"math/rand/v2"
	"slices"
	"testing"

	"fettle/schema"
)

func TestBrokenPlainWeave(t *testing.T) {
	const tabby = "[WEAVING]\nShafts=4\nTreadles=2\nRising Shed=true\n[TIEUP]\n1=1,3\n2=2,4\n[TREADLING]\n1=1\n2=2\n3=1\n4=2\n5=1\n6=2\n7=1\n8=2\n"
	var plain []any
	for _, digit := range "1212123232341414343412121" {
		plain = append(plain, int(digit-'0'))
	}
	put := func(end, shaft int) []any {
		list := slices.Clone(plain)
		list[end-1] = shaft
		return list
	}
	check(t, "draft/broken-plain-weave", []row{
		{name: "plain weave", draft: tabby + warpOf(plain...)},
		{name: "an end too many", draft: tabby + warpOf(slices.Insert(slices.Clone(plain), 11, any(1))...),
			want: []string{`warning 12=1 {"treadles":[1,2],"ends":[12],"count":1}`}},
		{name: "an end on the wrong shaft", draft: tabby + warpOf(put(12, 3)...),
			want: []string{`warning 12=3 {"treadles":[1,2],"ends":[12],"count":1}`}},
		{name: "two ends", draft: tabby + warpOf(slices.Insert(put(16, 3), 8, any(4))...),
			want: []string{`warning 9=4 {"treadles":[1,2],"ends":[9,17],"count":2}`}},
		{name: "three ends", draft: tabby + warpOf(slices.Insert(slices.Insert(put(19, 4), 14, any(3)), 9, any(1))...)},
		{name: "at the edge", draft: tabby + warpOf(slices.Insert(slices.Clone(plain), 2, any(4))...)},
		{name: "other shafts give plain weave", draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=true\n" + table("TIEUP", "1,2", "3,4", "1,3", "2,4") +
			warpOf(slices.Concat(slices.Repeat([]any{1, 4}, 6), slices.Repeat([]any{1, 2}, 1), slices.Repeat([]any{3, 2}, 6))...)},
		{name: "treadles that share a shaft", draft: "[WEAVING]\nShafts=4\nTreadles=2\nRising Shed=true\n" + table("TIEUP", "1,3", "2,3,4") +
			"[TREADLING]\n1=1\n2=2\n3=1\n4=2\n5=1\n6=2\n7=1\n8=2\n" + warpOf(put(12, 3)...)},
		{name: "few ends", draft: tabby + warpOf(slices.Insert(slices.Clone(plain[:18]), 11, any(1))...)},
		{name: "a slip", draft: tabby + warpOf(with(8, []any{1, 2, 3, 4}, map[int]any{14: 3})...)},
		{name: "a slip that is not looked for", draft: tabby + warpOf(with(8, []any{1, 2, 3, 4}, map[int]any{14: 3})...), settings: "[rules]\ndraft/slip = off\n",
			want: []string{`warning 14=3 {"treadles":[1,2],"ends":[14],"count":1}`}},
	})
}

// TestOutOfTurnAgainstTwoColoring colors random threadings by the treadle that lifts each
// end. Without the ends that the rule names, or with each on the other side, the colors must
// take turns; where it names none, they do so already or need more than two ends changed.
func TestOutOfTurnAgainstTwoColoring(t *testing.T) {
	named := 0
	for seed := range 200 * drafts() {
		r := rand.New(rand.NewPCG(uint64(seed), 3))
		n := between(r, 12, 30)
		list := repeated(n, 1, 2)
		for range r.IntN(4) {
			at := between(r, selvedge, n-selvedge-1)
			if r.IntN(2) == 0 {
				list[at] = 3 - list[at]
			} else {
				list = slices.Insert(list, at, list[at])
			}
		}
		table := schema.Singles(list...)
		ends := outOfTurn(&table, []int32{1}, make([]bool, 3))
		inner := list[selvedge : len(list)-selvedge]
		if ends == nil {
			if !takesTurns(inner) && canMend(inner, 1) {
				t.Fatalf("seed %d: nothing named in %d", seed, list)
			}
			continue
		}
		named++
		for i := range ends {
			ends[i] -= selvedge + 1
		}
		if len(ends) > mostOut || takesTurns(inner) || !mends(inner, ends) {
			t.Fatalf("seed %d: %v named in %d", seed, ends, inner)
		}
	}
	if named == 0 {
		t.Error("nothing is named")
	}
}

func takesTurns(colors []int32) bool {
	for i := 1; i < len(colors); i++ {
		if colors[i] == colors[i-1] {
			return false
		}
	}
	return true
}

// mends reports whether colors take turns if each of these ends is recolored or taken away.
func mends(colors []int32, ends []int) bool {
	if len(ends) == 0 {
		return takesTurns(colors)
	}
	last := ends[len(ends)-1]
	recolored := slices.Clone(colors)
	recolored[last] = 3 - recolored[last]
	rest := ends[:len(ends)-1]
	return mends(recolored, rest) || mends(slices.Delete(slices.Clone(colors), last, last+1), rest)
}

// canMend reports whether recoloring or taking away so many ends leaves colors that take
// turns.
func canMend(colors []int32, most int) bool {
	for i := range colors {
		if mends(colors, []int{i}) || most > 1 && canMend(slices.Delete(slices.Clone(colors), i, i+1), most-1) {
			return true
		}
	}
	return false
}
