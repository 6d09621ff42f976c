package dressing

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
)

func TestGroups(t *testing.T) {
	type ft [2]int
	for _, row := range []struct {
		name  string
		draft *schema.Draft
		size  int
		start Start
		want  []ft
	}{
		{"from the right", straight(7, 4), 3, FromRight, []ft{{1, 3}, {4, 6}, {7, 7}}},
		{"from the left", straight(7, 4), 3, FromLeft, []ft{{7, 5}, {4, 2}, {1, 1}}},
		{"from the centre", straight(9, 4), 3, FromCentre, []ft{{4, 2}, {1, 1}, {5, 7}, {8, 9}}},
		{"by the repeat", straight(12, 4), 0, FromRight, []ft{{1, 4}, {5, 8}, {9, 12}}},
		{"by a repeat cut short", straight(6, 4), 0, FromRight, []ft{{1, 4}, {5, 6}}},
		{"no repeat", straight(16, 16), 0, FromRight, []ft{{1, 12}, {13, 16}}},
		{"larger than can be", straight(3, 4), int(^uint(0) >> 1), FromLeft, []ft{{3, 1}}},
		{"no ends", &schema.Draft{}, 0, FromCentre, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			var got []ft
			for _, g := range Of(row.draft, &schema.Setup{}).Groups(row.size, row.start) {
				got = append(got, ft{g.From, g.To})
			}
			if !slices.Equal(got, row.want) {
				t.Errorf("%v, want %v", got, row.want)
			}
		})
	}
}

func TestGroupsCoverEachEndOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s := anyDraft(t), anySetup(t)
		w := warpOf(t, d, s)
		start := rapid.SampledFrom([]Start{FromRight, FromLeft, FromCentre}).Draw(t, "start")
		met := make([]bool, w.All+1)
		tally := map[int]int{}
		for _, g := range Of(d, s).Groups(rapid.IntRange(0, 20).Draw(t, "size"), start) {
			step := 1
			if g.To < g.From {
				step = -1
			}
			for i, row := range g.Shafts {
				end := g.From + i*step
				if met[end] || !slices.Equal(row, d.Threading.Row(w.DraftEnd(end))) {
					t.Fatalf("end %d is on %v a first or second time", end, row)
				}
				met[end] = true
			}
			if g.From+(len(g.Shafts)-1)*step != g.To {
				t.Fatalf("%+v has %d ends", g, len(g.Shafts))
			}
			for shaft, n := range g.Tally {
				tally[shaft] += n
			}
		}
		if slices.Contains(met[1:], false) {
			t.Fatal("an end is in no group")
		}
		list := Of(d, s).Heddles()
		if len(list) != len(tally) {
			t.Fatalf("%v, want %v", list, tally)
		}
		for _, h := range list {
			if tally[h.Shaft] != h.Needed {
				t.Fatalf("%d on shaft %d, want %d", tally[h.Shaft], h.Shaft, h.Needed)
			}
		}
	})
}

func TestRepeat(t *testing.T) {
	for _, row := range []struct {
		name  string
		draft *schema.Draft
		want  int
	}{
		{"straight", straight(16, 4), 4},
		{"cut short", straight(15, 4), 4},
		{"point", threaded(1, 2, 3, 4, 3, 2, 1, 2, 3, 4, 3, 2, 1), 6},
		{"none", threaded(1, 2, 2), 3},
		{"all alike", threaded(1, 1, 1), 1},
		{"several shafts", &schema.Draft{Threading: schema.RowsOf([]int32{1, 2}, []int32{12}, []int32{1, 2}, []int32{12})}, 2},
		{"no ends", &schema.Draft{}, 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := Of(row.draft, &schema.Setup{}).ThreadingRepeat(); got != row.want {
				t.Errorf("%d, want %d", got, row.want)
			}
		})
	}
}

func TestLifts(t *testing.T) {
	for _, row := range []struct {
		name      string
		treadling []int32
		colors    []int32
		want      []Block
	}{
		{"one repeat throughout", []int32{1, 2, 3, 4, 1, 2, 3, 4}, nil, []Block{{1, 4, 2}}},
		{"with a rest", []int32{1, 2, 3, 1, 2, 3, 1}, nil, []Block{{1, 3, 2}, {7, 7, 1}}},
		{"two parts", []int32{1, 2, 1, 2, 3, 4, 5, 3, 4, 5}, nil, []Block{{1, 2, 2}, {5, 7, 2}}},
		{"singles between", []int32{9, 8, 1, 1, 1, 7}, nil, []Block{{1, 2, 1}, {3, 3, 3}, {6, 6, 1}}},
		{"the shortest block of those that cover as much", []int32{1, 1, 1, 1, 2}, nil, []Block{{1, 1, 4}, {5, 5, 1}}},
		{"colors tell picks apart", []int32{1, 1, 1, 1}, []int32{1, 1, 2, 2}, []Block{{1, 1, 2}, {3, 3, 2}}},
		{"none", nil, nil, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			d := &schema.Draft{Treadling: schema.Singles(row.treadling...), Weft: schema.System{Colors: row.colors}}
			if got := Fold(Of(d, &schema.Setup{}).kindsOfPicks()); !slices.Equal(got, row.want) {
				t.Errorf("%v, want %v", got, row.want)
			}
			d.LiftPlan, d.Treadling = d.Treadling, schema.Rows{}
			if got := Fold(Of(d, &schema.Setup{}).kindsOfPicks()); !slices.Equal(got, row.want) {
				t.Errorf("by the lift plan %v, want %v", got, row.want)
			}
		})
	}
}

func TestFoldUnfolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := rapid.SliceOfN(rapid.Int32Range(1, 3), 0, 60).Draw(t, "list")
		if rapid.Bool().Draw(t, "twice") {
			list = append(list, list...)
		}
		var unfolded []int32
		for _, b := range Fold(list) {
			if b.From != len(unfolded)+1 || b.Times < 1 {
				t.Fatalf("block %+v after %d", b, len(unfolded))
			}
			for range b.Times {
				unfolded = append(unfolded, list[b.From-1:b.To]...)
			}
		}
		if !slices.Equal(unfolded, list) {
			t.Fatalf("%v unfolds to %v", list, unfolded)
		}
	})
}
