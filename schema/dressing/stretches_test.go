package dressing

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
	"fettle/schema/measure"
)

// Worked out by hand. Half is lost in washing, so everything is woven twice as long, at 5
// picks per centimetre. The hem of 4 cm is 2 cm at each end, 4 cm on the loom; the fringe
// of 6 cm isn't woven and doesn't shrink.
func TestStretches(t *testing.T) {
	d := straight(8, 4)
	d.Tieup, d.Treadling = schema.Singles(1, 2, 3, 4), schema.Singles(1, 2, 3, 4)
	project := schema.Project{Picks: 5, FinishedLength: 500, ShrinkageWarp: 0.5}
	for _, row := range []struct {
		name   string
		change func(*schema.Project)
		want   []string
	}{
		{"one item", func(*schema.Project) {}, []string{"1 cloth 100 cm 500 = 100 cm 500"}},
		{"all of it", func(p *schema.Project) { p.Items, p.Hem, p.Fringe, p.Sample = 2, 40, 60, 100 }, []string{
			"0 sample 20 cm 100 = 20 cm 100",
			"1 fringe 3 cm 0 = 20 cm 100", "1 hem 4 cm 20 = 24 cm 120", "1 cloth 100 cm 500 = 124 cm 620", "1 hem 4 cm 20 = 128 cm 640", "1 fringe 3 cm 0 = 128 cm 640",
			"2 fringe 3 cm 0 = 128 cm 640", "2 hem 4 cm 20 = 132 cm 660", "2 cloth 100 cm 500 = 232 cm 1160", "2 hem 4 cm 20 = 236 cm 1180", "2 fringe 3 cm 0 = 236 cm 1180"}},
		{"picks that do not come out", func(p *schema.Project) { p.Items, p.FinishedLength, p.Picks = 3, 5, 1.1 },
			// 1 cm at 1.1 is 1.1 picks, rounded up to 2, so the items are alike.
			[]string{"1 cloth 1 cm 2 = 1 cm 2", "2 cloth 1 cm 2 = 2 cm 4", "3 cloth 1 cm 2 = 3 cm 6"}},
		{"hems at their own picks", func(p *schema.Project) { p.Hem, p.HemPicks = 40, 10 },
			[]string{"1 hem 4 cm 40 = 4 cm 40", "1 cloth 100 cm 500 = 104 cm 540", "1 hem 4 cm 40 = 108 cm 580"}},
		{"picks per item", func(p *schema.Project) { p.FinishedLength, p.PicksPerItem, p.Items = 0, 50, 2 },
			[]string{"1 cloth 10 cm 50 = 10 cm 50", "2 cloth 10 cm 50 = 20 cm 100"}},
		{"repeats per item", func(p *schema.Project) { p.FinishedLength, p.RepeatsPerItem = 0, 5 },
			[]string{"1 cloth 4 cm 20 = 4 cm 20"}},
		{"picks per item, without their density", func(p *schema.Project) { p.FinishedLength, p.Picks, p.PicksPerItem = 0, 0, 50 }, nil},
		{"picks unknown", func(p *schema.Project) { p.Picks = 0 }, []string{"1 cloth 100 cm 0 = 100 cm 0"}},
		{"length unknown", func(p *schema.Project) { p.FinishedLength = 0 }, nil},
		{"too many to list", func(p *schema.Project) { p.Items = mostItems + 1 }, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := &schema.Setup{Project: project}
			row.change(&s.Project)
			var got []string
			for _, x := range Of(d, s).Stretches() {
				got = append(got, fmt.Sprintf("%d %s %g cm %g = %g cm %g", x.Item, x.Part, x.LengthCm.Value, x.Picks.Value, x.WovenCm.Value, x.UpToPick.Value))
			}
			if !slices.Equal(got, row.want) {
				t.Errorf("%q, want %q", got, row.want)
			}
		})
	}
}

// 120 picks in the draft, 80 in the sample and 400 in each item.
func TestStretchesFromDraftPick(t *testing.T) {
	d := straight(8, 4)
	d.Weft.Threads = 120
	for _, row := range []struct {
		name      string
		continues bool
		want      []float64
	}{
		{"each begins at pick 1", false, []float64{1, 0, 1, 0, 0, 1, 0, 0, 1, 0}},
		{"the draft runs on", true, []float64{1, 0, 81, 0, 0, 1, 0, 0, 41, 0}},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := &schema.Setup{Project: schema.Project{Picks: 8, FinishedLength: 500, Items: 3, Sample: 100, Fringe: 20, ContinueDraft: row.continues}}
			var got []float64
			for _, x := range Of(d, s).Stretches() {
				got = append(got, x.FromDraftPick.Value)
			}
			if !slices.Equal(got, row.want) {
				t.Errorf("%v, want %v", got, row.want)
			}
		})
	}
}

