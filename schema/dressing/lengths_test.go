package dressing

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
	"fettle/schema/measure"
)

// pounds returns the weight of some metres of a yarn.
func pounds(metres float64, g measure.Grist) float64 { return g.Grams(metres) / 453.59237 }

// hanks returns the hanks of 840 yd in a length in metres.
func hanks(metres float64) float64 { return metres / 0.9144 / 840 }

// Published calculations of warps and wefts. The inputs are the source's; values marked
// print are as published, within the tolerance of their rounding.
func TestLengthsInPrint(t *testing.T) {
	const (
		taylor = "J. T. Taylor, Cotton Weaving and Designing, 6th ed., "
		brooks = "C. P. Brooks, Cotton Manufacturing, "
	)
	type project = schema.Project
	stockport70 := []schema.Reed{{Dents: perInch(35)}}
	warpHanks := func(l Lengths) Figure { return Figure{hanks(l.WarpYarn.Value), l.WarpYarn.Known} }
	weftHanks := func(l Lengths) Figure { return Figure{hanks(l.WeftYarn.Value), l.WeftYarn.Known} }
	warpPounds := func(size string) func(Lengths) Figure {
		return func(l Lengths) Figure { return known(pounds(l.WarpYarn.Value, grist(t, size))) }
	}
	weftPounds := func(size string) func(Lengths) Figure {
		return func(l Lengths) Figure { return known(pounds(l.WeftYarn.Value, grist(t, size))) }
	}
	inYards := func(pick func(Lengths) Figure, per float64) func(Lengths) Figure {
		return func(l Lengths) Figure { return pick(l).scaled(1 / per) }
	}
	warp := func(l Lengths) Figure { return l.Warp }
	warpYarn := func(l Lengths) Figure { return l.WarpYarn }
	weftYarn := func(l Lengths) Figure { return l.WeftYarn }
	woven := func(l Lengths) Figure { return l.Woven }
	taylor245 := project{Sett: perInch(70), Picks: perInch(80), FinishedLength: yards(90), TakeUp: 5.0 / 95}
	brooks93 := project{Sett: perInch(60), Picks: perInch(64), FinishedLength: yards(36), LoomWaste: yards(2)}
	for _, row := range []struct {
		name    string
		ends    int
		reeds   []schema.Reed
		project project
		got     func(Lengths) Figure
		want    float64
		within  float64
	}{
		{"published/" + taylor + "p. 245/30 in of 70 Stockport", 2100, stockport70, taylor245, func(l Lengths) Figure { return l.Width }, 30 * inch, 1e-9},
		{"published/" + taylor + "p. 245/warp hanks", 2100, stockport70, taylor245, warpHanks, 237.5, 1e-9},
		{"published/" + taylor + "p. 245/warp pounds of 30s", 2100, stockport70, taylor245, warpPounds("30 cotton"), 7.917, 0.0005},
		{"published/" + taylor + "p. 245/weft hanks", 2100, stockport70, taylor245, weftHanks, 257.143, 0.0005},
		{"published/" + taylor + "p. 245/weft pounds of 40s", 2100, stockport70, taylor245, weftPounds("40 cotton"), 6.429, 0.0005},
		{"published/" + brooks + "p. 93/warp hanks, 103 1/7", 2280, nil, brooks93, warpHanks, 103 + 1.0/7, 1e-9},
		{"published/" + brooks + "p. 93/warp, print 3 lb 7 oz", 2280, nil, brooks93, warpPounds("30 cotton"), 3 + 7.0/16, 0.5 / 16},
		{"published/" + brooks + "p. 93/weft, print 2 lb 13 3/4 oz", 2250, nil, brooks93, weftPounds("36 cotton"), 2 + 13.75/16, 0.25 / 16},
		{"published/" + brooks + "p. 96/2260 ends, print 3.407 lb", 2260, nil, project{FinishedLength: yards(38)}, warpPounds("30 cotton"), 3.407, 0.0025},
		{"published/" + taylor + "p. 436/204 hanks of weft", 3400, nil, project{Sett: perInch(100), Picks: perInch(60), FinishedLength: yards(84)}, weftHanks, 204, 1e-9},
		{"published/textile teaching note, 2026/weft of a yard", 30, nil, project{Sett: perInch(1), Picks: perInch(60), FinishedLength: yards(1)}, inYards(weftYarn, 0.9144), 1800, 1e-9},
		{"published/textile teaching note, 2026/weft of 50 yards", 30, nil, project{Sett: perInch(1), Picks: perInch(60), FinishedLength: yards(50)}, inYards(weftYarn, 0.9144), 90_000, 1e-7},
		{"published/weaving-school page/four towels on 5 yards", 100, nil, project{FinishedLength: inches(34), Items: 4, TakeUp: 13.0 / 149, LoomWaste: inches(31)}, inYards(warp, 914.4), 5, 1e-9},
		{"published/weaving-school page/56 ends of 70 + 20 in", 56, nil, project{FinishedLength: inches(70), LoomWaste: inches(20)}, inYards(warpYarn, 0.9144), 140, 1e-9},
		{"published/weaving-school page/40 in and 15 %, print 2.3 yd rounded from 2.278", 10, nil, project{FinishedLength: inches(40), TakeUp: 6.0 / 46, LoomWaste: inches(36)}, inYards(warp, 914.4), 2.278, 0.0005},
		{"published/guild conference notes, 2016/20 % shrinkage is divided", 10, nil, project{FinishedLength: inches(9.6), ShrinkageWarp: 0.2}, inYards(woven, inch), 12, 1e-9},
		{"published/P. Osterkamp, weaving tips/15 % from 10 to 8 1/2 in", 10, nil, project{FinishedLength: inches(8.5), ShrinkageWarp: 0.15}, inYards(woven, inch), 10, 1e-9},
	} {
		t.Run(row.name, func(t *testing.T) {
			l := Of(straight(row.ends, 4), &schema.Setup{Reeds: row.reeds, Project: row.project}).Lengths()
			if got := row.got(l); !got.Known || math.Abs(got.Value-row.want) > row.within {
				t.Errorf("%v, want %v", got, row.want)
			}
		})
	}
	t.Run("published/"+brooks+"p. 96/38 in of Scotch 1100 are 1130 dents and 2260 ends", func(t *testing.T) {
		reed := measure.Density(1100.0 / 37 / 2.54)
		o := sleyFor(reed, 2*reed)
		if got := o.dentsFor(2260); got != 1130 || math.Round(1100*38.0/37) != 1130 {
			t.Errorf("%d dents", got)
		}
	})
}

