package wif

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
)

// Options say how a draft is written. The zero value writes lines that end in
// CRLF, as the format's own time had them.
type Options struct {
	LF bool // end lines in LF alone
}

// Write writes a draft in the canonical form of version 1.1: sections in one
// order, CONTENTS true to what follows, keys spelt as the standard spells them,
// rows in ascending order, decimals with a point and no more digits than they
// need. Reading the result gives the same draft, and writing that gives the same
// bytes. What the format has no place for is told in lost, a line each.
func Write(d *schema.Draft, o Options) (text []byte, lost []string) {
	w := &writer{draft: d, carried: carriedOf(d), taken: map[string]bool{}}
	w.body()
	var out bytes.Buffer
	w.comments(&out, "", "")
	w.header(&out)
	out.WriteString("\n[CONTENTS]\n")
	for _, name := range w.written {
		w.comments(&out, sections[kindContents].name, name)
		if listable(name) {
			out.WriteString(name + "=true\n")
		}
	}
	w.leftComments(&out, sections[kindContents].name)
	out.Write(w.out.Bytes())
	w.orphans(&out)
	text = out.Bytes()
	if !o.LF {
		text = bytes.ReplaceAll(text, []byte("\n"), []byte("\r\n"))
	}
	return text, append(w.lost, lostSettings(d)...)
}

// header is what every file begins with. The standard fixes the first three of
// its values; the last two name the program that writes.
var header = pairs{{"Version", "1.1"}, {"Date", "April 20, 1997"}, {"Developers", "wif@mhsoft.com"},
	{"Source Program", "fettle"}, {"Source Version", "1"}}

// headerText is the section WIF without comments.
func headerText() string {
	var b strings.Builder
	b.WriteString("[WIF]\n")
	for _, p := range header {
		b.WriteString(p.key + "=" + p.value + "\n")
	}
	return b.String()
}

func (w *writer) header(out *bytes.Buffer) {
	name := sections[kindWIF].name
	out.WriteString("[WIF]\n")
	for _, p := range slices.Concat(header, w.carried.others(kindWIF, header)) {
		w.comments(out, name, p.key)
		out.WriteString(p.key + "=" + p.value + "\n")
	}
	w.leftComments(out, name)
}

type writer struct {
	draft   *schema.Draft
	carried *carried
	out     bytes.Buffer
	written []string        // names of the sections written, for CONTENTS
	taken   map[string]bool // the same, folded
	lost    []string
}

// body writes every section but the first two.
func (w *writer) body() {
	d := w.draft
	for k := kindColorPalette; k < kindPrivate; k++ {
		switch k {
		case kindColorPalette:
			w.fields(k, w.paletteFields())
		case kindText:
			w.fields(k, w.textFields())
		case kindWeaving:
			w.fields(k, weavingFields(d))
		case kindWarp:
			w.fields(k, w.systemFields(k, &d.Warp))
		case kindWeft:
			w.fields(k, w.systemFields(k, &d.Weft))
		case kindNotes:
			w.rows(k, len(d.Notes), func(n int) string { return w.oneLine("note "+strconv.Itoa(n), d.Notes[n-1]) })
		case kindColorTable:
			w.colorTable()
		case kindTieup:
			w.numbers(k, &d.Tieup)
		case kindThreading:
			w.numbers(k, &d.Threading)
		case kindTreadling:
			w.numbers(k, &d.Treadling)
		case kindLiftPlan:
			w.numbers(k, &d.LiftPlan)
		case kindWarpColors:
			w.colors(k, d.Warp.Colors)
		case kindWeftColors:
			w.colors(k, d.Weft.Colors)
		case kindWarpSpacing:
			w.decimals(k, d.Warp.Spacings)
		case kindWeftSpacing:
			w.decimals(k, d.Weft.Spacings)
		case kindWarpThickness:
			w.decimals(k, d.Warp.Thicknesses)
		case kindWeftThickness:
			w.decimals(k, d.Weft.Thicknesses)
		default:
			w.whole(k)
		}
	}
	w.whole(kindPrivate)
}