// The tape includes the fringes and starts again after a sample is cut off; the woven
// length goes on.
func TestTape(t *testing.T) {
	d := straight(8, 4)
	for _, row := range []struct {
		name        string
		cutOff      bool
		tape, woven []float64
	}{
		{"on the loom", false, []float64{10, 13, 63, 66, 69, 119, 122}, []float64{10, 10, 60, 60, 60, 110, 110}},
		{"cut off", true, []float64{10, 3, 53, 56, 59, 109, 112}, []float64{10, 10, 60, 60, 60, 110, 110}},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := &schema.Setup{Project: schema.Project{Picks: 8, FinishedLength: 500, Items: 2, Sample: 100, Fringe: 60, CutOffSample: row.cutOff}}
			var tape, woven []float64
			for _, x := range Of(d, s).Stretches() {
				tape, woven = append(tape, x.TapeCm.Value), append(woven, x.WovenCm.Value)
			}
			if !slices.Equal(tape, row.tape) || !slices.Equal(woven, row.woven) {
				t.Errorf("tape %v, woven %v, want %v and %v", tape, woven, row.tape, row.woven)
			}
		})
	}
}

func TestPickRepeat(t *testing.T) {
	for _, row := range []struct {
		name  string
		picks []int32
		color []int32
		want  int
	}{
		{"none", nil, nil, 0},
		{"none of its own", []int32{1, 2, 3, 4}, nil, 4},
		{"two", []int32{1, 2, 1, 2}, nil, 2},
		{"one that does not go into the draft", []int32{1, 2, 1, 2, 1}, nil, 5},
		{"two treadles tied alike", []int32{1, 5, 1, 1}, nil, 1},
		{"another by color", []int32{1, 2, 1, 2}, []int32{1, 1, 1, 2}, 4},
	} {
		t.Run(row.name, func(t *testing.T) {
			d := straight(4, 4)
			d.Tieup, d.Treadling, d.Weft.Colors = schema.Singles(1, 2, 3, 4, 1), schema.Singles(row.picks...), row.color
			if got := Of(d, &schema.Setup{}).pickRepeat(); got != row.want {
				t.Errorf("%d, want %d", got, row.want)
			}
		})
	}
}

// For any setup, the stretches add up to the plan's woven length and picks, and the picks
// of each are those of its length, rounded up.
func TestStretchesAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s := anyDraft(t), anySetup(t)
		s.Project.ContinueDraft = rapid.Bool().Draw(t, "continue")
		length, picks, next := 0.0, 0.0, 0
		for _, x := range Of(d, s).Stretches() {
			if x.Part != FringePart {
				length += x.LengthCm.Value
				if over := x.Picks.Value - x.LengthCm.Value*float64(s.Project.Picks); over < -1e-6 || over >= 1 {
					t.Fatalf("%+v has %v picks too many", x, over)
				}
				if want := float64(next%max(d.Picks(), 1) + 1); x.FromDraftPick.Known && x.FromDraftPick.Value != want {
					t.Fatalf("%+v, want it from draft pick %v", x, want)
				}
				if s.Project.ContinueDraft {
					next += int(x.Picks.Value)
				}
			}
			picks += x.Picks.Value
			if !near(x.WovenCm.Value, length, 1e-9) || x.UpToPick.Value != picks {
				t.Fatalf("%+v after %v cm and %v picks", x, length, picks)
			}
		}
		checkPrintedSums(t, Of(d, s))
		if l := Of(d, s).Lengths(); picks != l.PicksWoven.Value || !near(length*10, l.Woven.Value, 1e-9) {
			t.Fatalf("%v picks and %v cm in all, want %+v", picks, length, l)
		}
	})
}

// Lengths are rounded to the tape before they are added: the printed lengths of the woven
// parts add up to the printed total, and those of all parts to the readings of the tape.
func checkPrintedSums(t *rapid.T, f *Figures) {
	list, u := f.Stretches(), f.Setup.Units
	woven, tape := measure.Length(0), measure.Length(0)
	for _, x := range list {
		if !near(float64(u.OnTape(x.Length)), float64(x.Length), 1e-9) {
			t.Fatalf("%+v isn't rounded", x)
		}
		if tape += x.Length; x.Part != FringePart {
			woven += x.Length
		}
		if !near(float64(x.OnTape), float64(tape), 1e-9) {
			t.Fatalf("the tape reads %v, want %v", x.OnTape, tape)
		}
		if x.Part == SamplePart && f.Setup.Project.CutOffSample {
			tape = 0
		}
	}
	if len(list) > 0 && !near(float64(f.wovenOnTape()), float64(woven), 1e-9) {
		t.Fatalf("%v in all, want %v", f.wovenOnTape(), woven)
	}
}

// Each of 12 items is 64.84 cm, printed as 64.8 cm, so they are 777.6 cm and not 778.1 cm.
func TestPrintedLengthsByHand(t *testing.T) {
	s := &schema.Setup{Project: schema.Project{Picks: 8, FinishedLength: 648.4, Items: 12, Fringe: 25}}
	f := Of(straight(8, 4), s)
	list := f.Stretches()
	if got := f.wovenOnTape(); got != 7776 {
		t.Errorf("%v in all", got)
	}
	// The halves of a fringe of 2.5 cm are 1.3 cm and 1.2 cm.
	if got := []measure.Length{list[0].Length, list[1].Length, list[2].Length, list[2].OnTape}; !slices.Equal(got, []measure.Length{13, 648, 12, 673}) {
		t.Errorf("%v", got)
	}
}