// The length of a float is its threads divided by the sett.
func TestFloatLengthsInPrint(t *testing.T) {
	for _, row := range []struct {
		name string
		sett measure.Density
		want float64 // millimetres
		off  float64
	}{
		{"published/reference page on floats/5 ends at 6 a centimetre, print 0.83 cm", 6, 8.3, 0.05},
		{"published/reference page on floats/5 ends at 20 a centimetre", 20, 2.5, 1e-12},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := widthOf(5, row.sett); math.Abs(got.Value-row.want) > row.off {
				t.Errorf("%v mm", got)
			}
		})
	}
}

func TestLengthsByHand(t *testing.T) {
	d := straight(384, 8)
	s := &schema.Setup{
		Reeds: []schema.Reed{{Dents: perInch(10)}},
		Project: schema.Project{
			Sett: perInch(20), Picks: perInch(18), FinishedLength: 1000, Items: 2, Hem: 40, Sample: 200,
			ShrinkageWarp: 0.1, ShrinkageWeft: 0.2, TakeUp: 0.05, WeftTakeUp: 0.05, DrawIn: 0.1, LoomWaste: 700, Fringe: 100,
		},
	}
	l := Of(d, s).Lengths()
	wovenMm := (2*1040 + 200) / 0.9
	// 20 mm of each hem is 15.75 picks, 1000 mm of cloth 787.4 and the sample 157.5; each
	// is rounded up separately.
	const picks = 4*16 + 2*788 + 158
	for _, row := range []struct {
		name      string
		got, want float64
	}{
		{"width", l.Width.Value, 487.68},
		{"finished width", l.FinishedWidth.Value, 487.68 * 0.9 * 0.8},
		{"woven", l.Woven.Value, wovenMm},
		{"warp", l.Warp.Value, wovenMm/0.95 + 200 + 700},
		{"warp yarn", l.WarpYarn.Value, 384 * (wovenMm/0.95 + 200 + 700) / 1000},
		{"picks", l.PicksWoven.Value, picks},
		{"weft", l.WeftYarn.Value, picks * 0.48768 * 1.05},
		{"lashing cord", l.LashingCord.Value, 3*487.68 + 100},
	} {
		if !near(row.got, row.want, 1e-12) {
			t.Errorf("%s %v, want %v", row.name, row.got, row.want)
		}
	}
}

