package dressing

import (
	"errors"
	"slices"
	"testing"

	"fettle/schema"
	"fettle/schema/cloth"
)

// Every pick of the sheet's stretches is in the draft, and lifts the same ends as the
// draft's pick, across the whole warp.
func TestWholeWork(t *testing.T) {
	d := straight(6, 4)
	d.Tieup = schema.RowsOf([]int32{1, 2}, []int32{2, 3}, []int32{3, 4}, []int32{1, 4})
	d.Treadling = schema.Singles(1, 2, 3, 4, 3)
	d.Warp.Colors, d.Weft.Colors = []int32{1, 2, 1, 1, 2, 2}, []int32{2, 1, 2, 2, 1}
	s := &schema.Setup{Project: schema.Project{Sett: 8, Picks: 5, FinishedLength: 300, Items: 3, Hem: 40, Sample: 50, Fringe: 60, Repeats: 4, Balance: 3}}
	f := Of(d, s)
	work, err := f.WholeWork()
	if err != nil {
		t.Fatal(err)
	}
	list := f.Stretches()
	if want := wholePicks(list[len(list)-1].UpToPick.Value); work.Picks() != want || work.LiftPlan.Len() != want {
		t.Fatalf("%d picks, want %d", work.Picks(), want)
	}
	if work.Ends() != 27 {
		t.Fatalf("%d ends", work.Ends())
	}
	woven, drawn := cloth.Of(work), cloth.Of(d)
	pick := 0
	for _, x := range list {
		for i := range wholePicks(x.Picks.Value) {
			pick++
			from := (int(x.FromDraftPick.Value)-1+i)%5 + 1
			if work.Weft.ColorOf(pick) != d.Weft.ColorOf(from) {
				t.Fatalf("pick %d has another color than pick %d of the draft", pick, from)
			}
			for end := 1; end <= 27; end++ {
				if woven.Up(end, pick) != drawn.Up((end-1)%6+1, from) || work.Warp.ColorOf(end) != d.Warp.ColorOf((end-1)%6+1) {
					t.Fatalf("end %d, pick %d", end, pick)
				}
			}
		}
		if x.Part != FringePart && pick != wholePicks(x.UpToPick.Value) {
			t.Fatalf("%d picks up to %+v", pick, x)
		}
	}
}

// The cloth is cut after the sample and between items: at a cutting line, or in a fringe.
func TestCutsOfTheWholeWork(t *testing.T) {
	for name, c := range map[string]struct {
		p    schema.Project
		cuts []int
	}{
		"one item":            {schema.Project{FinishedLength: 20, Hem: 8}, nil},
		"one with fringe":     {schema.Project{FinishedLength: 20, Fringe: 60}, nil},
		"three with hems":     {schema.Project{FinishedLength: 20, Hem: 8, Items: 3}, []int{14, 28}},
		"a sample, fringes":   {schema.Project{FinishedLength: 20, Sample: 50, Fringe: 60, Items: 2}, []int{25, 35}},
		"a sample, cut off":   {schema.Project{FinishedLength: 20, Sample: 50, CutOffSample: true}, []int{25}},
		"a sample, continued": {schema.Project{FinishedLength: 20, Sample: 50, ContinueDraft: true}, []int{25}},
	} {
		d := straight(4, 4)
		d.LiftPlan = schema.Singles(1, 2, 3, 4)
		c.p.Sett, c.p.Picks = 8, 5
		work, err := Of(d, &schema.Setup{Project: c.p}).WholeWork()
		if err != nil {
			t.Fatal(err)
		}
		if cuts := work.Cuts(); !slices.Equal(cuts, c.cuts) {
			t.Errorf("%s: %v, want %v", name, cuts, c.cuts)
		}
	}
}