// For any parts, stating either suggested length gives whole repeats and no caution, in
// both kinds of units.
func TestPartialRepeatsCanBeTypedBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s := straight(8, 4), anySetup(t)
		s.Units = rapid.SampledFrom([]measure.Units{measure.Metric, measure.Imperial}).Draw(t, "units")
		s.Project.HemPicks = measure.Density(rapid.Float64Range(1, 20).Draw(t, "hem picks"))
		d.Weft.Threads = rapid.IntRange(1, 60).Draw(t, "repeat")
		d.Weft.Colors = make([]int32, d.Weft.Threads)
		d.Weft.Colors[0] = 1
		for _, r := range Of(d, s).partialRepeats() {
			if r.HigherPicks%r.Repeat != 0 || r.HigherPicks-r.Picks >= r.Repeat || r.HigherPicks <= r.Picks || r.LowerPicks >= r.Picks {
				t.Fatalf("%+v", r)
			}
			for _, stated := range []struct {
				length measure.Length
				picks  int
			}{{r.ShorterLength, r.LowerPicks}, {r.LongerLength, r.HigherPicks}} {
				if stated.picks == 0 {
					continue
				}
				typed, err := measure.ParseLength(s.Units.Typed(stated.length))
				if err != nil {
					t.Fatal(err)
				}
				again := *s
				switch r.Part {
				case SamplePart:
					again.Project.Sample = typed
				case HemPart:
					again.Project.Hem = typed
				case ClothPart:
					again.Project.FinishedLength = typed
				}
				for _, still := range Of(d, &again).partialRepeats() {
					if still.Part == r.Part {
						t.Fatalf("%q gives %+v, want %d picks", s.Units.Typed(stated.length), still, stated.picks)
					}
				}
				for _, x := range Of(d, &again).Stretches() {
					if x.Part == r.Part && int(x.Picks.Value) != stated.picks {
						t.Fatalf("%q gives %v picks, want %d", s.Units.Typed(stated.length), x.Picks.Value, stated.picks)
					}
				}
			}
		}
	})
}

// Plain weave on 1+3 against 2+4, and a twill of four picks that begins with 1+2. A hem
// with an odd number of picks ends with the shed that lifts end 1.
func TestSeamsThatRepeatAShed(t *testing.T) {
	d := straight(8, 4)
	d.Tieup = rowsLike([]int32{1, 2}, []int32{2, 3}, []int32{3, 4}, []int32{1, 4}, []int32{1, 3}, []int32{2, 4})
	for _, row := range []struct {
		name      string
		treadling []int32
		project   schema.Project
		want      []bool // by stretch
	}{
		{"a twill begins each hem and the cloth again", []int32{1, 2, 3, 4}, schema.Project{Picks: 1, FinishedLength: 90, Hem: 100}, []bool{false, true, true}},
		{"whole repeats don't", []int32{1, 2, 3, 4}, schema.Project{Picks: 1, FinishedLength: 80, Hem: 80}, []bool{false, false, false}},
		{"one that runs on doesn't", []int32{1, 2, 3, 4}, schema.Project{Picks: 1, FinishedLength: 90, Hem: 100, ContinueDraft: true}, []bool{false, false, false}},
		{"plain hems of an odd number, beside plain cloth", []int32{5, 6}, schema.Project{Picks: 1, FinishedLength: 80, Hem: 100, PlainHems: true}, []bool{false, true, false}},
		{"a fringe lies between", []int32{1, 2, 3, 1}, schema.Project{Picks: 1, FinishedLength: 80, Items: 2, Fringe: 20}, []bool{false, false, false, false, false, false}},
		{"two items, cut apart", []int32{1, 2, 3, 1}, schema.Project{Picks: 1, FinishedLength: 80, Items: 2}, []bool{false, false}},
		{"a sample on the same warp, cut apart", []int32{1, 2, 3, 1}, schema.Project{Picks: 1, FinishedLength: 80, Sample: 80}, []bool{false, false}},
		{"a sample that is cut off", []int32{1, 2, 3, 1}, schema.Project{Picks: 1, FinishedLength: 80, Sample: 80, CutOffSample: true}, []bool{false, false}},
	} {
		t.Run(row.name, func(t *testing.T) {
			d.Treadling = schema.Singles(row.treadling...)
			var got []bool
			for _, x := range Of(d, &schema.Setup{Project: row.project}).Stretches() {
				got = append(got, x.RepeatsShed)
			}
			if !slices.Equal(got, row.want) {
				t.Errorf("%v, want %v", got, row.want)
			}
		})
	}
}

// rowsLike returns a table with these rows.
func rowsLike(rows ...[]int32) schema.Rows {
	var table schema.Rows
	for _, row := range rows {
		table.Append(row...)
	}
	return table
}
