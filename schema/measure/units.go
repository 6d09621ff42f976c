// Package measure reads lengths, densities, yarn sizes and stocks of yarn as
// weavers write them, and writes them in a weaver's own units.
package measure

import (
	"fmt"
	"math"
	"strconv"

	"fettle/schema/wording"
)

// Length is a length in millimetres.
type Length float64

// Density is a number of threads or dents per centimetre.
type Density float64

// The international inch, foot and yard, exact by definition.
const (
	Inch Length = 25.4

	mmPerInch     = float64(Inch)
	mmPerFoot     = 12 * mmPerInch
	mmPerYard     = 3 * mmPerFoot
	metresPerYard = mmPerYard / 1000
)

// ByInch returns the density of n threads or dents per inch.
func ByInch(n float64) Density { return Density(n / (mmPerInch / 10)) }

// PerInch returns the threads or dents per inch.
func (d Density) PerInch() float64 { return float64(d) * (mmPerInch / 10) }

// Believable reports whether threads or dents can have this density: from one in
// a kilometre to a thousand in a millimetre.
func (d Density) Believable() bool { return d >= thinnest && d <= densest }

// Units are the units for lengths, densities and weights in messages. Lengths and
// densities are separate, because many weavers have an inch reed and measure their
// cloth in centimetres.
type Units uint8

const (
	inchLengths   Units = 1 << iota // lengths in inches and yards
	inchDensities                   // threads and dents per inch
	pounds                          // yarn in ounces and pounds

	Metric   Units = 0
	Imperial       = inchLengths | inchDensities
)

// UnitsOf returns units with lengths in inches or in centimetres, and densities
// per inch or per centimetre.
func UnitsOf(inches, perInch bool) Units {
	var u Units
	if inches {
		u |= inchLengths
	}
	if perInch {
		u |= inchDensities
	}
	return u
}

// InPounds returns the same units with yarn in ounces and pounds.
func (u Units) InPounds() Units { return u | pounds }

// Inches reports whether lengths are in inches and yards.
func (u Units) Inches() bool { return u&inchLengths != 0 }

// PerInch reports whether densities are per inch.
func (u Units) PerInch() bool { return u&inchDensities != 0 }

// Length writes a length in millimetres or centimetres, and in metres from 3 m;
// or in inches to a hundredth, and from 3 yd as Cloth does.
func (u Units) Length(l Length) string {
	mm := float64(l)
	if u.Inches() {
		if in := mm / mmPerInch; math.Abs(in) < yardsFrom {
			return wording.Decimal(in, 2) + " in"
		}
		return u.Cloth(l)
	}
	switch a := math.Abs(mm); {
	case a < 100:
		return wording.Decimal(mm, 1) + " mm"
	case a < 3000:
		return wording.Decimal(mm/10, 1) + " cm"
	}
	return wording.Decimal(mm/1000, 2) + " m"
}

// Long writes a length of yarn in whole metres or yards.
func (u Units) Long(metres float64) string {
	if u.Inches() {
		return wording.Decimal(metres/metresPerYard, 0) + " yd"
	}
	return wording.Decimal(metres, 0) + " m"
}

// Dents writes the density of a reed, in dents per 10 cm or per inch.
func (u Units) Dents(d Density) string {
	if u.PerInch() {
		return wording.Decimal(d.PerInch(), 2) + " dents to the inch"
	}
	return wording.Decimal(float64(d)*10, 2) + " dents to 10 cm"
}

// Density writes a density per centimetre or per inch.
func (u Units) Density(d Density) string {
	if u.PerInch() {
		return wording.Decimal(d.PerInch(), 2) + "/in"
	}
	return wording.Decimal(float64(d), 2) + "/cm"
}

// Limits of lengths (a thousand kilometres) and densities. They keep sums finite.
const (
	longest  = 1e9
	thinnest = 1e-5
	densest  = 1e4
)

// yardsFrom is the length in inches from which yards are written too.
const yardsFrom = 108

// OnTape rounds a length to the nearest mark of a tape: a millimetre, or an eighth of an
// inch. Cloth and Cloths write the result, so lengths that are rounded first add up as
// written.
func (u Units) OnTape(l Length) Length {
	step := u.tapeStep()
	return Length(math.Round(float64(l/step))) * step
}

func (u Units) tapeStep() Length {
	if u.Inches() {
		return Inch / 8
	}
	return 1
}

