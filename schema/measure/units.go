// Package measure reads lengths, densities, yarn sizes and stocks of yarn as weavers
// write them, and prints them in a weaver's own units.
package measure

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"fettle/schema/wording"
)

// Length is a length in millimetres.
type Length float64

// Density is threads, or dents, per centimetre.
type Density float64

// Exact by definition: the international inch, foot and yard.
const (
	Inch Length = 25.4

	mmPerInch     = float64(Inch)
	mmPerFoot     = 12 * mmPerInch
	mmPerYard     = 3 * mmPerFoot
	metresPerYard = mmPerYard / 1000
)

// ByInch is so many threads or dents to the inch.
func ByInch(n float64) Density { return Density(n / (mmPerInch / 10)) }

// PerInch is the density per inch.
func (d Density) PerInch() float64 { return float64(d) * (mmPerInch / 10) }

// Believable says whether threads or dents can lie so: from one in a kilometre
// to a thousand in a millimetre.
func (d Density) Believable() bool { return d >= thinnest && d <= densest }

// Units says which units lengths and densities are told in. Many weavers have an
// inch reed and measure their cloth in centimetres, so the two are apart.
type Units uint8

const (
	inchLengths   Units = 1 << iota // lengths in inches and yards
	inchDensities                   // threads and dents to the inch
	pounds                          // yarn is weighed in ounces and pounds

	Metric   Units = 0
	Imperial       = inchLengths | inchDensities
)

// UnitsOf is the units for lengths in inches or not, and for densities per inch
// or not.
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

// InPounds is the same with yarn weighed in ounces and pounds.
func (u Units) InPounds() Units { return u | pounds }

// Inches says whether lengths are told in inches and yards.
func (u Units) Inches() bool { return u&inchLengths != 0 }

// PerInch says whether threads and dents are told to the inch.
func (u Units) PerInch() bool { return u&inchDensities != 0 }

// Length tells a length in millimetres or centimetres, metres from three
// metres up; or in inches, and yards from three yards up.
func (u Units) Length(l Length) string {
	mm := float64(l)
	if u.Inches() {
		if in := mm / mmPerInch; math.Abs(in) < 108 {
			return wording.Decimal(in, 2) + " in"
		}
		return wording.Decimal(mm/mmPerYard, 2) + " yd"
	}
	switch a := math.Abs(mm); {
	case a < 100:
		return wording.Decimal(mm, 1) + " mm"
	case a < 3000:
		return wording.Decimal(mm/10, 1) + " cm"
	}
	return wording.Decimal(mm/1000, 2) + " m"
}

// Long tells a length of yarn in metres or yards.
func (u Units) Long(metres float64) string {
	if u.Inches() {
		return wording.Decimal(metres/metresPerYard, 0) + " yd"
	}
	return wording.Decimal(metres, 0) + " m"
}

// Dents tells how many dents a reed has; reeds are counted in 10 cm, or in an
// inch.
func (u Units) Dents(d Density) string {
	if u.PerInch() {
		return wording.Decimal(d.PerInch(), 2) + " dents to the inch"
	}
	return wording.Decimal(float64(d)*10, 2) + " dents to 10 cm"
}

// Density tells a density per centimetre or per inch.
func (u Units) Density(d Density) string {
	if u.PerInch() {
		return wording.Decimal(d.PerInch(), 2) + "/in"
	}
	return wording.Decimal(float64(d), 2) + "/cm"
}

// Bounds of what a length (a thousand kilometres) or a density can be, so that
// sums stay sums.
const (
	longest  = 1e9
	thinnest = 1e-5
	densest  = 1e4
)

var lengthUnits = map[string]float64{
	"mm": 1, "cm": 10, "m": 1000, "km": 1e6, "in": mmPerInch, "inch": mmPerInch, "inches": mmPerInch,
	`"`: mmPerInch, "″": mmPerInch, "”": mmPerInch, "ft": mmPerFoot, "foot": mmPerFoot, "feet": mmPerFoot,
	"'": mmPerFoot, "′": mmPerFoot, "’": mmPerFoot, "yd": mmPerYard, "yds": mmPerYard, "yard": mmPerYard, "yards": mmPerYard,
	"millimetre": 1, "millimetres": 1, "millimeter": 1, "millimeters": 1, "centimetre": 10, "centimetres": 10, "centimeter": 10, "centimeters": 10,
	"metre": 1000, "metres": 1000, "meter": 1000, "meters": 1000, "kilometre": 1e6, "kilometres": 1e6, "kilometer": 1e6, "kilometers": 1e6,
}

func lengthUnit(name string) (mm float64, ok bool) {
	mm, ok = lengthUnits[name]
	return mm, ok
}

// ParseLength reads a length such as 110 cm, 2.4 m, 2,4 m, 12 mm, 43 in, 43", 3 yd,
// 1 1/2 yd, 5 ft 2 in. A plain 0 needs no unit. Negative lengths are refused.
func ParseLength(s string) (Length, error) {
	p, err := readWords(s)
	if err != nil {
		return 0, err
	}
	if bare := *p; bare.zero() {
		return 0, nil
	}
	mm, of := p.measure(lengthUnit)
	switch {
	case of == noNumber:
		return 0, fmt.Errorf("%s is not a length like 110 cm, 2.4 m or 43 in", wording.Quote(s))
	case of == noUnit:
		return 0, fmt.Errorf("%s needs a unit: mm, cm, m, in, ft or yd", wording.Quote(s))
	case mm > longest:
		return 0, fmt.Errorf("%s is too long: 1000 km is the most", wording.Quote(s))
	}
	return Length(mm), nil
}

