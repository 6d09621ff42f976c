package dressing

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
)

func TestHeddlesInPrint(t *testing.T) {
	for _, row := range []struct {
		name    string
		draft   *schema.Draft
		project schema.Project
		needed  []int
	}{
		{"published/teaching page/400 ends straight on 8 shafts", straight(400, 8), schema.Project{}, []int{50, 50, 50, 50, 50, 50, 50, 50}},
		{"published/C. P. Brooks, Cotton Manufacturing/12-end repeat on five healds, 5 repeats an inch",
			threaded(1, 2, 3, 4, 5, 4, 3, 4, 3, 2, 4, 5), schema.Project{Repeats: 5}, []int{5, 10, 15, 20, 10}},
		{"published/C. P. Brooks, Cotton Manufacturing/60s set of four healds", straight(60, 4), schema.Project{}, []int{15, 15, 15, 15}},
		{"computed/point draft 20 times and 1 to close", threaded(1, 2, 3, 4, 3, 2), schema.Project{Repeats: 20, Balance: 1}, []int{21, 40, 40, 20}},
		{"published/A. Wolfensberger, Theory of Silk Weaving, 2nd ed. 1921, p. 71/100 ends an inch on 4 shafts", straight(100, 4), schema.Project{}, []int{25, 25, 25, 25}},
	} {
		t.Run(row.name, func(t *testing.T) {
			list := Of(row.draft, &schema.Setup{Project: row.project}).Heddles()
			var needed []int
			for i, h := range list {
				if h.Shaft != i+1 {
					t.Errorf("shaft %d stands at %d", h.Shaft, i+1)
				}
				needed = append(needed, h.Needed)
			}
			if !slices.Equal(needed, row.needed) {
				t.Errorf("%v, want %v", needed, row.needed)
			}
		})
	}
}

func TestHeddleDensity(t *testing.T) {
	d := straight(100, 4)
	s := &schema.Setup{Project: schema.Project{Sett: perInch(100)}}
	list := Of(d, s).Heddles()
	t.Run("published/A. Wolfensberger, Theory of Silk Weaving, 2nd ed. 1921, p. 71/25 an inch a shaft", func(t *testing.T) {
		if got := list[0].PerCm(Of(d, s).Width()); !near(got.Value*2.54, 25, 1e-12) {
			t.Errorf("%v an inch", got.Value*2.54)
		}
	})
	if list[0].PerCm(Figure{}).Known {
		t.Error("a density in no width")
	}
}

func TestHeddlesThatRunOut(t *testing.T) {
	each := func(n int) schema.Heddles { return schema.Heddles{Known: true, Each: n} }
	for _, row := range []struct {
		name             string
		draft            *schema.Draft
		heddles          schema.Heddles
		repeats          int
		short            int // of shaft 1
		runsOut, inDraft int
	}{
		{"enough", straight(8, 4), each(2), 1, 0, 0, 0},
		{"one short", straight(8, 4), each(1), 1, 1, 5, 5},
		{"in the third repeat", straight(8, 4), each(5), 3, 1, 21, 5},
		{"none at all", straight(8, 4), schema.Heddles{Known: true, ByShaft: map[int]int{1: 0}}, 1, 2, 1, 1},
		{"not counted", straight(8, 4), schema.Heddles{}, 1, 0, 0, 0},
		{"an end on several shafts", &schema.Draft{Threading: schema.RowsOf([]int32{1, 2}, []int32{1}, []int32{1, 2})}, each(2), 1, 1, 3, 3},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := &schema.Setup{Heddles: row.heddles, Project: schema.Project{Repeats: row.repeats}}
			list := Of(row.draft, s).Heddles()
			h := list[0]
			if h.Short != row.short || h.RunsOut != row.runsOut || h.DraftEnd != row.inDraft {
				t.Errorf("%+v", h)
			}
		})
	}
}

func TestHeddlesOfFarShafts(t *testing.T) {
	list := Of(threaded(2_000_000_000, 1, 2_000_000_000), &schema.Setup{}).Heddles()
	if len(list) != 2 || list[0].Shaft != 1 || list[1].Shaft != 2_000_000_000 || list[1].Needed != 2 {
		t.Errorf("%+v", list)
	}
}