// Cloth writes a length of cloth as you read it from a tape: in centimetres to the
// millimetre, and in metres from 3 m; or in inches to an eighth, and from 3 yd in yards
// and inches too: 5 yd 34 1/2 in (214 1/2 in).
func (u Units) Cloth(l Length) string {
	l = u.OnTape(l)
	switch a := math.Abs(float64(l)); {
	case u.Inches() && a >= yardsFrom*mmPerInch:
		return yardText(l, 8)
	case u.Inches():
		return inchText(float64(l/Inch), 8)
	case a < 10:
		return wording.Decimal(float64(l), 0) + " mm"
	case a >= 3000:
		return wording.Decimal(float64(l)/1000, 3) + " m"
	}
	return wording.Decimal(float64(l)/10, 1) + " cm"
}

// Half writes exactly half of the length that Cloth writes.
func (u Units) Half(l Length) string {
	half := u.OnTape(l) / 2
	if u.Inches() {
		return inchText(float64(half/Inch), 16)
	}
	if math.Abs(float64(half)) < 10 {
		return wording.Decimal(float64(half), 1) + " mm"
	}
	return wording.Decimal(float64(half)/10, 2) + " cm"
}

// Cloths writes a column of lengths: in centimetres with the same decimals, or in
// inches to an eighth.
func (u Units) Cloths(list []Length) []string {
	decimals := 0
	for _, l := range list {
		if math.Mod(float64(Metric.OnTape(l)), 10) != 0 {
			decimals = 1
		}
	}
	column := make([]string, len(list))
	for i, l := range list {
		if u.Inches() {
			column[i] = inchText(float64(u.OnTape(l)/Inch), 8)
		} else {
			column[i] = strconv.FormatFloat(float64(u.OnTape(l)/10), 'f', decimals, 64) + " cm"
		}
	}
	return column
}

// Warp writes the length of a warp to wind, rounded up: in whole centimetres, and in
// metres from 3 m; or in inches to a quarter, and from a yard in yards and inches too:
// 2 yd 28 1/4 in (100 1/4 in).
func (u Units) Warp(l Length) string {
	if long := u.wound(l); u.Inches() && math.Abs(float64(long)) >= mmPerYard {
		return yardText(long, 4)
	}
	return u.WarpInRow(l)
}

// WarpInRow writes the same length as Warp, shorter: 3.05 m, or 100 1/4 in.
func (u Units) WarpInRow(l Length) string {
	long := u.wound(l)
	if u.Inches() {
		return inchText(float64(long/Inch), 4)
	}
	return u.Cloth(long)
}

// wound rounds the length of a warp up to a centimetre or a quarter of an inch.
func (u Units) wound(l Length) Length {
	step := Length(10)
	if u.Inches() {
		step = Inch / 4
	}
	return Length(roundUp(float64(l/step))) * step
}

// WeightScale is the unit for a column of yarn weights.
type WeightScale struct {
	grams, step float64 // grams per unit, and the step to which weights are rounded up
	name        string
	decimals    int
}

// Weights returns the unit for a column of yarn weights up to heaviest grams: whole grams,
// ounces to a tenth, or from 2 lb pounds to a hundredth.
func (u Units) Weights(heaviest float64) WeightScale {
	const ounce = gramsPerPound * poundsPerOunce
	switch {
	case u&pounds == 0:
		return WeightScale{1, 1, " g", 0}
	case heaviest < 2*gramsPerPound:
		return WeightScale{ounce, ounce / 10, " oz", 1}
	}
	return WeightScale{gramsPerPound, gramsPerPound / 100, " lb", 2}
}

// Sum writes the sum of some grams, each rounded up first, so that a column adds up as
// it is written.
func (s WeightScale) Sum(grams ...float64) string {
	return strconv.FormatFloat(sumUp(grams, s.step)/s.grams, 'f', s.decimals, 64) + s.name
}

// sumUp returns the sum of some numbers, each rounded up to a step first.
func sumUp(list []float64, step float64) float64 {
	sum := 0.0
	for _, v := range list {
		sum += roundUp(v / step)
	}
	return sum * step
}

// Sett writes a density as you would count it in cloth: to a tenth per inch, or to
// a hundredth per centimetre.
func (u Units) Sett(d Density) string {
	if u.PerInch() && d.PerInch() >= 1 {
		return wording.Decimal(d.PerInch(), 1) + "/in"
	}
	return u.Density(d)
}