// InInches says whether a length or density as written is in inches, feet or
// yards.
func InInches(s string) bool {
	s = strings.ToLower(s)
	if strings.ContainsAny(s, inchSigns) {
		return true
	}
	for _, f := range strings.FieldsFunc(s, func(r rune) bool { return r < 'a' || r > 'z' }) {
		switch f {
		case "in", "inch", "inches", "ft", "foot", "feet", "yd", "yds", "yard", "yards", "epi", "ppi", "dpi":
			return true
		}
	}
	return false
}

// inchSigns are what stands for inches and feet beside words.
const inchSigns = "\"″”'′’"

// ParseDensity reads threads or dents in a length: 20/in, 8/cm, 50/10cm, 20 epi,
// 18 ppi, 10 dpi, 10 dents per inch.
func ParseDensity(s string) (Density, error) {
	n, rest, err := quantity(s)
	if ambiguous(err) {
		return 0, err
	}
	per, ok := perLength(rest)
	l, wrong := ParseLength(per)
	switch {
	case err == nil && n > 0 && rest == "":
		return 0, fmt.Errorf("%s does not say in which length: write %[2]s/in, %[2]s/cm or %[2]s/10cm", wording.Quote(s), wording.Plain(strings.TrimSpace(s), 60))
	case err != nil, n <= 0, !ok, wrong != nil, l <= 0:
		return 0, fmt.Errorf("%s is not a density like 20/in, 20 epi, 8/cm or 50/10cm", wording.Quote(s))
	}
	d := Density(n / float64(l) * 10)
	if !d.Believable() {
		return 0, fmt.Errorf("%s is no density of threads or dents: it makes %s/cm, and 10000/cm is the most", wording.Quote(s), significant(float64(d)))
	}
	return d, nil
}

// perLength is the length that a density is in, given what stands behind its
// number: "/in", "epi", "dents per inch", "ends/10 cm".
func perLength(s string) (length string, ok bool) {
	switch s {
	case "epi", "ppi", "dpi":
		return "1 in", true
	}
	what, per, ok := strings.Cut(strings.Replace(s, "per ", "/", 1), "/")
	switch strings.TrimSpace(what) {
	case "", "end", "ends", "pick", "picks", "dent", "dents", "thread", "threads", "heddle", "heddles":
	default:
		return "", false
	}
	per = strings.TrimSpace(per)
	if per != "" && (per[0] < '0' || per[0] > '9') {
		per = "1 " + per
	}
	return per, ok
}

// ParsePercent reads 10 %, 10%, 10 percent or 10 per cent as 0.1. A fraction of 1 or more, and a
// negative one, is refused.
func ParsePercent(s string) (float64, error) {
	v, unit, err := quantity(s)
	if ambiguous(err) {
		return 0, err
	}
	sign := unit == "%" || unit == "percent" || unit == "per cent"
	if err != nil || v < 0 || v >= 100 || !sign && (unit != "" || v != 0) {
		return 0, fmt.Errorf("%s is not a percentage from 0 %% to under 100 %%, like 10 %%", wording.Quote(s))
	}
	return v / 100, nil
}

// Number reads a decimal number with a point. Signs apart from a leading
// minus, exponents, infinities and the like are refused.
func Number(s string) (float64, error) {
	digits := 0
	for i, r := range s {
		switch {
		case r >= '0' && r <= '9':
			digits++
		case r == '.', r == '-' && i == 0:
		default:
			return 0, fmt.Errorf("%s is not a number", wording.Quote(s))
		}
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || digits == 0 || math.IsInf(v, 0) {
		return 0, fmt.Errorf("%s is not a number", wording.Quote(s))
	}
	return v, nil
}

// twoReadings is the error for a number with a comma that may stand for the
// decimal point, or between thousands.
type twoReadings struct{ text string }

func (e twoReadings) Error() string {
	return fmt.Sprintf("%s can be read in two ways: write %s for a decimal, or %s for thousands",
		wording.Quote(e.text), wording.Plain(strings.Replace(e.text, ",", ".", 1), 60), wording.Plain(strings.Replace(e.text, ",", "", 1), 60))
}

func ambiguous(err error) bool { return errors.As(err, &twoReadings{}) }

// weaverNumber reads a number as a weaver writes it, with a point or a comma before
// the decimals. A comma with just three figures behind it is refused, unless
// nothing but a 0 stands before it. whole is the value that the number begins.
func weaverNumber(s, whole string) (float64, error) {
	before, after, comma := strings.Cut(s, ",")
	switch {
	case !comma:
		return Number(s)
	case len(after) == 3 && before != "0" && !strings.Contains(s, "."):
		if _, err := Number(before + after); err == nil {
			return 0, twoReadings{whole}
		}
	case before == "" || after == "" || strings.Contains(before, "."):
		return 0, fmt.Errorf("%s is not a number", wording.Quote(s))
	}
	return Number(before + "." + after)
}

// quantity splits a number from the unit behind it.
func quantity(s string) (value float64, unit string, err error) {
	s = strings.TrimSpace(s)
	i := strings.IndexFunc(s, func(r rune) bool { return (r < '0' || r > '9') && r != '.' && r != ',' && r != '-' })
	if i < 0 {
		i = len(s)
	}
	value, err = weaverNumber(s[:i], s)
	return value, strings.ToLower(strings.TrimSpace(s[i:])), err
}
