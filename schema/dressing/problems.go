package dressing

import (
	"slices"

	"fettle/schema"
	"fettle/schema/fitting"
	"fettle/schema/measure"
)

// The steps of the work that can meet a problem.
const (
	YarnToHave = "yarn"
	SleyReed   = "sley"
	TieUp      = "tie up"
	Thread     = "thread"
	Weave      = "weave"
)

// Problem is a fault of the draft, or something that the loom or the yarn lacks, and the
// step of the work that meets it.
type Problem struct {
	Step string
	// Kind is the problem with its numbers: a Typo, or one of the types below.
	Kind any
}

// Gap is a missing part of the weave that makes a draft unweavable.
type Gap uint8

// The gaps.
const (
	BlockProfile  Gap = iota // the draft says that its ends stand for blocks
	NoThreading              // no end is on a shaft
	NoLifts                  // there is neither treadling nor lift plan
	NoTieup                  // no treadle is tied to a shaft
	NothingLifted            // no pick lifts a shaft
)

// UnthreadedEnds holds the ends that are on no shaft by mistake.
type UnthreadedEnds struct {
	Ends []int
	Edge bool // they are the outermost ends, as floating selvedges are
}

// LooseThreads holds the threads that stay on one side of all threads they cross.
type LooseThreads struct {
	System  schema.SystemName
	Threads []int
}

// TooManyShafts means that a draft names more shafts than the loom has.
type TooManyShafts struct {
	Needed, Available int
	Used              int // shafts with ends
	Fewest            int // shafts needed if ends that weave alike share one; 0 if not counted
}

// TooManyTreadles means that a draft needs more treadles than the loom has.
type TooManyTreadles struct {
	Needed, Available int
	Used              int // treadles that are pressed; 0 with a lift plan
	Lifts             int // different lifts of the picks, if LiftsCounted
	LiftsCounted      bool
	AtOnce            int  // treadles that may be pressed together
	Fewest, AtLeast   int  // treadles needed with AtOnce pressed together: an estimate and a proved lower bound; 0 if not counted
	LiftPlan          bool // the draft has only a lift plan, and needs a treadle for each lift
	Together          bool // the draft presses treadles together, which a countermarch loom can't do
}

// PressedTogether reports whether the treadles are enough with up to AtOnce of them
// pressed together.
func (t TooManyTreadles) PressedTogether() bool { return t.Fewest > 0 && t.Fewest <= t.Available }

// WrongShed means that the loom moves the shafts the opposite way from the draft.
type WrongShed struct{ Draft, Loom schema.Shed }

// TooWide means that the warp in the reed is wider than the loom can weave.
type TooWide struct{ Width, Limit measure.Length }

// ReedTooShort means that the warp takes more dents than the reed has.
type ReedTooShort struct{ Ends, Needed, Dents int }

// HeddlesShort holds the shafts with too few heddles.
type HeddlesShort struct {
	Shafts         []ShaftHeddles
	MovingIsEnough bool // the other shafts can spare the missing heddles
}

// YarnShort is a yarn with too little stock.
type YarnShort struct {
	YarnUse
	Name  string
	Items int
}

// Faults returns the faults that make the draft unweavable on any loom: ends without a
// shaft, picks that lift nothing, and threads that are never woven in, unless the cloth
// is too large to check. For a block profile, that is the only fault.
func (f *Figures) Faults() []Problem {
	if f.Draft.Ends() == 0 {
		return nil
	}
	if f.Draft.Profile == schema.Yes {
		return []Problem{{Thread, BlockProfile}}
	}
	var list []Problem
	for _, s := range f.typos() {
		if s.ofThread() {
			step := Thread
			if s.At.Part == schema.PartTreadling {
				step = Weave
			}
			list = append(list, Problem{step, s})
		}
	}
	if f.Draft.Threading.Count() == 0 {
		list = append(list, Problem{Thread, NoThreading})
	} else if ends, ok := f.UnthreadedEnds(); ok {
		list = append(list, Problem{Thread, ends})
	}
	if gap, ok := f.liftGap(); ok {
		list = append(list, Problem{Weave, gap})
	}
	if len(list) > 0 || f.Cloth().TooLarge() {
		return list
	}
	if loose := f.LooseThreads(schema.Warp); len(loose.Threads) > 0 {
		list = append(list, Problem{Thread, loose})
	}
	if loose := f.LooseThreads(schema.Weft); len(loose.Threads) > 0 {
		list = append(list, Problem{Weave, loose})
	}
	return list
}