// RoughSett writes a density that comes from a rule of thumb: in whole threads per
// inch, or to a tenth per centimetre.
func (u Units) RoughSett(d Density) string {
	switch {
	case u.PerInch() && d.PerInch() >= 10:
		return wording.Decimal(d.PerInch(), 0) + "/in"
	case u.PerInch() || d < 1:
		return u.Sett(d)
	}
	return wording.Decimal(float64(d), 1) + "/cm"
}

// YarnNeeded writes a length of yarn that you need in all: the sum of its parts, each
// rounded up to whole metres or yards, so that a column adds up as it is written.
func (u Units) YarnNeeded(metres ...float64) string { return u.Long(sumUp(metres, u.long())) }

// YarnThere writes a length of yarn that you have, rounded down to whole metres or
// yards.
func (u Units) YarnThere(metres float64) string {
	return u.Long(roundDown(metres/u.long()) * u.long())
}

// YarnShort writes how much yarn is missing: the difference of YarnNeeded and
// YarnThere as they are written.
func (u Units) YarnShort(there float64, needed ...float64) string {
	return u.Long(sumUp(needed, u.long()) - roundDown(there/u.long())*u.long())
}

// Shortest returns the length of at most l that takes the fewest digits to type and that
// fits: whole centimetres, then tenths and so on; or whole inches, then halves down to
// sixty-fourths, then thousandths. It returns l if none fits.
func (u Units) Shortest(l Length, fits func(Length) bool) Length {
	steps := []Length{10, 1, 0.1, 0.01, 1e-3, 1e-4, 1e-5}
	if u.Inches() {
		steps = []Length{Inch, Inch / 2, Inch / 4, Inch / 8, Inch / 16, Inch / 32, Inch / 64, Inch / 1e3, Inch / 1e4, Inch / 1e5, Inch / 1e6}
	}
	for _, step := range steps {
		if short := Length(roundDown(float64(l/step))) * step; short > 0 && fits(short) {
			return short
		}
	}
	return l
}

// Typed prints a length with all its digits, so that it can be typed back: 78.65 cm,
// or 30 5/16 in.
func (u Units) Typed(l Length) string {
	if !u.Inches() {
		return wording.Decimal(float64(l)/10, 6) + " cm"
	}
	if in := float64(l / Inch); nearlyWhole(64 * in) {
		return inchText(in, 64)
	}
	return wording.Decimal(float64(l/Inch), 6) + " in"
}

// yardText prints a length in yards and inches, and in inches alone: 5 yd 34 1/2 in
// (214 1/2 in).
func yardText(l Length, parts int) string {
	in := math.Round(float64(parts)*float64(l/Inch)) / float64(parts)
	yards := math.Trunc(in / 36)
	text := strconv.FormatFloat(yards, 'f', 0, 64) + " yd"
	if rest := math.Abs(in - 36*yards); rest > 0 {
		text += " " + inchText(rest, parts)
	}
	return text + " (" + inchText(in, parts) + ")"
}

// inchText prints inches, rounded to a fraction whose denominator is a power of 2:
// 34 1/2 in.
func inchText(in float64, parts int) string {
	n := int64(math.Round(math.Abs(in) * float64(parts)))
	over, under := n%int64(parts), int64(parts)
	for over > 0 && over%2 == 0 {
		over, under = over/2, under/2
	}
	sign, text := "", strconv.FormatInt(n/int64(parts), 10)
	if in < 0 && n > 0 {
		sign = "-"
	}
	switch {
	case over > 0 && n < int64(parts):
		text = fmt.Sprintf("%d/%d", over, under)
	case over > 0:
		text += fmt.Sprintf(" %d/%d", over, under)
	}
	return sign + text + " in"
}

// RoundedUp writes a length rounded up to whole centimetres or half inches.
func (u Units) RoundedUp(l Length) string {
	step := u.upwardStep()
	return u.Cloth(Length(roundUp(float64(l/step))) * step)
}

func (u Units) upwardStep() Length {
	if u.Inches() {
		return Inch / 2
	}
	return 10
}

// long returns the metres in the unit for lengths of yarn.
func (u Units) long() float64 {
	if u.Inches() {
		return metresPerYard
	}
	return 1
}

// tolerance allows for rounding in floating point.
const tolerance = 1e-6

func roundUp(v float64) float64   { return math.Ceil(v - tolerance) }
func roundDown(v float64) float64 { return math.Floor(v + tolerance) }

func nearlyWhole(v float64) bool { return math.Abs(v-math.Round(v)) <= tolerance }
