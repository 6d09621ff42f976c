package dressing

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
)

func steps(from, to, step int) []schema.Steps {
	return []schema.Steps{{From: from, To: to, Step: step}}
}

// A supplementary warp on every third end of 12, worked out by hand. The cloth is 90 cm
// on the loom. The main warp loses 10 % and 70 cm, the other 1 % and 50 cm. With a fringe
// of 20 cm the main warp is 90 ÷ 0.9 + 20 + 70 = 190 cm, and the other is 90 ÷ 0.99 + 20
// + 50 = 160.909 cm. 8 ends of the main warp are 15.2 m, 4 of the other 6.436 m.
func TestSupplementaryWarp(t *testing.T) {
	d := straight(12, 4)
	d.Palette = []schema.Color{schema.RGB(1, 1, 1), schema.RGB(2, 2, 2)}
	for end := range 12 {
		d.Warp.Colors = append(d.Warp.Colors, int32([]int{1, 1, 2}[end%3]))
	}
	s := &schema.Setup{
		Project: schema.Project{FinishedLength: 900, TakeUp: 0.1, LoomWaste: 700, Fringe: 200, Bout: 3},
		Warps:   []schema.ExtraWarp{{Name: "pile", Ends: steps(3, 12, 3), TakeUp: 0.01, LoomWaste: 500, Beam: "second beam"}},
		Yarns:   []schema.Yarn{{Name: "ground", Palette: []int{1}, ForWarp: true}, {Name: "pile", Palette: []int{2}, ForWarp: true}},
		Given:   map[string]schema.Origin{"warp pile.take-up": {}, "warp pile.loom waste": {}},
	}
	f := Of(d, s)
	warps := f.Warps()
	if len(warps) != 2 || warps[0].Name != "main" || warps[0].Ends != 8 || warps[1].Name != "pile" || warps[1].Ends != 4 {
		t.Fatalf("%+v", warps)
	}
	if !near(warps[0].Length.Value, 1900, 1e-9) || !near(warps[1].Length.Value, 1609.090909, 1e-9) {
		t.Errorf("%v and %v mm", warps[0].Length, warps[1].Length)
	}
	var bouts []string
	for i := range warps {
		for _, b := range f.Bouts(&warps[i]) {
			bouts = append(bouts, fmt.Sprintf("%d-%d: %d %v", b.From, b.To, b.Ends, b.Colors))
		}
	}
	want := []string{
		"1-2: 2 [{1 2}]", "4-5: 2 [{1 2}]", "7-8: 2 [{1 2}]", "10-11: 2 [{1 2}]", // 4 in each half
		"3-6: 2 [{2 2}]", "9-12: 2 [{2 2}]",
	}
	if !slices.Equal(bouts, want) {
		t.Errorf("bouts %q", bouts)
	}
	uses := f.YarnUses()
	if !near(uses[0].Metres.Value, 15.2, 1e-9) || !near(uses[1].Metres.Value, 6.43636364, 1e-8) || !near(f.Lengths().WarpYarn.Value, 21.63636364, 1e-8) {
		t.Errorf("%v and %v m of %v", uses[0].Metres, uses[1].Metres, f.Lengths().WarpYarn)
	}
	plan, err := f.Plan(Options{}, kindNames)
	if err != nil || len(plan.Warps) != 2 || plan.Warps[1].Beam != "second beam" || len(plan.Winding.Bouts) != 6 {
		t.Errorf("%+v, %v", plan, err)
	}
}

