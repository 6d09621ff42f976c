package dressing

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
	"fettle/schema/measure"
)

func TestWarpOf(t *testing.T) {
	for _, row := range []struct {
		name    string
		ends    int
		project schema.Project
		want    Warp
	}{
		{"as drafted", 8, schema.Project{}, Warp{8, 1, 0, 8}},
		{"repeats and balance", 6, schema.Project{Repeats: 20, Balance: 1}, Warp{6, 20, 1, 121}},
		{"no ends", 0, schema.Project{Repeats: 20, Balance: 1}, Warp{0, 20, 0, 0}},
		{"from the finished width", 8, schema.Project{FinishedWidth: 1000, Sett: 8}, Warp{8, 100, 0, 800}},
		{"to the nearest", 8, schema.Project{FinishedWidth: 1004, Sett: 8}, Warp{8, 100, 0, 800}},
		{"with draw-in and shrinkage", 8, schema.Project{FinishedWidth: 720, Sett: 8, DrawIn: 0.1, ShrinkageWeft: 0.2}, Warp{8, 100, 0, 800}},
		{"and balance", 8, schema.Project{FinishedWidth: 1005, Sett: 8, Balance: 4}, Warp{8, 100, 4, 804}},
		{"narrower than the draft", 8, schema.Project{FinishedWidth: 1, Sett: 8}, Warp{8, 1, 0, 8}},
		{"stated repeats win", 8, schema.Project{FinishedWidth: 1000, Sett: 8, Repeats: 2}, Warp{8, 2, 0, 16}},
		{"sett unknown", 8, schema.Project{FinishedWidth: 1000}, Warp{8, 1, 0, 8}},
		{"as many as there may be", 8, schema.Project{Repeats: 125_000}, Warp{8, 125_000, 0, 1_000_000}},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := warpOf(t, straight(row.ends, 4), &schema.Setup{Project: row.project})
			if got != row.want {
				t.Errorf("%+v, want %+v", got, row.want)
			}
		})
	}
}

func TestTooManyEnds(t *testing.T) {
	const most = int(^uint(0) >> 1)
	for _, row := range []struct {
		name    string
		draft   *schema.Draft
		project schema.Project
		want    TooManyEnds
	}{
		{"one too many", straight(8, 4), schema.Project{Repeats: 125_000, Balance: 1}, TooManyEnds{1_000_001, "[project] repeats (fettle.ini:3)"}},
		{"repeats beyond counting", straight(8, 4), schema.Project{Repeats: most}, TooManyEnds{mostCounted, "[project] repeats (fettle.ini:3)"}},
		{"balance beyond counting", straight(8, 4), schema.Project{Balance: most}, TooManyEnds{mostCounted, "[project] balance (towel.json)"}},
		{"balance by itself", straight(8, 4), schema.Project{Balance: MostEnds}, TooManyEnds{1_000_008, "[project] balance (towel.json)"}},
		// A million metres at 10,000 ends per centimetre, in whole repeats of 8.
		{"a width beyond weaving", straight(8, 4), schema.Project{FinishedWidth: 1e9, Sett: 1e4},
			TooManyEnds{1_000_000_000_000, "[project] finished width, given as a flag"}},
		{"the draft itself", &schema.Draft{Warp: schema.System{Threads: most}}, schema.Project{}, TooManyEnds{mostCounted, ""}},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := &schema.Setup{Project: row.project, Given: map[string]schema.Origin{
				"project.repeats": {Path: "fettle.ini", Line: 3}, "project.balance": {Path: "towel.json"}, "project.finished width": {}}}
			f := Of(row.draft, s)
			got, refused := f.TooManyEnds()
			if !refused || got != row.want || !strings.Contains(got.Error(), got.Cause) {
				t.Errorf("%v, want %+v", got, row.want)
			}
			if f.Warp() != (Warp{}) || f.Width().Known || f.Heddles() != nil || f.YarnUses() != nil {
				t.Error("there are figures of a warp that is refused")
			}
			if _, err := f.Plan(Options{}, kindNames); !errors.As(err, &got) {
				t.Errorf("the plan's error is %v", err)
			}
		})
	}
}

func TestTimes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := Warp{Ends: rapid.IntRange(1, 12).Draw(t, "ends")}
		w.All = rapid.IntRange(1, 60).Draw(t, "all")
		first := rapid.IntRange(0, w.All).Draw(t, "first")
		counted := make([]int, w.Ends+1)
		for end := 1; end <= first; end++ {
			counted[w.DraftEnd(end)]++
		}
		for end := 1; end <= w.Ends; end++ {
			if got := w.times(end, first); got != counted[end] {
				t.Fatalf("end %d stands %d times, want %d", end, got, counted[end])
			}
		}
	})
}

func TestSettAndPicks(t *testing.T) {
	even := schema.System{Unit: schema.Centimetres, Spacing: 0.125}
	uneven := schema.System{Unit: schema.Centimetres, Spacings: []float64{0.1, 0.1, 0.3, 0.3}}
	partly := schema.System{Unit: schema.Centimetres, Spacings: []float64{0.1, 0.1}}
	for _, row := range []struct {
		name    string
		system  schema.System
		project measure.Density
		want    Spacing
	}{
		{"project", even, 10, Spacing{Density: 10}},
		{"draft", even, 0, Spacing{Density: 8, FromDraft: true}},
		{"uneven, by the mean", uneven, 0, Spacing{Density: 5, FromDraft: true, Uneven: true}},
		{"some threads unknown", partly, 0, Spacing{}},
		{"unknown", schema.System{}, 0, Spacing{}},
		{"absurdly close", schema.System{Spacing: 1e-300}, 0, Spacing{}},
		{"backwards", schema.System{Spacing: -1}, 0, Spacing{}},
	} {
		t.Run(row.name, func(t *testing.T) {
			d := straight(4, 4)
			d.Treadling = d.Threading
			d.Warp, d.Weft = row.system, row.system
			s := &schema.Setup{Project: schema.Project{Sett: row.project, Picks: row.project}}
			for _, got := range []Spacing{Of(d, s).Sett(), Of(d, s).Picks()} {
				if !near(float64(got.Density), float64(row.want.Density), 1e-12) ||
					got.FromDraft != row.want.FromDraft || got.Uneven != row.want.Uneven || got.Known() != row.want.Known() {
					t.Errorf("%+v, want %+v", got, row.want)
				}
			}
		})
	}
}
