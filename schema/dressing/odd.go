package dressing

import (
	"strings"

	"fettle/schema"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

// Odd is a spacing of a draft that no handwoven cloth has, and what was most likely
// meant: a sett typed in its place, or a number in another unit.
type Odd struct {
	Value float64 // as the draft has it, in its own unit
	MM    float64 // the same in millimetres
	Meant []Reading
}

// Reading is what a number may have been meant to be.
type Reading struct {
	Text string  // "8 to the centimetre"
	MM   float64 // the spacing that it comes to
}

// OddSpacing returns the odd spacing of a system of the draft; ok is false where
// its spacing is believed, or unstated.
func OddSpacing(d *schema.Draft, name schema.SystemName) (odd Odd, ok bool) {
	s, threads := d.Of(name), d.Ends()
	if name == schema.Weft {
		threads = d.Picks()
	}
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
		return Odd{}, false
	}
	return Odd{value, value * unit, readings(value, s.Unit)}, true
}

// Threads to the inch that are usual in handweaving. A number typed in the wrong
// unit is believed only where it then is no coarser than most cloth. Common
// practice, no source.
const (
	fewestUsual, fewestInOtherUnit, mostUsual = 2, 6, 60
)

// readings are what a number in a unit may have been meant to be, where that is
// usual: with one slip, a sett by that unit or a spacing in millimetres,
// centimetres or inches; only where there is none, a spacing in decipoints or a
// sett by another unit.
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

// Text lists what may have been meant, "" where nothing is likely.
func (o Odd) Text() string {
	var words []string
	for _, r := range o.Meant {
		words = append(words, r.Text)
	}
	return strings.Join(words, " or ")
}
