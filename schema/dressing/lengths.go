package dressing

import "fettle/schema"

// Lengths is how wide and how long the work is, and the yarn in it. Lengths are
// in millimetres, those of yarn in metres.
type Lengths struct {
	Width         Figure // of the warp in the reed
	FinishedWidth Figure // off the loom and washed
	Woven         Figure // with the tension released
	Warp          Figure // to wind
	WarpYarn      Figure // metres, all ends
	PicksWoven    Figure // whole ones
	WeftYarn      Figure // metres
	LashingCord   Figure
}

// lashing is the cord that ties the warp on: three times its width and ten
// centimetres for the knots.
const lashingTimes, lashingMore = 3, 100

// lengthsOf works out every length that what was stated allows. Lengths and
// percentages that were not stated count as 0; Cautions tells which.
//
//	width in reed  = ends ÷ sleyed sett
//	woven length   = (items × (finished length + hem) + sample) ÷ (1 − shrinkage warp)
//	warp length    = (woven length + items × fringe) ÷ (1 − take-up) + loom waste
//	finished width = width in reed × (1 − draw-in) × (1 − shrinkage weft)
//	weft           = picks × width in reed × (1 + weft take-up)
func lengthsOf(d *schema.Draft, s *schema.Setup) Lengths {
	p := &s.Project
	width := Width(d, s)
	l := Lengths{
		Width:         width,
		FinishedWidth: finishedWidth(s, width),
		LashingCord:   width.scaled(lashingTimes),
		Woven:         woven(p),
		PicksWoven:    PicksWoven(d, s),
	}
	if l.LashingCord.Known {
		l.LashingCord.Value += lashingMore
	}
	l.Warp = warpLength(p, l.Woven)
	if w, err := WarpOf(d, s); err == nil {
		l.WarpYarn = l.Warp.scaled(float64(w.All) / 1000)
	}
	l.WeftYarn = weftYarn(p, l.PicksWoven, width)
	return l
}

// PicksWoven is how many picks the woven length takes, rounded up.
func PicksWoven(d *schema.Draft, s *schema.Setup) Figure {
	picks := woven(&s.Project).times(picksPerMm(d, s))
	if picks.Known {
		picks.Value = whole(picks.Value)
	}
	return picks
}

// finishedPicks is how much finished cloth so many picks give.
func finishedPicks(d *schema.Draft, s *schema.Setup, picks int) Figure {
	each := picksPerMm(d, s)
	if !each.Known || picks == 0 {
		return Figure{}
	}
	return known(float64(picks) / each.Value * (1 - s.Project.ShrinkageWarp))
}

func picksPerMm(d *schema.Draft, s *schema.Setup) Figure {
	if spacing := Picks(d, s); spacing.Known() {
		return known(float64(spacing.Density) / 10)
	}
	return Figure{}
}

// Items is how many items the warp is for, one where that was not stated.
func Items(p *schema.Project) int { return max(p.Items, 1) }

func woven(p *schema.Project) Figure {
	if p.FinishedLength <= 0 {
		return Figure{}
	}
	cloth := float64(Items(p))*float64(p.FinishedLength+p.Hem) + float64(p.Sample)
	return known(cloth / (1 - p.ShrinkageWarp))
}

func warpLength(p *schema.Project, woven Figure) Figure {
	if !woven.Known {
		return Figure{}
	}
	onLoom := woven.Value + float64(Items(p))*float64(p.Fringe)
	return known(onLoom/(1-p.TakeUp) + float64(p.LoomWaste))
}

// weftYarn is in metres.
func weftYarn(p *schema.Project, picks, width Figure) Figure {
	return picks.times(width).scaled((1 + p.WeftTakeUp) / 1000)
}
