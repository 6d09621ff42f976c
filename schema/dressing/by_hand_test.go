package dressing

import (
	"slices"
	"testing"

	"fettle/schema"
	"fettle/schema/measure"
)

// Complete projects, worked out by hand. Lengths are in millimetres.
func TestProjectsByHand(t *testing.T) {
	colored := func(d *schema.Draft, first, second int) *schema.Draft {
		for n := range first + second {
			d.Treadling.Append(int32(n%4 + 1))
			color := int32(1)
			if n >= first {
				color = 2
			}
			d.Weft.Colors = append(d.Weft.Colors, color)
		}
		return d
	}
	runner := straight(480, 24)
	for n := range int32(48) {
		runner.LiftPlan.Append(n%24+1, (n+7)%24+1)
	}
	runner.Weft.Colors = append(make([]int32, 47), 1)
	inRunner := func(p schema.Project) schema.Project {
		p.Sett, p.Picks = perInch(24), perInch(20)
		p.RepeatsPerItem, p.PlainHems, p.ShrinkageWarp = 30, true, 0.1
		return p
	}
	type figures struct {
		woven, warp, width, picks, stretches float64
		colors                               []float64 // picks of each
	}
	for _, row := range []struct {
		name    string
		draft   *schema.Draft
		project schema.Project
		want    figures
	}{
		// The sample is 10 in ÷ 0.9 × 18 = 200 picks, a hem of 1 in is 20 and a cloth of
		// 30 in is 600. In 150 picks of the draft the colors have 100 and 50, so in the
		// sample 150 and 50, in a hem 20 and 0, in a cloth 400 and 200. The warp is 138
		// in ÷ 0.9 ÷ 0.9, plus 25 cm and 27 in.
		{"four towels with hems, in inches, and a sample that is cut off", colored(straight(400, 4), 100, 50),
			schema.Project{Sett: perInch(20), Picks: perInch(18), FinishedLength: inches(30), Hem: inches(2), Items: 4, Sample: inches(10),
				CutOffSample: true, ShrinkageWarp: 0.1, TakeUp: 0.1, LoomWaste: inches(27)},
			figures{138 * inch / 0.9, 138*inch/0.81 + 250 + 27*inch, 20 * inch, 200 + 4*640, 13, []float64{150 + 4*440, 50 + 4*200}}},
		// 180 cm ÷ 0.9 is 200 cm, or 1200 picks: 171 times the draft's 4 and 3, and 3
		// more.
		{"two fringed scarves in two colors, in centimetres", colored(straight(160, 4), 4, 3),
			schema.Project{Sett: 8, Picks: 6, FinishedLength: 1800, Items: 2, Fringe: 200, ShrinkageWarp: 0.1, TakeUp: 0.1, LoomWaste: 600},
			figures{4000, 4000/0.9 + 400 + 600, 200, 2400, 6, []float64{2 * (171*4 + 3), 2 * 171 * 3}}},
		// 30 × 48 picks are 72 in; a hem of 1 in ÷ 0.9 × 20 is 22.2 picks, rounded up to
		// 23. The draft's last pick has its own color.
		{"a runner on 24 shafts, in inches", runner, inRunner(schema.Project{Hem: inches(2)}),
			figures{72*inch + 2*inch/0.9, 72*inch + 2*inch/0.9, 20 * inch, 1440 + 46, 3, []float64{1440 - 30 + 46, 30}}},
		{"the same in centimetres", runner, inRunner(schema.Project{Hem: 50.8}),
			figures{1828.8 + 50.8/0.9, 1828.8 + 50.8/0.9, 508, 1440 + 46, 3, []float64{1440 - 30 + 46, 30}}},
	} {
		t.Run(row.name, func(t *testing.T) {
			f := Of(row.draft, &schema.Setup{Project: row.project})
			l := f.Lengths()
			for _, x := range []struct {
				name      string
				got, want float64
			}{
				{"woven", l.Woven.Value, row.want.woven}, {"warp", l.Warp.Value, row.want.warp}, {"width", l.Width.Value, row.want.width},
				{"picks", l.PicksWoven.Value, row.want.picks}, {"stretches", float64(len(f.Stretches())), row.want.stretches},
				{"warp yarn", l.WarpYarn.Value, row.want.warp / 1000 * float64(row.draft.Ends())},
				{"weft yarn", l.WeftYarn.Value, row.want.picks * row.want.width / 1000},
			} {
				if !near(x.got, x.want, 1e-12) {
					t.Errorf("%s %v, want %v", x.name, x.got, x.want)
				}
			}
			for i, use := range f.WeftUse() {
				if use.Threads.Value != row.want.colors[i] {
					t.Errorf("color %d: %v picks, want %v", i, use.Threads.Value, row.want.colors[i])
				}
			}
		})
	}
}

