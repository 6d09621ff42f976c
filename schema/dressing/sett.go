package dressing

import (
	"fettle/schema"
	"fettle/schema/measure"
)

// Spacing is how closely threads lie, and where that was stated. The zero
// value is unknown.
type Spacing struct {
	Density   measure.Density
	FromDraft bool // by the draft's own spacing, not by the project
	Uneven    bool // the draft's spacings differ, and this is their mean
}

// Known says whether the spacing is known.
func (s Spacing) Known() bool { return s.Density > 0 }

// Sett is the project's sett, else the draft's warp spacing.
func Sett(d *schema.Draft, s *schema.Setup) Spacing {
	return spacing(s.Project.Sett, &d.Warp, d.Ends())
}

// Picks is the project's picks, else the draft's weft spacing.
func Picks(d *schema.Draft, s *schema.Setup) Spacing {
	return spacing(s.Project.Picks, &d.Weft, d.Picks())
}

func spacing(project measure.Density, system *schema.System, threads int) Spacing {
	if project > 0 {
		return Spacing{Density: project}
	}
	mm, even := system.MeanSpacing(threads)
	density := measure.Density(10 / mm)
	if !density.Believable() {
		return Spacing{}
	}
	return Spacing{Density: density, FromDraft: true, Uneven: !even}
}

// Sleyed is the sett the warp has in the reed: that of the sleying where the
// reed in use is known, else the sett itself; 0 where the sett is unknown.
func Sleyed(d *schema.Draft, s *schema.Setup) measure.Density {
	sett := Sett(d, s).Density
	if order, ok := SleyIn(s.Reeds, sett); ok {
		return order.Sett()
	}
	return sett
}

// Width is the whole warp's width in the reed in millimetres.
func Width(d *schema.Draft, s *schema.Setup) Figure {
	w, err := WarpOf(d, s)
	if err != nil || w.All == 0 {
		return Figure{}
	}
	return widthOf(w.All, Sleyed(d, s))
}

func widthOf(ends int, sleyed measure.Density) Figure {
	if sleyed <= 0 {
		return Figure{}
	}
	return known(float64(ends) / float64(sleyed) * 10)
}

// finishedWidth is what a width in the reed comes to off the loom and washed.
func finishedWidth(s *schema.Setup, inReed Figure) Figure {
	return inReed.scaled((1 - s.Project.DrawIn) * (1 - s.Project.ShrinkageWeft))
}
