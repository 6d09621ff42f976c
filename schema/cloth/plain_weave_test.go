package cloth

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
)

func TestPlainWeave(t *testing.T) {
	for _, row := range []struct {
		name       string
		threading  schema.Rows
		one, other []int32
		fails      int
	}{
		{"straight on four", schema.Singles(1, 2, 3, 4, 1, 2, 3, 4), []int32{1, 3}, []int32{2, 4}, 0},
		{"point", schema.Singles(1, 2, 3, 4, 3, 2, 1), []int32{1, 3}, []int32{2, 4}, 0},
		{"end 1 on shaft 2", schema.Singles(2, 1, 2, 1), []int32{2}, []int32{1}, 0},
		{"two ends side by side on one shaft", schema.Singles(1, 2, 2, 1), nil, nil, 1},
		{"straight on three", schema.Singles(1, 2, 3, 1, 2, 3), nil, nil, 1},
		{"summer and winter, tie-downs in turn", schema.Singles(1, 3, 2, 3, 1, 4, 2, 4), []int32{1, 2}, []int32{3, 4}, 0},
		{"an end also on a pattern shaft", schema.RowsOf([]int32{1, 3}, []int32{2, 3}, []int32{1}, []int32{2}), []int32{1}, []int32{2}, 0},
		{"floating selvedges", schema.RowsOf(nil, []int32{1}, []int32{2}, []int32{1}, nil), []int32{1}, []int32{2}, 0},
		{"an end on no shaft inside", schema.RowsOf([]int32{1}, nil, []int32{1}, []int32{2}), nil, nil, 2},
		{"one end", schema.Singles(3), []int32{3}, []int32{}, 0},
		{"no ends", schema.Rows{}, nil, nil, 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			w := PlainWeaveOf(&schema.Draft{Threading: row.threading})
			if !slices.Equal(w.One, row.one) || !slices.Equal(w.Other, row.other) || w.Fails != row.fails || w.Possible != (row.one != nil) {
				t.Errorf("%+v", w)
			}
		})
	}
}

// TestPlainWeaveByTryingAllLifts tries every pair of lifts. A threading gives plain weave
// if one pair lifts odd and even ends in turn.
func TestPlainWeaveByTryingAllLifts(t *testing.T) {
	const shafts = 5
	rapid.Check(t, func(t *rapid.T) {
		d := &schema.Draft{}
		first := rapid.Int32Range(1, shafts).Draw(t, "first")
		for end := range rapid.IntRange(1, 9).Draw(t, "ends") {
			row := rapid.SliceOfNDistinct(rapid.Int32Range(1, shafts), 1, 2, func(n int32) int32 { return n }).Draw(t, "shafts")
			if rapid.IntRange(0, 3).Draw(t, "plainly") > 0 { // otherwise hardly any would be possible
				row = []int32{1 + (first+int32(end))%shafts}
				if rapid.Bool().Draw(t, "back") {
					row[0] = 1 + int32(end)%2
				}
			}
			d.Threading.Append(row...)
		}
		lifts := func(lift int, end int) bool {
			return slices.ContainsFunc(d.Threading.Row(end), func(shaft int32) bool { return lift&(1<<shaft) != 0 })
		}
		weaves := func(lift, parity int) bool {
			for end := 1; end <= d.Ends(); end++ {
				if lifts(lift, end) != (end%2 == parity) {
					return false
				}
			}
			return true
		}
		one, other := false, false
		for lift := 0; lift < 1<<(shafts+1); lift++ {
			one, other = one || weaves(lift, 1), other || weaves(lift, 0)
		}
		w := PlainWeaveOf(d)
		if w.Possible != (one && other) {
			t.Fatalf("%+v, want possible: %v", w, one && other)
		}
		mask := func(list []int32) (lift int) {
			for _, shaft := range list {
				lift |= 1 << shaft
			}
			return lift
		}
		if w.Possible && !(weaves(mask(w.One), 1) && weaves(mask(w.Other), 0)) {
			t.Fatalf("%+v doesn't weave plain weave", w)
		}
	})
}
