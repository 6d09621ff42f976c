package schema

import "math"

// Cloth tells a length of cloth or of warp as a tape measure shows it: in
// centimetres to the millimetre, metres from three metres up; or in inches to a
// tenth, unless it is in whole quarters, and yards from three yards up.
func (u Units) Cloth(l Length) string {
	if u.Inches() {
		in := float64(l) / mmPerInch
		if a := math.Abs(in); a < 1 || a >= 108 || wholeNumber(4*in) {
			return u.Length(l)
		}
		return Decimal(in, 1) + " in"
	}
	if a := math.Abs(float64(l)); a < 10 || a >= 3000 {
		return u.Length(l)
	}
	return Decimal(float64(l)/10, 1) + " cm"
}

// Sett tells a density as it is counted in cloth: to a tenth of a thread an
// inch, or to a hundredth a centimetre.
func (u Units) Sett(d Density) string {
	if u.PerInch() && d.PerInch() >= 1 {
		return Decimal(d.PerInch(), 1) + "/in"
	}
	return u.Density(d)
}

// RoughSett tells a density that comes from a rule of thumb: to a thread an
// inch, or to a tenth a centimetre.
func (u Units) RoughSett(d Density) string {
	switch {
	case u.PerInch() && d.PerInch() >= 10:
		return Decimal(d.PerInch(), 0) + "/in"
	case u.PerInch() || d < 1:
		return u.Sett(d)
	}
	return Decimal(float64(d), 1) + "/cm"
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

// YarnWeight tells grams of yarn that must be there, in whole ones upward.
func YarnWeight(grams float64) string { return Decimal(roundUp(grams), 0) + " g" }

// RoundedUp tells a length in whole centimetres or half inches upward.
func (u Units) RoundedUp(l Length) string {
	step := u.upwardStep()
	return u.Cloth(Length(roundUp(float64(l/step))) * step)
}

// upwardStep is what RoundedUp rounds up to.
func (u Units) upwardStep() Length {
	if u.Inches() {
		return mmPerInch / 2
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
