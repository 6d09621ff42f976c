package dressing

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
)

func TestGroups(t *testing.T) {
	type ft [2]int
	block := func(first int32, units int) (list []int32) {
		for range units {
			list = append(list, first, first+1, first+2, first+3)
		}
		return list
	}
	uneven := func(ends ...int) (list []int32) {
		for i, n := range ends {
			for end := range n {
				list = append(list, int32(4*i+end%4+1))
			}
		}
		return list
	}
	blocks := threaded(slices.Concat(block(1, 4), block(5, 2), block(9, 10), block(1, 4), block(21, 6), block(5, 4))...)
	point := threaded(slices.Repeat([]int32{1, 2, 3, 4, 5, 6, 7, 8, 7, 6, 5, 4, 3, 2}, 2)...)
	for _, row := range []struct {
		name  string
		draft *schema.Draft
		sizes []int
		start Start
		want  []ft
	}{
		{"whole runs, not across the centre", straight(48, 4), nil, FromRight, []ft{{1, 12}, {13, 24}, {25, 36}, {37, 48}}},
		{"runs begin after the edge", straight(30, 4), nil, FromRight, []ft{{1, 12}, {13, 15}, {16, 24}, {25, 30}}},
		{"from the left", straight(24, 4), nil, FromLeft, []ft{{24, 13}, {12, 1}}},
		{"from the centre", straight(40, 4), nil, FromCentre, []ft{{20, 9}, {8, 1}, {21, 32}, {33, 40}}},
		{"turns", point, nil, FromRight, []ft{{1, 7}, {8, 14}, {15, 21}, {22, 28}}},
		{"a run too long is cut evenly", straight(64, 32), nil, FromRight,
			[]ft{{1, 10}, {11, 21}, {22, 32}, {33, 42}, {43, 53}, {54, 64}}},
		{"blocks, and even parts of long ones", blocks, nil, FromRight,
			[]ft{{1, 8}, {9, 16}, {17, 24}, {25, 36}, {37, 48}, {49, 60}, {61, 64}, {65, 72}, {73, 80}, {81, 92}, {93, 104}, {105, 112}, {113, 120}}},
		{"long blocks that aren't whole units, in even parts", threaded(uneven(18, 20, 19, 19)...), nil, FromRight,
			[]ft{{1, 9}, {10, 18}, {19, 28}, {29, 38}, {39, 47}, {48, 57}, {58, 66}, {67, 76}}},
		{"at most so many", straight(48, 4), []int{14}, FromRight, []ft{{1, 12}, {13, 24}, {25, 36}, {37, 48}}},
		{"at most fewer than a run", straight(16, 4), []int{3}, FromRight, []ft{{1, 2}, {3, 4}, {5, 6}, {7, 8}, {9, 10}, {11, 12}, {13, 14}, {15, 16}}},
		{"a list, again from the centre", straight(80, 4), []int{14, 13}, FromRight,
			[]ft{{1, 14}, {15, 27}, {28, 39}, {40, 40}, {41, 54}, {55, 67}, {68, 79}, {80, 80}}},
		{"larger than can be", straight(3, 4), []int{int(^uint(0) >> 1)}, FromLeft, []ft{{3, 2}, {1, 1}}},
		{"one end", straight(1, 4), nil, FromRight, []ft{{1, 1}}},
		{"no ends", &schema.Draft{}, nil, FromCentre, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			var got []ft
			for _, g := range Of(row.draft, &schema.Setup{}).groups(row.sizes, row.start) {
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
		for _, g := range Of(d, s).groups(rapid.SliceOfN(rapid.IntRange(0, 20), 0, 3).Draw(t, "sizes"), start) {
			if half := w.firstHalf(); (g.From <= half) != (g.To <= half) {
				t.Fatalf("%+v crosses the centre of %d", g, w.All)
			}
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
			if got := fold(Of(d, &schema.Setup{}).numberedPicks()); !slices.Equal(got, row.want) {
				t.Errorf("%v, want %v", got, row.want)
			}
			d.LiftPlan, d.Treadling = d.Treadling, schema.Rows{}
			if got := fold(Of(d, &schema.Setup{}).numberedPicks()); !slices.Equal(got, row.want) {
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
		for _, b := range fold(list) {
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