// The width depends on the sleyed sett, not on the wanted one.
func TestWidthUsesTheSleyedSett(t *testing.T) {
	s := &schema.Setup{Reeds: []schema.Reed{{Dents: 10}}, Project: schema.Project{Sett: 20.2}}
	if got := Of(straight(200, 4), s).Width(); !near(got.Value, 100, 1e-12) {
		t.Errorf("%v mm, want 100", got.Value)
	}
}

func TestPicksAreWhole(t *testing.T) {
	for _, row := range []struct {
		picks measure.Density
		mm    measure.Length
		want  float64
	}{{8, 100, 80}, {8, 100.1, 81}, {0.7, 100, 7}} {
		s := &schema.Setup{Project: schema.Project{Picks: row.picks, FinishedLength: row.mm}}
		if got := Of(straight(4, 4), s).Lengths().PicksWoven; got != (Figure{row.want, true}) {
			t.Errorf("%v in %v mm are %v picks, want %v", row.picks, row.mm, got, row.want)
		}
	}
}

func TestUnknownStaysUnknown(t *testing.T) {
	whole := schema.Project{Sett: 8, Picks: 7, FinishedLength: 1000}
	without := func(change func(*schema.Project)) schema.Project { p := whole; change(&p); return p }
	type flags struct{ width, woven, warp, picks, weft bool }
	for _, row := range []struct {
		name    string
		project schema.Project
		want    flags
	}{
		{"all stated", whole, flags{true, true, true, true, true}},
		{"no sett", without(func(p *schema.Project) { p.Sett = 0 }), flags{false, true, true, true, false}},
		{"no picks", without(func(p *schema.Project) { p.Picks = 0 }), flags{true, true, true, false, false}},
		{"no length", without(func(p *schema.Project) { p.FinishedLength = 0 }), flags{width: true}},
		{"nothing", schema.Project{}, flags{}},
		{"shrinks to nothing", without(func(p *schema.Project) { p.ShrinkageWarp = 1 }), flags{width: true}},
	} {
		t.Run(row.name, func(t *testing.T) {
			l := Of(straight(8, 4), &schema.Setup{Project: row.project}).Lengths()
			got := flags{l.Width.Known, l.Woven.Known, l.Warp.Known, l.PicksWoven.Known, l.WeftYarn.Known}
			if got != row.want {
				t.Errorf("%+v, want %+v", got, row.want)
			}
			if l.LashingCord.Known != l.Width.Known || l.FinishedWidth.Known != l.Width.Known {
				t.Error("what follows from the width is not known with it")
			}
		})
	}
}

// Weaving a warp of these lengths gives the finished length asked for, because each step
// takes off its stated percentage.
func TestLengthsGoBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s := anyDraft(t), anySetup(t)
		p := s.Project
		l := Of(d, s).Lengths()
		items := float64(max(p.Items, 1))
		onLoom := (l.Warp.Value - float64(p.LoomWaste) - items*float64(p.Fringe)) * (1 - p.TakeUp)
		cloth := onLoom * (1 - p.ShrinkageWarp)
		if each := (cloth-float64(p.Sample))/items - float64(p.Hem); !near(each, float64(p.FinishedLength), 1e-9) {
			t.Fatalf("comes to %v mm, want %v", each, p.FinishedLength)
		}
		if gap := l.PicksWoven.Value - l.Woven.Value*float64(p.Picks)/10; gap < -1e-6 || gap >= 1+3*items {
			t.Fatalf("%v picks too many", gap)
		}
	})
}