// lacks returns what the loom, the reed, the heddles and the yarn lack, in the order of
// the work. Unknown things lack nothing. A block profile isn't compared with the loom,
// because its ends aren't those of a warp.
func (f *Figures) lacks() []Problem {
	if f.Draft.Profile == schema.Yes || f.Draft.Ends() == 0 {
		return nil
	}
	var list []Problem
	for _, short := range f.YarnsShort() {
		list = append(list, Problem{YarnToHave, short})
	}
	if wide, ok := f.TooWide(); ok {
		list = append(list, Problem{SleyReed, wide})
	}
	if short, ok := f.ReedTooShort(); ok {
		list = append(list, Problem{SleyReed, short})
	}
	whereLifted := TieUp
	if f.byShaft() {
		whereLifted = Weave
	}
	for _, s := range f.typos() {
		if !s.ofThread() {
			list = append(list, Problem{whereLifted, s})
		}
	}
	if many, ok := f.TooManyShafts(); ok {
		list = append(list, Problem{Thread, many})
	}
	if short := f.heddlesShort(); len(short.Shafts) > 0 {
		list = append(list, Problem{Thread, short})
	}
	if many, ok := f.TooManyTreadles(); ok {
		list = append(list, Problem{TieUp, many}) // before the weaving, even if the sheet then lists shafts
	}
	if no, ok := f.noPlainHem(); ok {
		list = append(list, Problem{Weave, no})
	}
	if shed, ok := f.WrongShed(); ok {
		list = append(list, Problem{whereLifted, shed})
	}
	return list
}

func (f *Figures) typos() []Typo {
	return slices.Concat(f.ShaftsAbove().Typos, f.TreadlesAbove().Typos)
}

// ofThread reports whether a typo is in the row of an end or a pick. That thread then
// doesn't weave as meant.
func (s Typo) ofThread() bool {
	return s.At.Part == schema.PartThreading || s.At.Part == schema.PartTreadling
}

// UnthreadedEnds returns the ends that are on no shaft by mistake. ok is false if there
// are none.
func (f *Figures) UnthreadedEnds() (u UnthreadedEnds, ok bool) {
	u.Edge = true
	for end := 1; end <= f.Draft.Ends(); end++ {
		if len(f.Draft.Threading.Row(end)) == 0 && !f.floatingSelvedge(end) {
			u.Ends = append(u.Ends, end)
			u.Edge = u.Edge && (end == 1 || end == f.Draft.Ends())
		}
	}
	return u, len(u.Ends) > 0
}

func (f *Figures) liftGap() (Gap, bool) {
	d := f.Draft
	switch {
	case d.Treadling.Count()+d.LiftPlan.Count() == 0:
		return NoLifts, true
	case d.LiftPlan.Len() == 0 && d.Tieup.Count() == 0:
		return NoTieup, true
	}
	for pick := 1; pick <= d.Picks(); pick++ {
		if len(f.Cloth().LiftOf(pick)) > 0 {
			return 0, false
		}
	}
	return NothingLifted, true
}

// LooseThreads returns the threads of a system that stay on one side of all threads they
// cross, except floating selvedges. It is slow for a cloth that is too large.
func (f *Figures) LooseThreads(system schema.SystemName) LooseThreads {
	threads := f.Cloth().Loose(system)
	if system == schema.Warp {
		threads = slices.DeleteFunc(threads, f.floatingSelvedge)
	}
	return LooseThreads{system, threads}
}

// floatingSelvedge reports whether an end of the draft is on no shaft on purpose: the
// outermost ends, if the project has floating selvedges.
func (f *Figures) floatingSelvedge(end int) bool {
	return f.Setup.Project.FloatingSelvedge && (end == 1 || end == f.Draft.Ends()) && len(f.Draft.Threading.Row(end)) == 0
}

// TooManyShafts reports whether the draft names more shafts than the loom has.
func (f *Figures) TooManyShafts() (TooManyShafts, bool) {
	have, needed := f.Setup.Loom.Shafts, f.ShaftsAbove().Highest
	if have == 0 || needed <= have {
		return TooManyShafts{}, false
	}
	t := TooManyShafts{Needed: needed, Available: have, Used: len(f.UsedShafts())}
	if !f.Cloth().TooLarge() {
		t.Fewest = f.Cloth().DifferentEnds()
	}
	return t, true
}

// NeedsLifts reports whether each different lift needs a treadle: the loom has treadles,
// and the draft has only a lift plan. On a countermarch loom this also holds if the draft
// presses treadles together.
func (f *Figures) NeedsLifts() bool {
	d := f.Draft
	if f.byComputer() {
		return false
	}
	onlyPlan := d.LiftPlan.Len() > 0 && (d.Tieup.Count() == 0 || d.Treadling.Count() == 0)
	if f.Countermarch() {
		return onlyPlan || d.LiftPlan.Len() == 0 && d.Treadling.Count() > 0 && !d.OneTreadleAPick()
	}
	return f.Setup.Loom.Treadles > 0 && onlyPlan
}

