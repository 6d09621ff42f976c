package measure

import (
	"math"
	"strconv"

	"fettle/schema/wording"
)

// Cloth tells a length of cloth or of warp as a tape measure shows it: in
// centimetres to the millimetre, metres from three metres up; or in inches to a
// tenth, unless it is in whole quarters, and yards from three yards up.
func (u Units) Cloth(l Length) string {
	if u.Inches() {
		in := float64(l) / mmPerInch
		if a := math.Abs(in); a < 1 || a >= 108 || wholeNumber(4*in) {
			return u.Length(l)
		}
		return wording.Decimal(in, 1) + " in"
	}
	if a := math.Abs(float64(l)); a < 10 || a >= 3000 {
		return u.Length(l)
	}
	return wording.Decimal(float64(l)/10, 1) + " cm"
}

// Cloths tells lengths that stand below each other as Cloth does, but all in one
// unit, with as many decimals: centimetres, metres from ten up; or inches, and
// yards from ten up.
func (u Units) Cloths(list []Length) []string {
	longest := Length(0)
	for _, l := range list {
		longest = max(longest, l)
	}
	switch inches := u.Inches(); {
	case inches && longest >= 10*914.4:
		return inColumn(list, 914.4, " yd", 2)
	case inches && divides(list, 25.4/4) && !divides(list, 25.4):
		return inColumn(list, 25.4, " in", 2)
	case inches:
		return inColumn(list, 25.4, " in", 1)
	case longest >= 10_000:
		return inColumn(list, 1000, " m", 2)
	}
	return inColumn(list, 10, " cm", 1)
}

// divides says whether lengths are all whole multiples of a part.
func divides(list []Length, part Length) bool {
	for _, l := range list {
		if !wholeNumber(float64(l / part)) {
			return false
		}
	}
	return true
}

// Weights tells weights of yarn that stand below each other, all in one unit and
// rounded up: whole grams; or ounces to a tenth, and pounds to a hundredth from
// two up.
func (u Units) Weights(grams []float64) []string {
	heaviest := 0.0
	for _, g := range grams {
		heaviest = max(heaviest, g)
	}
	switch {
	case u&pounds == 0:
		return inColumn(upward(grams, 1), 1, " g", 0)
	case heaviest < 2*gramsPerPound:
		const ounce = gramsPerPound * poundsPerOunce
		return inColumn(upward(grams, ounce/10), ounce, " oz", 1)
	}
	return inColumn(upward(grams, gramsPerPound/100), gramsPerPound, " lb", 2)
}

// upward rounds up to whole steps.
func upward(list []float64, step float64) []float64 {
	up := make([]float64, len(list))
	for i, v := range list {
		up[i] = roundUp(v/step) * step
	}
	return up
}

// inColumn tells values in a unit with that many decimals, or without any where
// none has one.
func inColumn[T ~float64](list []T, unit T, name string, places int) []string {
	none := true
	pow := math.Pow10(places)
	for _, v := range list {
		none = none && math.Mod(math.Round(float64(v/unit)*pow), pow) == 0
	}
	if none {
		places = 0
	}
	told := make([]string, len(list))
	for i, v := range list {
		told[i] = strconv.FormatFloat(float64(v/unit), 'f', places, 64) + name
	}
	return told
}

// Sett tells a density as it is counted in cloth: to a tenth of a thread an
// inch, or to a hundredth a centimetre.
func (u Units) Sett(d Density) string {
	if u.PerInch() && d.PerInch() >= 1 {
		return wording.Decimal(d.PerInch(), 1) + "/in"
	}
	return u.Density(d)
}

// RoughSett tells a density that comes from a rule of thumb: to a thread an
// inch, or to a tenth a centimetre.
func (u Units) RoughSett(d Density) string {
	switch {
	case u.PerInch() && d.PerInch() >= 10:
		return wording.Decimal(d.PerInch(), 0) + "/in"
	case u.PerInch() || d < 1:
		return u.Sett(d)
	}
	return wording.Decimal(float64(d), 1) + "/cm"
}

// YarnNeeded tells metres of yarn that must be there, in whole metres or yards
// upward.
func (u Units) YarnNeeded(metres float64) string {
	return u.Long(roundUp(metres/u.long()) * u.long())
}

// YarnThere tells metres of yarn on the shelf, in whole metres or yards
// downward.
func (u Units) YarnThere(metres float64) string {
	return u.Long(roundDown(metres/u.long()) * u.long())
}

// YarnShort tells by how much what is there falls short of what is needed, as
// the two are told.
func (u Units) YarnShort(needed, there float64) string {
	return u.Long((roundUp(needed/u.long()) - roundDown(there/u.long())) * u.long())
}

// RoundedUp tells a length in whole centimetres or half inches upward.
func (u Units) RoundedUp(l Length) string {
	step := u.upwardStep()
	return u.Cloth(Length(roundUp(float64(l/step))) * step)
}

// upwardStep is what RoundedUp rounds up to.
func (u Units) upwardStep() Length {
	if u.Inches() {
		return Inch / 2
	}
	return 10
}

// long is the metres in the unit that yarn is told in.
func (u Units) long() float64 {
	if u.Inches() {
		return metresPerYard
	}
	return 1
}

// hair forgives what floating point adds to a whole number.
const hair = 1e-6

func roundUp(v float64) float64   { return math.Ceil(v - hair) }
func roundDown(v float64) float64 { return math.Floor(v + hair) }

func wholeNumber(v float64) bool { return math.Abs(v-math.Round(v)) <= hair }