// pair is a key and its value.
type pair struct{ key, value string }

func (p *pairs) add(key, value string) {
	if value != "" {
		*p = append(*p, pair{key, value})
	}
}

type pairs []pair

func number(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

func decimal(v float64) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// fields writes a section of named keys, if there is anything in it.
func (w *writer) fields(k kind, list pairs) {
	name := sections[k].name
	list = append(list, w.carried.others(k, list)...)
	if len(list) == 0 && len(w.carried.comments[name]) == 0 {
		return // one that has comments alone is written, so that they stay where they were
	}
	w.begin(name)
	for _, p := range list {
		w.line(name, p.key, p.value)
	}
	w.leftComments(&w.out, name)
}

// rows writes a numbered section of that many rows. A row that says nothing is
// left out, but for a line of text, where an empty one is meant.
func (w *writer) rows(k kind, count int, value func(n int) string) {
	name := sections[k].name
	others := w.carried.others(k, nil)
	if count == 0 && len(others) == 0 {
		return
	}
	w.begin(name)
	for n := 1; n <= count; n++ {
		if v := value(n); v != "" || sections[k].form == lines {
			w.line(name, strconv.Itoa(n), v)
		}
	}
	for _, p := range others {
		w.line(name, p.key, p.value)
	}
	w.leftComments(&w.out, name)
}

func (w *writer) begin(name string) {
	w.written = append(w.written, name)
	w.taken[foldedCase([]byte(name))] = true
	w.out.WriteString("\n[" + name + "]\n")
}

func (w *writer) line(section, key, value string) {
	w.comments(&w.out, section, key)
	w.out.WriteString(key)
	w.out.WriteByte('=')
	w.out.WriteString(value)
	w.out.WriteByte('\n')
}

// numbers writes rows of shaft or treadle numbers; 0 stands for none.
func (w *writer) numbers(k kind, t *schema.Rows) {
	w.rows(k, t.Len(), func(n int) string { return joined(t.Row(n)) })
}

func (w *writer) colors(k kind, list []int32) {
	w.rows(k, len(list), func(n int) string { return number(int(list[n-1])) })
}

func (w *writer) decimals(k kind, list []float64) {
	w.rows(k, len(list), func(n int) string { return decimal(list[n-1]) })
}

// unbroken is a text with a blank for each character of a line break.
func unbroken(text string) string {
	return strings.Map(func(r rune) rune {
		if r == '\n' || r == '\r' {
			return ' '
		}
		return r
	}, text)
}

// oneLine makes a text fit for a line of the format, and says so where that
// changes it.
func (w *writer) oneLine(what, text string) string {
	line := strings.Trim(unbroken(text), " \t\f")
	if line != text {
		w.lost = append(w.lost, what+": line breaks, and white space at its ends; the text format keeps a text on one line")
	}
	return line
}

func (w *writer) textFields() pairs {
	var p pairs
	for _, k := range sections[kindText].keys {
		p.add(k.name, w.oneLine(strings.ToLower(k.name), *textField(&w.draft.Texts, k.field)))
	}
	return p
}

func weavingFields(d *schema.Draft) pairs {
	var p pairs
	p.add("Shafts", number(d.Shafts))
	p.add("Treadles", number(d.Treadles))
	switch d.Shed {
	case schema.Rising:
		p.add("Rising Shed", "true")
	case schema.Sinking:
		p.add("Rising Shed", "false")
	}
	switch d.Profile {
	case schema.Yes:
		p.add("Profile", "true")
	case schema.No:
		p.add("Profile", "false")
	}
	return p
}

func (w *writer) systemFields(k kind, s *schema.System) pairs {
	var p pairs
	p.add("Threads", number(s.Threads))
	color := number(s.Color)
	if full, ok := w.carried.value(k, "Color"); ok && firstNumber(full) == s.Color {
		color = full
	}
	p.add("Color", color)
	for _, key := range []string{"Symbol", "Symbol Number"} {
		v, _ := w.carried.value(k, key)
		p.add(key, v)
	}
	p.add("Units", map[schema.Unit]string{schema.Decipoints: "Decipoints", schema.Inches: "Inches", schema.Centimetres: "Centimeters"}[s.Unit])
	p.add("Spacing", decimal(s.Spacing))
	p.add("Thickness", decimal(s.Thickness))
	return p
}

func firstNumber(text string) int {
	first, _, _ := strings.Cut(text, ",")
	n, err := strconv.Atoi(strings.TrimSpace(first))
	if err != nil {
		return 0
	}
	return n
}

// writtenRange is the range that colors are written in: the one they came in,
// where every color of the palette can still be told in it, else 0 to 255.
func (w *writer) writtenRange() palette {
	p := palette{low: 0, high: 255}
	text, _ := w.carried.value(kindColorPalette, "Range")
	low, high, ok := rangeOf([]byte(text))
	if !ok {
		return p
	}
	q := palette{low: low, high: high}
	for _, c := range w.draft.Palette {
		if c.Set && q.color(q.wide(c)) != c {
			return p
		}
	}
	return q
}

func (w *writer) paletteFields() pairs {
	if len(w.draft.Palette) == 0 {
		return nil
	}
	form, ok := w.carried.value(kindColorPalette, "Form")
	if !ok || slices.ContainsFunc(w.draft.Palette, func(c schema.Color) bool { return c.Set }) {
		form = "RGB"
	}
	r := w.writtenRange()
	return pairs{{"Entries", number(len(w.draft.Palette))}, {"Form", form},
		{"Range", fmt.Sprintf("%d,%d", r.low, r.high)}}
}

func (w *writer) colorTable() {
	r := w.writtenRange()
	w.rows(kindColorTable, len(w.draft.Palette), func(n int) string {
		c := w.draft.Palette[n-1]
		raw, ok := w.carried.value(kindColorTable, strconv.Itoa(n))
		if !c.Set {
			return raw
		}
		if full, valid := channelsOf([]byte(raw)); ok && valid && r.holds(full) && r.color(full) == c {
			return raw
		}
		return r.wide(c).String()
	})
}

// whole writes the sections of a kind that are carried as they stand; behind
// the last kind those that the format has no name for.
func (w *writer) whole(k kind) {
	for _, s := range w.draft.Carried.Sections {
		has := kindOf([]byte(s.Name))
		if has != k && (has != kindUnknown || k != kindPrivate) {
			continue
		}
		name := w.oneLine("section name", strings.NewReplacer("[", "(", "]", ")").Replace(s.Name))
		if name == "" {
			w.lost = append(w.lost, "a carried section without a name")
			continue
		}
		if near := nearSection([]byte(name)); has == kindUnknown && near != kindUnknown && !w.taken[foldedCase([]byte(sections[near].name))] {
			name = "PRIVATE " + name // else it would be read as the section it is nearly called
		}
		if w.taken[foldedCase([]byte(name))] {
			w.out.WriteString("\n[" + name + "]\n")
		} else {
			w.begin(name)
		}
		last := len(s.Lines)
		for last > 0 && carriedLine(s.Lines[last-1]) == "" {
			last-- // blank lines at a section's end only part it from the next
		}
		for _, text := range s.Lines[:last] {
			w.out.WriteString(carriedLine(text))
			w.out.WriteByte('\n')
		}
	}
}

// carriedLine is a carried line as it may stand in a file: one line, and not the
// beginning of another section.
func carriedLine(text string) string {
	text = strings.TrimRight(unbroken(text), " \t\f")
	if strings.HasPrefix(strings.TrimLeft(text, " \t\f"), "[") {
		return "; " + text
	}
	return text
}

func lostSettings(d *schema.Draft) []string {
	if len(d.Settings) == 0 {
		return nil
	}
	names := make([]string, 0, len(d.Settings))
	for _, s := range d.Settings {
		names = append(names, "["+s.Section+"] "+s.Key)
	}
	return []string{"the draft's own settings, which belong in fettle.ini beside a text file: " + strings.Join(names, ", ")}
}