func TestWarpsPickEnds(t *testing.T) {
	d := straight(8, 4)
	d.Warp.Colors = []int32{1, 1, 2, 2, 1, 1, 2, 2}
	for _, row := range []struct {
		name  string
		extra []schema.ExtraWarp
		want  string // the ends of each warp, or part of the error
	}{
		{"none", nil, "main 8"},
		{"a range", []schema.ExtraWarp{{Name: "a", Ends: steps(1, 3, 1)}}, "main 4 5 6 7 8, a 1 2 3"},
		{"in steps", []schema.ExtraWarp{{Name: "a", Ends: steps(2, 7, 2)}}, "main 1 3 5 7 8, a 2 4 6"},
		{"by shaft", []schema.ExtraWarp{{Name: "a", Shafts: steps(3, 900_000, 1)}}, "main 1 2 5 6, a 3 4 7 8"},
		{"by color", []schema.ExtraWarp{{Name: "a", Palette: []int{2}}}, "main 1 2 5 6, a 3 4 7 8"},
		{"by all three", []schema.ExtraWarp{{Name: "a", Ends: steps(1, 1, 1), Shafts: steps(3, 3, 1), Palette: []int{2}}}, "main 2 5 6, a 1 3 4 7 8"},
		{"two", []schema.ExtraWarp{{Name: "a", Ends: steps(1, 1, 1)}, {Name: "b", Shafts: steps(2, 2, 1)}}, "main 3 4 5 7 8, a 1, b 2 6"},
		{"all", []schema.ExtraWarp{{Name: "a", Ends: steps(1, 4, 1)}, {Name: "b", Ends: steps(5, 8, 1)}}, "a 1 2 3 4, b 5 6 7 8"},
		{"an end twice", []schema.ExtraWarp{{Name: "a", Ends: []schema.Steps{{From: 1, To: 3, Step: 1}, {From: 3, To: 4, Step: 1}}}}, "end 3 twice"},
		{"an end in two", []schema.ExtraWarp{{Name: "a", Ends: steps(1, 3, 1)}, {Name: "b", Ends: steps(3, 4, 1)}}, "end 3 is in [warp a] and in [warp b] ends"},
		{"an end by number and by shaft", []schema.ExtraWarp{{Name: "a", Ends: steps(1, 3, 1)}, {Name: "b", Shafts: steps(2, 2, 1)}}, "end 2 is in [warp a] and in [warp b] shafts"},
		{"a shaft in two", []schema.ExtraWarp{{Name: "a", Shafts: steps(1, 2, 1)}, {Name: "b", Shafts: steps(2, 2, 1)}}, "shaft 2"},
		{"a color in two", []schema.ExtraWarp{{Name: "a", Palette: []int{2}}, {Name: "b", Palette: []int{2}}}, "color 2"},
		{"beyond the warp", []schema.ExtraWarp{{Name: "a", Ends: steps(7, 9, 1)}}, "end 9, but the whole warp has 8 ends"},
		{"no end", []schema.ExtraWarp{{Name: "a", Shafts: steps(9, 9, 1)}}, "[warp a] picks no end"},
	} {
		t.Run(row.name, func(t *testing.T) {
			f := Of(d, &schema.Setup{Warps: row.extra})
			wrong, refused := f.warpError()
			if refused {
				if !strings.Contains(wrong.Why, row.want) || len(f.Warps()) != 1 {
					t.Errorf("%s", wrong.Why)
				}
				if _, err := f.Plan(Options{}, kindNames); err == nil {
					t.Error("there is a plan")
				}
				return
			}
			var got []string
			for _, w := range f.Warps() {
				text := w.Name
				for n := range w.Ends {
					text += fmt.Sprintf(" %d", w.end(n))
				}
				got = append(got, text)
			}
			if want := strings.Replace(row.want, "main 8", "main 1 2 3 4 5 6 7 8", 1); strings.Join(got, ", ") != want {
				t.Errorf("%q", got)
			}
		})
	}
}

// Extra warps with the project's own losses take as much as one warp does.
func TestWarpsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s := anyDraft(t), anySetup(t)
		one := Of(d, s)
		step := rapid.IntRange(1, 9).Draw(t, "step")
		c := *s
		c.Warps = []schema.ExtraWarp{{Name: "a", Ends: steps(1, warpOf(t, d, s).All, step)}}
		two := Of(d, &c)
		if wrong, refused := two.warpError(); refused {
			t.Fatal(wrong)
		}
		if a, b := one.Lengths().WarpYarn, two.Lengths().WarpYarn; a.Known != b.Known || !near(a.Value, b.Value, 1e-9) {
			t.Fatalf("%v m, in two warps %v m", a, b)
		}
		seen := make([]bool, two.Warp().All+1)
		for _, w := range two.Warps() {
			ends := 0
			for _, b := range two.Bouts(&w) {
				if b.From <= two.Warp().firstHalf() && b.To > two.Warp().firstHalf() {
					t.Fatalf("bout %+v crosses the centre", b)
				}
				ends += b.Ends
			}
			if ends != w.Ends {
				t.Fatalf("%d ends in the bouts of %d", ends, w.Ends)
			}
			for n := range w.Ends {
				if seen[w.end(n)] {
					t.Fatalf("end %d is in two warps", w.end(n))
				}
				seen[w.end(n)] = true
			}
		}
		if slices.Contains(seen[1:], false) {
			t.Fatal("an end is in no warp")
		}
	})
}

// Two layers of plain weave with alternating ends: each has half of the ends.
func TestLayerSetts(t *testing.T) {
	d := &schema.Draft{Threading: schema.Singles(1, 2, 3, 4)}
	for _, lift := range [][]int32{{1}, {1, 2, 3}, {3}, {1, 3, 4}} {
		d.LiftPlan.Append(lift...)
	}
	f := Of(d, &schema.Setup{Project: schema.Project{Sett: 16}})
	if got := f.layerSetts(); len(got) != 2 || got[0].Value != 8 || got[1].Value != 8 {
		t.Errorf("%v", got)
	}
	if got := Of(straight(8, 4), &schema.Setup{Project: schema.Project{Sett: 16}}).layerSetts(); got != nil {
		t.Errorf("%v in no layers", got)
	}
}