// byComputer reports whether the draft is one of the whole work with a lift plan. The
// loom's computer lifts its shafts, so it needs no treadles.
func (f *Figures) byComputer() bool { return f.Draft.IsWholeWork() && f.Draft.LiftPlan.Len() > 0 }

// TooManyTreadles reports whether the draft needs more treadles than the loom has. It
// doesn't count the lifts of a cloth that is too large.
func (f *Figures) TooManyTreadles() (TooManyTreadles, bool) {
	t := TooManyTreadles{Available: f.Setup.Loom.Treadles}
	if t.Available == 0 || f.PressesSeveral() || f.byComputer() {
		return t, false
	}
	if f.NeedsLifts() {
		if !f.Cloth().TooLarge() {
			t.LiftPlan, t.LiftsCounted, t.Lifts = f.Draft.LiftPlan.Len() > 0, true, f.Cloth().DistinctLifts()
			t.Together = !t.LiftPlan
			t.Needed = t.Lifts + f.emptyLifts()
		}
		f.estimate(&t)
		return t, t.Needed > t.Available
	}
	if t.Needed = f.TreadlesAbove().Highest; t.Needed <= t.Available {
		return t, false
	}
	t.Used = len(f.Draft.Treadling.Different())
	if (t.Used == 0 || t.Used > t.Available) && !f.Cloth().TooLarge() {
		t.LiftsCounted, t.Lifts = true, f.Cloth().DistinctLifts()
		f.estimate(&t)
	}
	return t, true
}

// estimate fills in how few treadles suffice if several are pressed together: as many as
// the settings say, otherwise two if the loom's action allows it.
func (f *Figures) estimate(t *TooManyTreadles) {
	loom := f.Setup.Loom
	if t.AtOnce = loom.AtOnce; t.AtOnce == 0 {
		t.AtOnce = 2
	}
	if t.AtOnce == 1 || loom.Shed == schema.Balanced || !t.LiftsCounted || t.Lifts <= t.Available {
		return
	}
	t.Fewest, t.AtLeast = fitting.FewestTreadles(f.Draft, f.Cloth(), loom.Shed, t.AtOnce)
}

// SpreadingSuffices reports whether the heddles suffice if ends that weave alike are
// spread over the shafts.
func (f *Figures) SpreadingSuffices() bool {
	return fitting.HeddlesSuffice(f.Draft, f.Cloth(), fitting.Loom{Shafts: f.Setup.Loom.Shafts,
		Heddles: f.Setup.Heddles, WarpEnds: f.Warp().All})
}

// WrongShed reports whether the loom moves the shafts the opposite way from the draft.
// It is false if either shed is unstated.
func (f *Figures) WrongShed() (WrongShed, bool) {
	w := WrongShed{f.Draft.Shed, f.Setup.Loom.Shed}
	return w, movesOneWay(w.Draft) && movesOneWay(w.Loom) && w.Draft != w.Loom
}

func movesOneWay(s schema.Shed) bool { return s == schema.Rising || s == schema.Sinking }

// TooWide reports whether the warp is wider in the reed than the loom weaves.
func (f *Figures) TooWide() (TooWide, bool) {
	limit := f.Setup.Loom.WeavingWidth
	if limit <= 0 {
		return TooWide{}, false
	}
	width := f.Width()
	return TooWide{measure.Length(width.Value), limit}, width.Known && Over(width.Value, float64(limit))
}

// ReedTooShort reports whether the warp takes more dents than the reed has.
func (f *Figures) ReedTooShort() (ReedTooShort, bool) {
	have := f.reedDents()
	order, ok := f.Sleying()
	if !have.Known || !ok {
		return ReedTooShort{}, false // there is nothing to compare
	}
	ends := f.Warp().All
	r := ReedTooShort{ends, order.dentsFor(ends), int(have.Value)}
	return r, r.Needed > r.Dents
}

func (f *Figures) heddlesShort() HeddlesShort {
	var short HeddlesShort
	for _, h := range f.Heddles() {
		if h.Short > 0 {
			short.Shafts = append(short.Shafts, h)
		}
	}
	short.MovingIsEnough = f.MovingHeddlesSuffices()
	return short
}

// YarnsShort returns the yarns with too little stock, in the setup's order.
func (f *Figures) YarnsShort() []YarnShort {
	var list []YarnShort
	for _, u := range f.YarnUses() {
		if u.Short.Value > 0 {
			list = append(list, YarnShort{u, f.Setup.Yarns[u.Yarn].Name, f.items()})
		}
	}
	return list
}