// The runner's hems are plain weave on the odd shafts against the even ones. They can't
// be if all treadles of the loom are in use, or if neighbouring ends share a shaft.
func TestPlainHems(t *testing.T) {
	twill := func(ends int) *schema.Draft {
		d := straight(ends, 4)
		d.Tieup = rowsLike([]int32{1, 2}, []int32{2, 3}, []int32{3, 4}, []int32{1, 4}, []int32{2, 4})
		d.Treadling = schema.Singles(1, 2, 3, 4)
		return d
	}
	sinking := twill(8)
	sinking.Shed = schema.Sinking
	for _, row := range []struct {
		name     string
		draft    *schema.Draft
		treadles int
		repeats  int
		want     PlainHem
		refused  NoPlainHem
	}{
		{"one treadle is tied so, one is free", twill(8), 6, 1, PlainHem{[2][]int32{{1, 3}, {2, 4}}, [2]int{6, 5}, [2]bool{true, false}}, NoPlainHem{}},
		{"a sinking draft names those that go down", sinking, 6, 1, PlainHem{[2][]int32{{2, 4}, {1, 3}}, [2]int{5, 6}, [2]bool{false, true}}, NoPlainHem{}},
		{"no treadle is free", twill(8), 5, 1, PlainHem{}, NoPlainHem{Lacking: true, Needed: 1}},
		{"an odd draft that is repeated", twill(7), 6, 2, PlainHem{}, NoPlainHem{OddRepeat: 7}},
		{"an odd draft once", twill(7), 6, 1, PlainHem{[2][]int32{{1, 3}, {2, 4}}, [2]int{6, 5}, [2]bool{true, false}}, NoPlainHem{}},
		{"two ends on one shaft", func() *schema.Draft { d := twill(4); d.Threading = schema.Singles(1, 1, 2); return d }(), 6, 1, PlainHem{}, NoPlainHem{End: 1}},
	} {
		t.Run(row.name, func(t *testing.T) {
			f := Of(row.draft, &schema.Setup{Loom: schema.Loom{Treadles: row.treadles},
				Project: schema.Project{Picks: 8, FinishedLength: 100, Hem: measure.Length(20), PlainHems: true, Repeats: row.repeats}})
			refused, is := f.noPlainHem()
			hem, ok := f.PlainHem()
			if is != (row.refused != NoPlainHem{}) || ok == is || is && refused != row.refused {
				t.Fatalf("%+v, refused %+v", hem, refused)
			}
			if ok && (hem.Treadles != row.want.Treadles || hem.New != row.want.New || join(hem.Lifts) != join(row.want.Lifts)) {
				t.Errorf("%+v, want %+v", hem, row.want)
			}
		})
	}
}

