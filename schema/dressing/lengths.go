package dressing

import (
	"fettle/schema"
	"fettle/schema/measure"
)

// Lengths holds the width and length of the work, and its yarn. Lengths are in
// millimetres, those of yarn in metres.
type Lengths struct {
	Width         Figure // of the warp in the reed
	FinishedWidth Figure // off the loom, after washing
	Woven         Figure // without tension
	Warp          Figure // to wind for the main warp
	WarpYarn      Figure // metres, for all ends of all warps
	PicksWoven    Figure // rounded up to whole picks
	PickYarn      Figure // metres, for one pick
	WeftYarn      Figure // metres
	LashingCord   Figure
}

// lashing returns the cord needed to tie the warp on: three times its width, and ten
// centimetres for the knots.
const lashingTimes, lashingMore = 3, 100

// Lengths returns every length that follows from what was stated. Lengths and
// percentages that were not stated count as 0; Plan.Unstated lists them.
//
//	width in reed  = ends ÷ sleyed sett
//	woven length   = the sum of the parts, each its finished length ÷ (1 − shrinkage warp)
//	warp length    = woven length ÷ (1 − take-up) + items × fringe + re-tie + loom waste
//	finished width = width in reed × (1 − draw-in) × (1 − shrinkage weft)
//	weft           = picks × width in reed × (1 + weft take-up)
func (f *Figures) Lengths() Lengths { return f.lengths.get(f.computeLengths) }

func (f *Figures) computeLengths() Lengths {
	p, w := &f.Setup.Project, f.parts()
	l := Lengths{Width: f.Width(), Woven: w.woven(), PicksWoven: w.picks(), Warp: f.Warps()[0].Length}
	l.FinishedWidth = finishedWidth(p, l.Width)
	if l.LashingCord = l.Width.scaled(lashingTimes); l.LashingCord.Known {
		l.LashingCord.Value += lashingMore
	}
	if _, refused := f.TooManyEnds(); !refused {
		l.WarpYarn = known(0)
		for _, set := range f.Warps() {
			l.WarpYarn = l.WarpYarn.plus(set.Length.scaled(float64(set.Ends) / 1000))
		}
	}
	l.PickYarn = l.Width.scaled((1 + p.WeftTakeUp) / 1000)
	l.WeftYarn = l.PicksWoven.times(l.Width).scaled((1 + p.WeftTakeUp) / 1000)
	return l
}

// Sleyed returns the sett of the warp in the reed: that of the sleying if a reed is
// known, otherwise the sett itself, or 0 if that is unknown.
func (f *Figures) Sleyed() measure.Density {
	if order, ok := f.Sleying(); ok {
		return order.Sett()
	}
	return f.Sett().Density
}

// layerSetts returns the sett in the reed of each layer of a cloth with several layers,
// the top one first, in ends per centimetre. Loose threads are in no layer.
func (f *Figures) layerSetts() []Figure {
	if f.Cloth().TooLarge() || f.Cloth().Layers() < 2 {
		return nil
	}
	var list []Figure
	for _, ends := range f.Cloth().LayerEnds() {
		list = append(list, density(f.Sleyed()).scaled(float64(ends)/float64(f.Draft.Ends())))
	}
	return list
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

// finishedPicks returns the length of some picks in finished cloth.
func (f *Figures) finishedPicks(picks int) Figure {
	each := f.picksPerMm()
	if !each.Known || picks == 0 {
		return Figure{}
	}
	return known(float64(picks) / each.Value * (1 - f.Setup.Project.ShrinkageWarp))
}

// items returns how many items the warp is for; the default is one.
func (f *Figures) items() int { return max(f.Setup.Project.Items, 1) }

// warpLength returns the warp to wind for some parts. Take-up doesn't apply to a fringe,
// because it isn't woven.
func (f *Figures) warpLength(set *WarpSet, w parts) Figure {
	more := known(float64(w.items)*float64(f.Setup.Project.Fringe) + float64(f.reTie()) + set.waste)
	return w.woven().scaled(1 / (1 - set.takeUp)).plus(more)
}

// reTie returns the warp needed to tie on again, 0 if no sample is cut off.
func (f *Figures) reTie() measure.Length {
	p := &f.Setup.Project
	switch {
	case !p.CutOffSample || p.Sample <= 0:
		return 0
	case p.ReTie > 0 || f.Setup.Has("project.re-tie"):
		return p.ReTie
	}
	return schema.DefaultReTie
}
