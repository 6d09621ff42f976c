package dressing

import (
	"fettle/schema"
	"fettle/schema/measure"
)

// Lengths is how wide and how long the work is, and the yarn in it. Lengths are
// in millimetres, those of yarn in metres.
type Lengths struct {
	Width         Figure // of the warp in the reed
	FinishedWidth Figure // off the loom and washed
	Woven         Figure // with the tension released
	Warp          Figure // to wind
	WarpYarn      Figure // metres, all ends
	PicksWoven    Figure // whole ones
	PickYarn      Figure // metres, one pick
	WeftYarn      Figure // metres
	LashingCord   Figure
}

// lashing is the cord that ties the warp on: three times its width and ten
// centimetres for the knots.
const lashingTimes, lashingMore = 3, 100

// Lengths returns every length that follows from what was stated. Lengths and
// percentages that were not stated count as 0; Cautions lists which.
//
//	width in reed  = ends ÷ sleyed sett
//	woven length   = the sum of the parts, each its finished length ÷ (1 − shrinkage warp)
//	warp length    = woven length ÷ (1 − take-up) + items × fringe + re-tie + loom waste
//	finished width = width in reed × (1 − draw-in) × (1 − shrinkage weft)
//	weft           = picks × width in reed × (1 + weft take-up)
func (f *Figures) Lengths() Lengths { return f.lengths.get(f.computeLengths) }

func (f *Figures) computeLengths() Lengths {
	p, w := &f.Setup.Project, f.parts()
	l := Lengths{Width: f.Width(), Woven: w.woven(), PicksWoven: w.picks(), Warp: f.warpLength(w)}
	l.FinishedWidth = finishedWidth(p, l.Width)
	if l.LashingCord = l.Width.scaled(lashingTimes); l.LashingCord.Known {
		l.LashingCord.Value += lashingMore
	}
	if _, refused := f.TooManyEnds(); !refused {
		l.WarpYarn = l.Warp.scaled(float64(f.Warp().All) / 1000)
	}
	l.PickYarn = l.Width.scaled((1 + p.WeftTakeUp) / 1000)
	l.WeftYarn = l.PicksWoven.times(l.Width).scaled((1 + p.WeftTakeUp) / 1000)
	return l
}

// Sleyed returns the sett the warp has in the reed: that of the sleying where the
// reed in use is known, otherwise the sett itself; 0 where the sett is unknown.
func (f *Figures) Sleyed() measure.Density {
	if order, ok := f.Sleying(); ok {
		return order.Sett()
	}
	return f.Sett().Density
}

// Width returns the whole warp's width in the reed in millimetres.
func (f *Figures) Width() Figure {
	if w := f.Warp(); w.All > 0 {
		return widthOf(w.All, f.Sleyed())
	}
	return Figure{}
}

func widthOf(ends int, sleyed measure.Density) Figure {
	if sleyed <= 0 {
		return Figure{}
	}
	return known(float64(ends) / float64(sleyed) * 10)
}

func finishedWidth(p *schema.Project, inReed Figure) Figure {
	return inReed.scaled((1 - p.DrawIn) * (1 - p.ShrinkageWeft))
}

func (f *Figures) picksPerMm() Figure {
	if spacing := f.Picks(); spacing.Known() {
		return known(float64(spacing.Density) / 10)
	}
	return Figure{}
}

// finishedPicks returns how much finished cloth so many picks give.
func (f *Figures) finishedPicks(picks int) Figure {
	each := f.picksPerMm()
	if !each.Known || picks == 0 {
		return Figure{}
	}
	return known(float64(picks) / each.Value * (1 - f.Setup.Project.ShrinkageWarp))
}

// Items returns how many items the warp is for, one where that was not stated.
func (f *Figures) Items() int { return max(f.Setup.Project.Items, 1) }

// warpLength returns the warp to wind for some parts. A fringe is never woven, so no
// take-up applies to it.
func (f *Figures) warpLength(w parts) Figure {
	p := &f.Setup.Project
	more := known(float64(w.items)*float64(p.Fringe) + float64(f.ReTie()) + float64(p.LoomWaste))
	return w.woven().scaled(1 / (1 - p.TakeUp)).plus(more)
}

// ReTie returns the warp that tying on again takes, 0 where no sample is cut off.
func (f *Figures) ReTie() measure.Length {
	p := &f.Setup.Project
	switch {
	case !p.CutOffSample || p.Sample <= 0:
		return 0
	case p.ReTie > 0 || f.Setup.Has("project.re-tie"):
		return p.ReTie
	}
	return schema.DefaultReTie
}