// Plain hems are plain weave, in the draft's colors.
func TestWholeWorkWithPlainHems(t *testing.T) {
	d := straight(8, 4)
	d.LiftPlan = schema.RowsOf([]int32{1, 2}, []int32{2, 3}, []int32{3, 4}, []int32{1, 4})
	d.Weft.Colors = []int32{1, 2, 3, 4}
	f := Of(d, &schema.Setup{Project: schema.Project{Sett: 8, Picks: 5, FinishedLength: 8, Hem: 12, PlainHems: true}})
	work, err := f.WholeWork()
	if err != nil {
		t.Fatal(err)
	}
	// A hem of 6 mm is 3 picks, and the cloth of 8 mm is 4.
	want := [][]int32{{1, 3}, {2, 4}, {1, 3}, {1, 2}, {2, 3}, {3, 4}, {1, 4}, {1, 3}, {2, 4}, {1, 3}}
	colors := []int{1, 2, 3, 1, 2, 3, 4, 1, 2, 3}
	if work.Picks() != len(want) {
		t.Fatalf("%d picks", work.Picks())
	}
	for i, lift := range want {
		if !slices.Equal(work.LiftPlan.Row(i+1), lift) || work.Weft.ColorOf(i+1) != colors[i] {
			t.Errorf("pick %d lifts %v in color %d", i+1, work.LiftPlan.Row(i+1), work.Weft.ColorOf(i+1))
		}
	}
}

func TestUnwritten(t *testing.T) {
	for name, p := range map[string]schema.Project{
		"no length":      {Sett: 8, Picks: 5},
		"no picks":       {Sett: 8, FinishedLength: 300},
		"too many items": {Sett: 8, Picks: 5, FinishedLength: 300, Items: mostItems + 1},
		"too long":       {Sett: 8, Picks: 50, FinishedLength: 1e9},
	} {
		d := straight(4, 4)
		d.LiftPlan = schema.RowsOf(slices.Repeat([][]int32{{1, 3}, {2, 4}}, 2)...)
		if _, err := Of(d, &schema.Setup{Project: p}).WholeWork(); !errors.As(err, new(Unwritten)) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The figures of a draft of the whole work are those of the work it was written from: its
// warp isn't repeated again, nor are its picks.
func TestFiguresOfTheWholeWork(t *testing.T) {
	for name, p := range map[string]schema.Project{
		"items of a length":  {FinishedLength: 300, Items: 3, Hem: 40, PlainHems: true, Sample: 50, CutOffSample: true, Repeats: 4, Balance: 3},
		"items of repeats":   {RepeatsPerItem: 5, Items: 2, Hem: 40, Sample: 50, Repeats: 2},
		"a width, continued": {FinishedLength: 320, Items: 2, FinishedWidth: 200, ContinueDraft: true},
	} {
		t.Run(name, func(t *testing.T) {
			d := straight(8, 4)
			d.LiftPlan = schema.RowsOf([]int32{1, 2}, []int32{2, 3}, []int32{3, 4}, []int32{1, 4}, []int32{2, 4})
			d.Weft.Colors = []int32{1, 2, 2, 2, 2}
			p.Sett, p.Picks, p.TakeUp, p.LoomWaste = 8, 5, 0.1, 500
			s := &schema.Setup{Project: p, Loom: schema.Loom{Treadles: 2}, Heddles: schema.Heddles{Known: true, Each: 4}}
			f := Of(d, s)
			work, err := f.WholeWork()
			if err != nil {
				t.Fatal(err)
			}
			of := Of(work, s)
			if of.Warp().All != f.Warp().All || of.Lengths() != f.Lengths() {
				t.Errorf("%+v %+v, want %+v %+v", of.Warp(), of.Lengths(), f.Warp(), f.Lengths())
			}
			if !slices.EqualFunc(of.WeftUse(), f.WeftUse(), func(a, b ColorUse) bool { return a.Color == b.Color && a.Threads == b.Threads }) {
				t.Errorf("weft %+v, want %+v", of.WeftUse(), f.WeftUse())
			}
			like := func(a, b ShaftHeddles) bool {
				return a.Needed == b.Needed && a.Short == b.Short && a.RunsOut == b.RunsOut
			}
			if !slices.EqualFunc(of.Heddles(), f.Heddles(), like) {
				t.Errorf("heddles %+v, want %+v", of.Heddles(), f.Heddles())
			}
			if many, over := of.TooManyTreadles(); over {
				t.Errorf("a lift plan for a computer needs %d treadles", many.Needed)
			}
			if of.LongestPart() != work.Picks() {
				t.Errorf("%d picks in a row, want %d", of.LongestPart(), work.Picks())
			}
		})
	}
}
