package dressing

import (
	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/measure"
)

// Options are the options of a plan. The zero value suits most weavers.
type Options struct {
	Path  string // of the draft, as shown in the plan
	Group []int  // sizes of the threading groups; none: see Figures.groups
	Start Start
	K     float64 // Ashenhurst's k; 0 means the one for each yarn's kind
}

// Words puts the Kind of a Problem or a Caution, a KeptByUse or a ReedChoice into words,
// with lengths in the weaver's units. The sentence has no capital and no full stop.
type Words func(kind any, u measure.Units) string

// Plan collects the figures in a plan, with problems and cautions in words. The error is
// a TooManyEnds or a WarpError.
func (f *Figures) Plan(o Options, words Words) (*Plan, error) {
	if many, refused := f.TooManyEnds(); refused {
		return nil, many
	}
	if wrong, refused := f.warpError(); refused {
		return nil, wrong
	}
	l, p, s := f.Lengths(), &f.Setup.Project, f.Setup
	say := func(kind any) string { return words(kind, s.Units) }
	plan := &Plan{
		Fettle: 1, Path: o.Path, Title: f.Draft.Texts.Title,
		Warp: f.warpPlan(), Weft: f.weftPlan(), Reed: f.reedPlan(say), Sley: f.sleyPlan(), Raddle: f.raddlePlan(),
		Heddles: f.heddleRows(), Groups: orEmpty(f.groups(o.Group, o.Start)), Winding: Winding{[]Bout{}}, Warps: []WarpRow{},
		Lifts: orEmpty(f.liftBlocks()), Tieup: f.tieup(), TieupDown: f.tieupDown(), Selvedge: f.selvedgePlan(), Stretches: orEmpty(f.Stretches()),
		LengthUnit: "cm", ShaftsGo: f.shaftsGo(),
		LashingCordCm: l.LashingCord.scaled(0.1), FinishedWidthCm: l.FinishedWidth.scaled(0.1), WovenLengthM: l.Woven.scaled(0.001),
		Yarns: f.yarnRows(o.K), Unassigned: []int{}, KeptByUse: []KeptRow{}, Steps: []StepRow{},
		Missing: orEmpty(f.missing()), Unstated: []string{}, Faults: problemRows(f.Faults(), say), Lacks: problemRows(f.lacks(), say),
		Cautions: []CautionRow{}, Without: f.without(),

		Units: s.Units, Project: p, Loom: s.Loom.Name, Items: f.items(), ItemsDiffer: f.itemsDiffer(), SeveralReeds: f.Reed().Owned > 1, HeddleMoves: f.heddleMoves(),
		FloatingFirst: f.floatingSelvedge(1), FloatingLast: f.floatingSelvedge(f.Draft.Ends()),
		Start: o.Start, ByShaft: f.byShaft(), Shed: f.Draft.Shed, Losses: f.statedLosses(), ReTie: f.reTie(), WovenOnTape: f.wovenOnTape(), AfterSample: f.afterSample(),
		HasTreadles: f.hasTreadles(), LayerSetts: f.layerSetts(), DraftPicks: f.Draft.Picks(),
		Figures: f,
	}
	if s.Units.Inches() {
		plan.LengthUnit = "in"
	}
	_, plan.FaceDown = f.WrongShed()
	for _, set := range f.Warps() {
		bouts := orEmpty(f.Bouts(&set))
		plan.Winding.Bouts = append(plan.Winding.Bouts, bouts...)
		plan.Warps = append(plan.Warps, WarpRow{set.Name, set.Beam, set.Ends, set.Length.scaled(0.001), bouts})
	}
	for _, n := range f.NoYarns() {
		plan.Unassigned = append(plan.Unassigned, n.Color)
		if kept, ok := f.KeptByUse(n); ok {
			plan.KeptByUse = append(plan.KeptByUse, KeptRow{n.Color, say(kept)})
		}
	}
	for _, loss := range f.unstated() {
		plan.Unstated = append(plan.Unstated, "[project] "+loss)
	}
	for _, c := range f.cautions() {
		plan.Cautions = append(plan.Cautions, CautionRow{c.Key, say(c.Kind)})
		if partial, is := c.Kind.(PartialRepeat); is {
			plan.PartialRepeats = append(plan.PartialRepeats, PartRepeat{partial.Part, say(c.Kind)})
		}
	}
	if hem, plain := f.PlainHem(); plain {
		plan.PlainHem = &hem
	}
	return plan, nil
}