// A lift plan on a loom with treadles gets a treadle for each lift; the hems press two of
// them, or two more.
func TestPlainHemsOnALiftPlan(t *testing.T) {
	for _, row := range []struct {
		name     string
		lifts    [][]int32
		loom     schema.Loom
		treadles [2]int
		tie      [2]bool
		lacking  bool
	}{
		{"the draft weaves plain too", [][]int32{{1, 2}, {2, 4}, {1, 3}}, schema.Loom{Treadles: 4}, [2]int{3, 2}, [2]bool{}, false},
		{"two more", [][]int32{{1, 2}, {3, 4}}, schema.Loom{Treadles: 4}, [2]int{3, 4}, [2]bool{true, true}, false},
		{"on countermarch", [][]int32{{1, 2}, {3, 4}}, schema.Loom{Treadles: 4, Shed: schema.Countermarch}, [2]int{3, 4}, [2]bool{true, true}, false},
		{"one is free", [][]int32{{1, 2}, {3, 4}}, schema.Loom{Treadles: 3}, [2]int{}, [2]bool{true, true}, true},
	} {
		t.Run(row.name, func(t *testing.T) {
			d := straight(8, 4)
			d.LiftPlan = schema.RowsOf(row.lifts...)
			f := Of(d, &schema.Setup{Loom: row.loom, Project: schema.Project{Picks: 8, FinishedLength: 100, Hem: 20, PlainHems: true}})
			hem, ok := f.PlainHem()
			if ok == row.lacking || ok && (hem.Treadles != row.treadles || hem.New != row.tie) {
				t.Errorf("%v: %+v", ok, hem)
			}
		})
	}
}

// The colors of a plain hem are those of the draft's picks from its first.
func TestHemColors(t *testing.T) {
	d := straight(8, 4)
	d.Tieup = rowsLike([]int32{1, 3}, []int32{2, 4})
	d.Treadling = schema.Singles(1, 2, 1, 2, 1)
	d.Weft.Colors = []int32{1, 1, 2, 1, 1}
	for _, row := range []struct {
		name       string
		picks      measure.Length // of a hem, in millimetres at one a millimetre
		continues  bool
		runs, next []ColorRun // of the first hem, and of the second
	}{
		{"shorter than the draft", 4, false, []ColorRun{{1, 2}, {2, 1}, {1, 1}}, []ColorRun{{1, 2}, {2, 1}, {1, 1}}},
		{"longer: the draft begins again", 8, false, []ColorRun{{1, 2}, {2, 1}, {1, 4}, {2, 1}}, []ColorRun{{1, 2}, {2, 1}, {1, 4}, {2, 1}}},
		{"the draft runs on: the cloth of 6 picks ends after pick 4 + 6", 4, true, []ColorRun{{1, 2}, {2, 1}, {1, 1}}, []ColorRun{{1, 2}, {2, 1}, {1, 1}}},
		{"the draft runs on from pick 4", 2, true, []ColorRun{{1, 2}}, []ColorRun{{1, 2}}},
	} {
		t.Run(row.name, func(t *testing.T) {
			f := Of(d, &schema.Setup{Project: schema.Project{Picks: 10, FinishedLength: 6, Hem: 2 * row.picks, PlainHems: true, ContinueDraft: row.continues}})
			var got [][]ColorRun
			for _, x := range f.Stretches() {
				if runs, _, ok := f.HemColors(x); ok {
					got = append(got, runs)
				}
			}
			if len(got) != 2 || !slices.Equal(got[0], row.runs) || !slices.Equal(got[1], row.next) {
				t.Errorf("%v, want %v and %v", got, row.runs, row.next)
			}
		})
	}
	// A hem of very many stripes isn't listed.
	f := Of(d, &schema.Setup{Project: schema.Project{Picks: 10, FinishedLength: 6, Hem: 1e6, PlainHems: true}})
	if _, _, ok := f.HemColors(f.Stretches()[0]); ok {
		t.Error("400000 stripes are listed")
	}
}

func TestColorsBeyond(t *testing.T) {
	d := straight(6, 4)
	d.LiftPlan = schema.Singles(1, 2, 3)
	d.Warp.Colors, d.Weft.Colors = []int32{1, 2, 1, 3, 4, 3}, []int32{2, 2, 2}
	if warp, weft := Of(d, &schema.Setup{}).ColorsBeyond(3, 1); !slices.Equal(warp, []int{3, 4}) || len(weft) > 0 {
		t.Errorf("%v and %v", warp, weft)
	}
}

func join(lifts [2][]int32) (text string) {
	for _, lift := range lifts {
		for _, shaft := range lift {
			text += string('0' + shaft)
		}
		text += "/"
	}
	return text
}
