package sheet

import (
	"cmp"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"fettle/schema/dressing"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

// The longest name in a sentence and in a table.
const (
	nameInText  = 60
	nameInTable = 24
)

// plain returns a name from a file without surrounding space and control characters.
func plain(s string, most int) string { return strings.TrimSpace(wording.Plain(s, most)) }

// cm writes a figure in centimetres in the weaver's units, or "" if it is unknown.
// warpLength and per do the same for metres of warp and for densities.
func (w *work) cm(f dressing.Figure) string {
	if !f.Known {
		return ""
	}
	return w.units.Cloth(measure.Length(f.Value * 10))
}

func (w *work) warpLength(f dressing.Figure) string {
	if !f.Known {
		return ""
	}
	return w.units.Warp(measure.Length(f.Value * 1000))
}

// woven writes the woven length, the sum of its parts as they are written; "" if it is
// unknown.
func (w *work) woven() string {
	if !w.plan.WovenLengthM.Known {
		return ""
	}
	return w.units.Cloth(w.plan.WovenOnTape)
}

func (w *work) per(f dressing.Figure) string {
	if !f.Known {
		return ""
	}
	return w.units.Sett(measure.Density(f.Value))
}

// need writes metres of yarn that you need, or "" if they are unknown.
func (w *work) need(f dressing.Figure) string {
	if !f.Known {
		return ""
	}
	return w.units.YarnNeeded(f.Value)
}

func whole(f dressing.Figure) string {
	if !f.Known {
		return ""
	}
	return wording.Decimal(f.Value, 0)
}

// figure is a number and its unit, which stay on one line: 16.5 cm, 28 19/32 in.
var figure = regexp.MustCompile(`\b\d+(?:\.\d+)?(?: \d+/\d+)? (?:(?:mm|cm|m|in|ft|yd|g|kg|oz|lb)\b|%)`)

// unbroken puts non-breaking spaces into the figures of a text.
func unbroken(text string) string {
	return figure.ReplaceAllStringFunc(text, func(s string) string { return strings.ReplaceAll(s, " ", string(wording.NoBreak)) })
}

// spaced turns what unbroken returns back into plain text.
func spaced(text string) string { return strings.ReplaceAll(text, string(wording.NoBreak), " ") }

// none writes a number, or "" for 0.
func none(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// lengthWord chooses between words for a weaver who measures in inches and others.
func (w *work) lengthWord(inches, metric string) string {
	if w.units.Inches() {
		return inches
	}
	return metric
}

// counted writes "one end" or "12 ends".
func counted(n int, what string) string {
	if n == 1 {
		return "one " + what
	}
	return wording.Counted(n, what)
}

// span writes "5" or "1-12".
func span(from, to int) string {
	if from == to {
		return strconv.Itoa(from)
	}
	return fmt.Sprintf("%d-%d", from, to)
}

// sides returns the sides of the two halves; the first half has end 1.
func (w *work) sides() (first, second string) {
	if w.o.End1Left {
		return "left", "right"
	}
	return "right", "left"
}

// capital begins a sentence.
func capital(s string) string {
	if s == "" {
		return ""
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// wanting lists the settings that a figure needs, "" if all are stated.
func (w *work) wanting(keys ...string) string {
	var missing []string
	for _, m := range w.plan.Missing {
		for _, k := range keys {
			if m.Key == k {
				missing = append(missing, k)
			}
		}
	}
	return wording.Listed(missing)
}

// without adds to a figure a note of the losses that aren't in it.
func without(figure string, losses []string) string {
	if figure != "" && len(losses) > 0 {
		return figure + ", without " + wording.Listed(losses) + " (not stated)"
	}
	return figure
}

// colorNames names each palette number of a system by its yarn, or by its color if there
// is no yarn.
func colorNames(rows []dressing.ColorRow) map[int]string {
	names := map[int]string{}
	for _, r := range rows {
		names[r.Color] = cmp.Or(plain(r.Yarn, nameInTable), r.Hex, colorNumber(r.Color))
	}
	// Two colors of one yarn need different names.
	count := map[string]int{}
	for _, r := range rows {
		count[names[r.Color]]++
	}
	for _, r := range rows {
		if count[names[r.Color]] > 1 {
			names[r.Color] += " " + cmp.Or(r.Hex, colorNumber(r.Color))
		}
	}
	return names
}

// afterCount puts quotes around a name that would run into the number of threads before it,
// such as 240 or 8/2 blue.
func afterCount(name string) string {
	if name != "" && unicode.IsDigit([]rune(name)[0]) {
		return wording.Quote(name)
	}
	return name
}

func colorNumber(color int) string {
	if color == 0 {
		return "without a color"
	}
	return "color " + strconv.Itoa(color)
}

// join writes shaft or treadle numbers as one word, or "-" for none.
func join(numbers []int32) string { return wording.JoinNumbers(numbers, "+", "-") }
