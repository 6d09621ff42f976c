package measure

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"fettle/schema/wording"
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
// 1 1/2 yd, 5 ft 2 in. A 0 needs no unit. A negative length is an error.
func ParseLength(s string) (Length, error) {
	p, err := readWords(s)
	if err != nil {
		return 0, err
	}
	if bare := *p; bare.zero() {
		return 0, nil
	}
	mm, of := p.amounts(lengthUnit)
	switch {
	case of == noNumber:
		return 0, fmt.Errorf("%s isn't a length like 110 cm, 2.4 m or 43 in", wording.Quote(s))
	case of == noUnit:
		return 0, fmt.Errorf("%s needs a unit: mm, cm, m, in, ft or yd", wording.Quote(s))
	case mm > longest:
		return 0, fmt.Errorf("%s is too long; the limit is 1000 km", wording.Quote(s))
	}
	return Length(mm), nil
}

// InInches reports whether a length or density is written in inches, feet or
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

const inchSigns = "\"″”'′’"

// ParseDensity reads threads or dents in a length: 20/in, 8/cm, 50/10cm, 20 epi,
// 18 ppi, 10 dpi, 10 dents per inch, 10 dents to the inch.
func ParseDensity(s string) (Density, error) {
	n, rest, err := quantity(s)
	if ambiguous(err) {
		return 0, err
	}
	per, ok := perLength(rest)
	l, wrong := ParseLength(per)
	switch {
	case err == nil && n > 0 && rest == "":
		return 0, fmt.Errorf("%s needs a unit: write %[2]s/in, %[2]s/cm or %[2]s/10cm", wording.Quote(s), wording.Plain(strings.TrimSpace(s), 60))
	case err != nil, n <= 0, !ok, wrong != nil, l <= 0:
		return 0, fmt.Errorf("%s isn't a density like 20/in, 20 epi, 8/cm or 50/10cm", wording.Quote(s))
	}
	d := Density(n / float64(l) * 10)
	if !d.Believable() {
		return 0, fmt.Errorf("%s is outside the range of threads or dents: it comes to %s/cm; the limits are 0.00001/cm and 10000/cm", wording.Quote(s), significant(float64(d)))
	}
	return d, nil
}

// perWords are the ways to write the stroke of a density in words.
var perWords = []string{"per ", "to the ", "to an ", "an "}

// perLength returns the length in a density's unit: "1 in" for "/in", "epi",
// "dents per inch" or "dents to the inch", "10 cm" for "ends/10 cm".
func perLength(s string) (length string, ok bool) {
	switch s {
	case "epi", "ppi", "dpi":
		return "1 in", true
	}
	what, per, ok := strings.Cut(s, "/")
	for i := 0; i < len(perWords) && !ok; i++ {
		what, per, ok = strings.Cut(s, perWords[i])
	}
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

// ParsePercent reads 10 %, 10%, 10 percent or 10 per cent as 0.1. A negative
// percentage, or one of 100 or more, is an error.
func ParsePercent(s string) (float64, error) {
	v, unit, err := quantity(s)
	if ambiguous(err) {
		return 0, err
	}
	sign := unit == "%" || unit == "percent" || unit == "per cent"
	if err != nil || v < 0 || v >= 100 || !sign && (unit != "" || v != 0) {
		return 0, fmt.Errorf("%s isn't a percentage from 0 %% to under 100 %%, like 10 %%", wording.Quote(s))
	}
	return v / 100, nil
}

// ParseLoss reads what a length loses, as a fraction of it from 0 to under 1: as a
// percentage, or as measured before and after, 50 cm -> 46 cm.
func ParseLoss(s string) (float64, error) {
	before, after, measured, err := measuredLengths(s)
	if !measured {
		return ParsePercent(s)
	}
	return float64((before - after) / before), err
}

// ParseGain reads what is added to a length, as a fraction of it from 0 to under 1:
// as a percentage, or as a thread pulled straight and the length it lay in,
// 66 cm -> 60 cm.
func ParseGain(s string) (float64, error) {
	before, after, measured, err := measuredLengths(s)
	if !measured {
		return ParsePercent(s)
	}
	gain := float64((before - after) / after)
	if err == nil && gain >= 1 {
		err = fmt.Errorf("%s is 100 %% or more; check the two lengths", wording.Quote(s))
	}
	return gain, err
}

// measuredLengths reads two lengths with an arrow between, the second no longer than
// the first. Measured is false if there is no arrow.
func measuredLengths(s string) (before, after Length, measured bool, err error) {
	first, second, measured := strings.Cut(strings.Replace(s, "→", "->", 1), "->")
	if !measured {
		return 1, 1, false, nil
	}
	if before, err = ParseLength(first); err != nil {
		return 1, 1, true, err
	}
	if after, err = ParseLength(second); err != nil {
		return 1, 1, true, err
	}
	if after <= 0 || after > before {
		return 1, 1, true, fmt.Errorf("%s must go from the longer length to the shorter, like 50 cm -> 46 cm", wording.Quote(s))
	}
	return before, after, true, nil
}

// Number reads a decimal number with a point. Exponents, infinities and signs
// other than a leading minus are errors.
func Number(s string) (float64, error) {
	digits := 0
	for i, r := range s {
		switch {
		case r >= '0' && r <= '9':
			digits++
		case r == '.', r == '-' && i == 0:
		default:
			return 0, fmt.Errorf("%s isn't a number", wording.Quote(s))
		}
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || digits == 0 || math.IsInf(v, 0) {
		return 0, fmt.Errorf("%s isn't a number", wording.Quote(s))
	}
	return v, nil
}

// twoReadings is the error for a number whose comma may be a decimal comma or may
// separate thousands.
type twoReadings struct{ text string }

func (e twoReadings) Error() string {
	return fmt.Sprintf("%s can be read in two ways; write %s for a decimal, or %s for thousands",
		wording.Quote(e.text), wording.Plain(strings.Replace(e.text, ",", ".", 1), 60), wording.Plain(strings.Replace(e.text, ",", "", 1), 60))
}

func ambiguous(err error) bool { return errors.As(err, &twoReadings{}) }

// weaverNumber reads a number with a point or a comma before the decimals. A comma
// with exactly three figures after it is an error, unless only a 0 comes before it.
// value is the whole text, for the error.
func weaverNumber(s, value string) (float64, error) {
	before, after, comma := strings.Cut(s, ",")
	switch {
	case !comma:
		return Number(s)
	case len(after) == 3 && before != "0" && !strings.Contains(s, "."):
		if _, err := Number(before + after); err == nil {
			return 0, twoReadings{value}
		}
	case before == "" || after == "" || strings.Contains(before, "."):
		return 0, fmt.Errorf("%s isn't a number", wording.Quote(s))
	}
	return Number(before + "." + after)
}

// quantity splits a value into its number and its unit.
func quantity(s string) (value float64, unit string, err error) {
	s = strings.TrimSpace(s)
	i := strings.IndexFunc(s, func(r rune) bool { return (r < '0' || r > '9') && r != '.' && r != ',' && r != '-' })
	if i < 0 {
		i = len(s)
	}
	value, err = weaverNumber(s[:i], s)
	return value, strings.ToLower(strings.TrimSpace(s[i:])), err
}