// statedLosses returns the stated losses, and the warp for tying on again.
func (f *Figures) statedLosses() []Loss {
	p := &f.Setup.Project
	var list []Loss
	for _, l := range []Loss{
		{Key: "take-up", Part: p.TakeUp, Factor: 1 - p.TakeUp},
		{Key: "re-tie", Length: f.reTie()},
		{Key: "loom waste", Length: p.LoomWaste},
		{Key: "shrinkage warp", Part: p.ShrinkageWarp, Factor: 1 - p.ShrinkageWarp},
		{Key: "shrinkage weft", Part: p.ShrinkageWeft, Factor: 1 - p.ShrinkageWeft},
		{Key: "draw-in", Part: p.DrawIn, Factor: 1 - p.DrawIn},
		{Key: "weft take-up", Part: p.WeftTakeUp, Factor: 1 + p.WeftTakeUp},
	} {
		if l.Part > 0 || l.Length > 0 {
			list = append(list, l)
		}
	}
	for _, x := range f.Setup.Warps {
		of := "warp " + x.Name
		if f.Setup.Has(of + ".take-up") {
			list = append(list, Loss{Warp: x.Name, Key: "take-up", Part: x.TakeUp, Factor: 1 - x.TakeUp})
		}
		if f.Setup.Has(of + ".loom waste") {
			list = append(list, Loss{Warp: x.Name, Key: "loom waste", Length: x.LoomWaste})
		}
	}
	return list
}

// orEmpty returns an empty list for nil, so that JSON has [] instead of null.
func orEmpty[T any](l []T) []T {
	if l == nil {
		return []T{}
	}
	return l
}

func problemRows(problems []Problem, say func(any) string) []ProblemRow {
	rows := make([]ProblemRow, len(problems))
	for i, p := range problems {
		rows[i] = ProblemRow{p.Step, say(p.Kind)}
	}
	return rows
}

func (f *Figures) warpPlan() WarpPlan {
	w, l := f.Warp(), f.Lengths()
	return WarpPlan{
		Ends: w.All, DraftEnds: w.Ends, Repeats: w.Repeats, Balance: w.Balance, Half: w.firstHalf(),
		SettPerCm: density(f.Sleyed()), WidthCm: l.Width.scaled(0.1),
		LengthM: l.Warp.scaled(0.001), Metres: l.WarpYarn,
		ByColor: f.colorRows(f.WarpUse(), schema.Warp),
	}
}

func (f *Figures) weftPlan() WeftPlan {
	l := f.Lengths()
	return WeftPlan{
		PicksPerCm: density(f.Picks().Density), Picks: l.PicksWoven, Metres: l.WeftYarn,
		ByColor: f.colorRows(f.WeftUse(), schema.Weft),
		Repeat:  f.pickRepeat(), RepeatCm: f.finishedPicks(f.pickRepeat()).scaled(0.1),
	}
}

func (f *Figures) colorRows(uses []ColorUse, system schema.SystemName) []ColorRow {
	rows := make([]ColorRow, 0, len(uses))
	for _, u := range uses {
		row := ColorRow{Color: u.Color, Hex: f.Hex(u.Color), Metres: u.Metres, Grams: u.Grams}
		if u.Yarn >= 0 {
			row.Yarn = f.Setup.Yarns[u.Yarn].Name
		}
		if system == schema.Warp {
			row.Ends = u.Threads
		} else {
			row.Picks = u.Threads
		}
		rows = append(rows, row)
	}
	return rows
}

func (f *Figures) reedPlan(say func(any) string) *ReedPlan {
	c := f.Reed()
	if c.Owned == 0 {
		return nil
	}
	right, left := f.emptyDents()
	return &ReedPlan{c.Reed.Name, say(c), right, left}
}

