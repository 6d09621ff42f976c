package dressing

import (
	"strings"

	"fettle/schema"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

// Spacing is the density of threads and its origin. The zero value is unknown.
type Spacing struct {
	Density   measure.Density
	FromDraft bool // from the draft's own spacing, not from the project
	Uneven    bool // the draft's spacings differ, and this is the mean
}

func (s Spacing) Known() bool { return s.Density > 0 }

// Sett returns the project's sett, or the draft's warp spacing if the project has none.
func (f *Figures) Sett() Spacing { return f.sett.get(f.computeSett) }

func (f *Figures) computeSett() Spacing {
	return spacing(f.Setup.Project.Sett, &f.Draft.Warp, f.Draft.Ends())
}

// Picks returns the project's picks, or the draft's weft spacing if the project has
// none.
func (f *Figures) Picks() Spacing { return f.picks.get(f.computePicks) }

func (f *Figures) computePicks() Spacing {
	return spacing(f.Setup.Project.Picks, &f.Draft.Weft, f.Draft.Picks())
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

// OddSpacing is a spacing that no handwoven cloth has, with its most likely
// meanings: a sett in its place, or a number in another unit.
type OddSpacing struct {
	System schema.SystemName
	Value  float64 // as the draft has it, in its own unit
	MM     float64 // the same in millimetres
	Meant  []Reading
}

// Reading is a possible meaning of a number.
type Reading struct {
	Text string  // "8 to the centimetre"
	MM   float64 // the spacing that it gives
}

// OddSpacings returns the odd spacings of the draft, the warp's first. Believable and
// unstated spacings aren't odd.
func (f *Figures) OddSpacings() []OddSpacing {
	var list []OddSpacing
	for _, name := range []schema.SystemName{schema.Warp, schema.Weft} {
		if odd, ok := oddSpacing(f.Draft.Of(name), f.Draft.Threads(name)); ok {
			odd.System = name
			list = append(list, odd)
		}
	}
	return list
}

func oddSpacing(s *schema.System, threads int) (odd OddSpacing, ok bool) {
	unit := s.Unit.Millimetres()
	value := s.Spacing
	if value == 0 && len(s.Spacings) >= threads && threads > 0 {
		sum := 0.0
		for _, v := range s.Spacings[:threads] {
			sum += v
		}
		value = sum / float64(threads)
	}
	if value <= 0 || schema.BelievableSpacing(value*unit) {
		return OddSpacing{}, false
	}
	return OddSpacing{Value: value, MM: value * unit, Meant: readings(value, s.Unit)}, true
}

// The usual range of threads per inch in handwoven cloth. fettle suggests another unit
// for a number only if that gives a spacing in this range. Common practice, no source.
const (
	fewestUsual, fewestInOtherUnit, mostUsual = 2, 6, 60
)

// readings returns possible meanings of a number that give a usual spacing: a sett in the
// same unit, or a spacing in millimetres, centimetres or inches. If there are none, it
// tries decipoints and a sett in another unit.
func readings(value float64, stated schema.Unit) []Reading {
	number := wording.Decimal(value, 6)
	var list []Reading
	try := func(text string, mm, fewest float64) {
		if perInch := measure.Density(10 / mm).PerInch(); perInch >= fewest && perInch <= mostUsual {
			list = append(list, Reading{number + " " + text, mm})
		}
	}
	centimetre, inch := schema.Centimetres.Millimetres(), schema.Inches.Millimetres()
	sett := func(by bool) {
		if (stated == schema.Centimetres) == by {
			try("to the centimetre", centimetre/value, fewestUsual)
		}
		if (stated == schema.Inches) == by {
			try("to the inch", inch/value, fewestUsual)
		}
	}
	sett(true)
	try("mm", value, fewestInOtherUnit)
	if stated != schema.Centimetres {
		try("cm", value*centimetre, fewestInOtherUnit)
	}
	if stated != schema.Inches {
		try("in", value*inch, fewestInOtherUnit)
	}
	if len(list) == 0 {
		try("decipoints", value*schema.Decipoints.Millimetres(), fewestInOtherUnit)
		sett(false)
	}
	return list
}

// Text lists the possible meanings, "" if none is likely.
func (o OddSpacing) Text() string {
	var words []string
	for _, r := range o.Meant {
		words = append(words, r.Text)
	}
	return strings.Join(words, " or ")
}