// Counted end by end across the whole warp.
func TestHeddlesAgreeWithTheWarpEndByEnd(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s := anyDraft(t), anySetup(t)
		w := warpOf(t, d, s)
		list := Of(d, s).Heddles()
		needed, first, out := map[int]int{}, map[int]int{}, map[int]int{}
		for end := 1; end <= w.All; end++ {
			for _, shaft := range d.Threading.Row(w.DraftEnd(end)) {
				n := int(shaft)
				needed[n]++
				if end <= w.All/2 {
					first[n]++
				}
				if needed[n] == s.Heddles.Each+1 {
					out[n] = end
				}
			}
		}
		if len(list) != len(needed) {
			t.Fatalf("%d shafts, want %d", len(list), len(needed))
		}
		for _, h := range list {
			n := h.Shaft
			if h.Needed != needed[n] || h.FirstHalf != first[n] || h.SecondHalf != needed[n]-first[n] ||
				h.RunsOut != out[n] || h.Short != max(needed[n]-s.Heddles.Each, 0) || h.Available != s.Heddles.Each {
				t.Fatalf("%+v, want %d, first half %d, out at %d", h, needed[n], first[n], out[n])
			}
			if h.RunsOut > 0 && h.DraftEnd != w.DraftEnd(h.RunsOut) {
				t.Fatalf("%+v", h)
			}
		}
	})
}

// 8 ends on 4 shafts take 2 heddles each.
func TestHeddlesToPushAside(t *testing.T) {
	s := &schema.Setup{Heddles: schema.Heddles{Known: true, Each: 7, ByShaft: map[int]int{2: 2, 3: 1}}}
	plan, err := Of(straight(8, 4), s).Plan(Options{}, kindNames)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []*PushAside{{2, 3}, {0, 0}, nil, {2, 3}} {
		if got := plan.Heddles[i].PushAside; (got == nil) != (want == nil) || got != nil && *got != *want {
			t.Errorf("shaft %d: %+v, want %+v", i+1, got, want)
		}
	}
}

// 8 ends on 4 shafts take 2 heddles each; the figures are worked out by hand.
func TestHeddleMoves(t *testing.T) {
	for _, row := range []struct {
		name    string
		shafts  int
		heddles map[int]int
		want    []HeddleMove
	}{
		{"enough", 4, map[int]int{1: 2, 2: 2, 3: 2, 4: 2}, nil},
		{"one has spare ones", 4, map[int]int{1: 0, 2: 5, 3: 2, 4: 2}, []HeddleMove{{2, 2, 1}}},
		{"most to spare first", 4, map[int]int{1: 0, 2: 3, 3: 4, 4: 2}, []HeddleMove{{2, 3, 1}}},
		{"from two", 4, map[int]int{1: 0, 2: 3, 3: 3, 4: 2}, []HeddleMove{{1, 2, 1}, {1, 3, 1}}},
		{"to two", 4, map[int]int{1: 0, 2: 9, 3: 1, 4: 2}, []HeddleMove{{2, 2, 1}, {1, 2, 3}}},
		{"from a shaft without ends", 6, map[int]int{1: 0, 2: 2, 3: 2, 4: 2, 6: 3}, []HeddleMove{{2, 6, 1}}},
		{"too few in all", 4, map[int]int{1: 0, 2: 3, 3: 2, 4: 2}, []HeddleMove{{1, 2, 1}}},
		{"one is not counted", 4, map[int]int{1: 0, 2: 3}, []HeddleMove{{1, 2, 1}}},
		{"not counted", 4, nil, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := &schema.Setup{Loom: schema.Loom{Shafts: row.shafts}, Heddles: schema.Heddles{Known: row.heddles != nil, ByShaft: row.heddles}}
			if got := Of(straight(8, 4), s).heddleMoves(); !slices.Equal(got, row.want) {
				t.Errorf("%v, want %v", got, row.want)
			}
		})
	}
}