func (f *Figures) sleyPlan() *SleyPlan {
	order, ok := f.Sleying()
	if !ok {
		return nil
	}
	w := f.Warp()
	half := w.firstHalf()
	first, second := order.fromCentre()
	p := &SleyPlan{
		DentsPerCm: density(order.Reed), Order: order.Order(), SettPerCm: density(order.Sett()),
		OffPercent: known(order.OffPercent()), Dents: order.dentsFor(w.All),
		FromCentre:  Halves{first, second},
		WantedPerCm: density(order.Wanted), WidthErrorCm: order.widthError(w.All).scaled(0.1),
		Fullest: order.Fullest(), DentsAvailable: f.reedDents(),
		Tens: DentTens{
			orEmpty(dentTens(first, half, func(n int) int { return half + 1 - n })),
			orEmpty(dentTens(second, w.All-half, func(n int) int { return half + n })),
		},
	}
	if reed, other, ok := f.OtherReed(); ok {
		p.OtherReed = &OtherPlan{reed.Name, density(reed.Dents), other.Order(), known(other.OffPercent())}
	}
	return p
}

// raddlePlan spreads the sleyed sett over a raddle with one space per centimetre, or per
// inch if the weaver works in inches.
func (f *Figures) raddlePlan() *RaddlePlan {
	spaces := measure.Density(1)
	if f.Setup.Units.PerInch() {
		spaces = measure.ByInch(1)
	}
	order := sleyFor(spaces, f.Sleyed())
	if order.Dents == 0 {
		return nil
	}
	return &RaddlePlan{density(order.Reed), order.Order()}
}

// selvedgePlan returns nil if the draft needs several shuttles or has floating selvedges.
func (f *Figures) selvedgePlan() *SelvedgePlan {
	w := f.Warp()
	if f.Setup.Project.FloatingSelvedge || cloth.SeveralShuttles(f.Draft) || w.All == 0 {
		return nil
	}
	edges := f.Cloth().SelvedgeAt(1, w.DraftEnd(w.All), 1)
	if edges.Turns == 0 {
		return nil
	}
	return &SelvedgePlan{edges.Turns, edges.MissesFromLeft, edges.MissesFromRight}
}

func (f *Figures) heddleRows() []HeddleRow {
	shafts, width := f.Heddles(), f.Width()
	rows := make([]HeddleRow, 0, len(shafts))
	for _, h := range shafts {
		row := HeddleRow{
			Shaft: h.Shaft, Needed: h.Needed, FirstHalf: h.FirstHalf, SecondHalf: h.SecondHalf,
			PerCm: h.PerCm(width), RunsOut: h.RunsOut,
		}
		if h.Counted {
			row.Available, row.Short = known(float64(h.Available)), known(float64(h.Short))
			if spare := h.Available - h.Needed; spare >= 0 {
				row.PushAside = &PushAside{spare / 2, spare - spare/2}
			}
		}
		rows = append(rows, row)
	}
	return rows
}

func (f *Figures) yarnRows(k float64) []YarnRow {
	uses, sett := f.YarnUses(), density(f.Sleyed())
	rows := make([]YarnRow, 0, len(uses))
	maximums := map[int]measure.Density{}
	for _, m := range f.MaximumSetts(k) {
		maximums[m.Yarn] = m.Maximum
	}
	for _, u := range uses {
		y := &f.Setup.Yarns[u.Yarn]
		row := YarnRow{
			Yarn: y.Name, Metres: u.Metres, Grams: u.Grams, StockM: u.Stock, ShortM: u.Short,
			Packages: u.Packages, StockPackages: u.StockPackages, BuyPackages: u.Buy, ShortenCm: u.Shorten.scaled(0.1),
			Stock: y.Stock.Text, EachMetres: u.EachMetres, EachGrams: u.EachGrams,
		}
		if maximum := maximums[u.Yarn]; maximum > 0 {
			row.MaxSettPerCm, row.WorkingSetts = density(maximum), workingSetts(maximum)
			if sett.Known {
				row.OfMaximum, row.TooClose = known(100*sett.Value/float64(maximum)), Over(sett.Value, float64(maximum))
			}
		}
		rows = append(rows, row)
	}
	return rows
}
