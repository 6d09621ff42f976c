package wif

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
)

// Options sets the form of the text. The zero value ends lines with CRLF.
type Options struct {
	LF bool // end lines with LF
}

// Write writes a draft as WIF 1.1, in one canonical form. Reading the text returns the
// same draft, and writing that returns the same text. lost has a line for everything
// that WIF can't hold.
func Write(d *schema.Draft, o Options) (text []byte, lost []string) {
	w := &writer{draft: d, carried: carriedOf(d), sectionNames: map[string]bool{}}
	w.body()
	var out bytes.Buffer
	w.comments(&out, "", "")
	w.header(&out)
	contents := sections[kindContents].name
	out.WriteString("\n" + heading(contents))
	for _, name := range w.written {
		w.comments(&out, contents, name)
		if listable(name) {
			out.WriteString(name + "=true\n")
		}
	}
	w.leftComments(&out, contents)
	out.Write(w.out.Bytes())
	w.remainingComments(&out)
	text = out.Bytes()
	if !o.LF {
		text = bytes.ReplaceAll(text, []byte("\n"), []byte("\r\n"))
	}
	return text, append(w.lost, lostSettings(d)...)
}

// headerValues are the values of section WIF, in the order of its keys. The standard fixes
// the first three; the others name the program that wrote the file.
var headerValues = [...]string{"1.1", "April 20, 1997", "wif@mhsoft.com", "fettle", "1"}

// headerFields returns the keys of section WIF, which every file begins with.
func headerFields() pairs {
	var p pairs
	for i, key := range sections[kindWIF].keys {
		p = append(p, pair{key.name, headerValues[i]})
	}
	return p
}

// wifSection returns section WIF without comments.
func wifSection() string {
	var b strings.Builder
	b.WriteString(heading(sections[kindWIF].name))
	for _, p := range headerFields() {
		b.WriteString(p.key + "=" + p.value + "\n")
	}
	return b.String()
}

func (w *writer) header(out *bytes.Buffer) {
	name, own := sections[kindWIF].name, headerFields()
	out.WriteString(heading(name))
	for _, p := range append(own, w.carried.others(kindWIF, own)...) {
		w.comments(out, name, p.key)
		out.WriteString(p.key + "=" + p.value + "\n")
	}
	w.leftComments(out, name)
}

func heading(section string) string { return "[" + section + "]\n" }

type writer struct {
	draft        *schema.Draft
	carried      *carried
	out          bytes.Buffer
	written      []string        // names of sections written so far, for CONTENTS
	sectionNames map[string]bool // the same in upper case
	lost         []string
}

// body writes all sections but WIF and CONTENTS.
func (w *writer) body() {
	d := w.draft
	for k := kindColorPalette; k < kindPrivate; k++ {
		switch k {
		case kindColorPalette:
			w.fields(k, w.paletteFields())
		case kindText:
			w.fields(k, fieldsOf(k, w.textValue))
		case kindWeaving:
			w.fields(k, fieldsOf(k, w.weavingValue))
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
			w.carriedSections(k)
		}
	}
	w.carriedSections(kindPrivate)
}

type pair struct{ key, value string }

type pairs []pair

func numberText(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

func decimalText(v float64) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// fields writes a section with named keys, unless it would be empty.
func (w *writer) fields(k kind, list pairs) {
	name := sections[k].name
	list = append(list, w.carried.others(k, list)...)
	if len(list) == 0 && len(w.carried.comments[name]) == 0 {
		return // a section with only comments is written, so that they stay where they were
	}
	w.begin(name)
	for _, p := range list {
		w.line(name, p.key, p.value)
	}
	w.leftComments(&w.out, name)
}

// rows writes a section with numbered rows. It skips rows without a value, except in
// NOTES.
func (w *writer) rows(k kind, count int, value func(n int) string) {
	name := sections[k].name
	others := w.carried.others(k, nil)
	if count == 0 && len(others) == 0 {
		return
	}
	w.begin(name)
	for n := 1; n <= count; n++ {
		if v := value(n); v != "" || sections[k].form == formText {
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
	w.sectionNames[upperName([]byte(name))] = true
	w.out.WriteString("\n" + heading(name))
}

func (w *writer) line(section, key, value string) {
	w.comments(&w.out, section, key)
	w.out.WriteString(key)
	w.out.WriteByte('=')
	w.out.WriteString(value)
	w.out.WriteByte('\n')
}

// numbers writes rows of shaft or treadle numbers.
func (w *writer) numbers(k kind, t *schema.Rows) {
	w.rows(k, t.Len(), func(n int) string { return joined(t.Row(n)) })
}

func (w *writer) colors(k kind, list []int32) {
	w.rows(k, len(list), func(n int) string { return numberText(int(list[n-1])) })
}

func (w *writer) decimals(k kind, list []float64) {
	w.rows(k, len(list), func(n int) string { return decimalText(list[n-1]) })
}

// onOneLine replaces line breaks by spaces.
func onOneLine(text string) string {
	return strings.Map(func(r rune) rune {
		if r == '\n' || r == '\r' {
			return ' '
		}
		return r
	}, text)
}

// oneLine makes a text fit on a line. If that changes it, it notes the loss.
func (w *writer) oneLine(what, text string) string {
	line := strings.Trim(onOneLine(text), " \t\f")
	if line != text {
		w.lost = append(w.lost, what+": line breaks and white space at the ends, because a WIF value is one line")
	}
	return line
}

// fieldsOf returns the keys of a section with their values, without those that have none.
func fieldsOf(k kind, value func(key) string) pairs {
	var p pairs
	for _, key := range sections[k].keys {
		if v := value(key); v != "" {
			p = append(p, pair{key.name, v})
		}
	}
	return p
}

func (w *writer) textValue(k key) string {
	return w.oneLine(strings.ToLower(k.name), *textField(&w.draft.Texts, k.field))
}

func (w *writer) weavingValue(k key) string {
	d := w.draft
	switch k.field {
	case schema.FieldShafts:
		return numberText(d.Shafts)
	case schema.FieldTreadles:
		return numberText(d.Treadles)
	case schema.FieldShed:
		return map[schema.Shed]string{schema.Rising: "true", schema.Sinking: "false"}[d.Shed]
	case schema.FieldProfile:
		return map[schema.Answer]string{schema.Yes: "true", schema.No: "false"}[d.Profile]
	}
	return ""
}

func (w *writer) systemFields(k kind, s *schema.System) pairs {
	return fieldsOf(k, func(key key) string {
		carried, _ := w.carried.value(k, key.name)
		switch key.field {
		case schema.FieldThreads:
			return numberText(s.Threads)
		case schema.FieldColor:
			if firstNumber(carried) == s.Color {
				return carried
			}
			return numberText(s.Color)
		case schema.FieldUnit:
			return unitNames[s.Unit]
		case schema.FieldSpacing:
			return decimalText(s.Spacing)
		case schema.FieldThickness:
			return decimalText(s.Thickness)
		}
		return carried
	})
}

func firstNumber(text string) int {
	first, _, _ := strings.Cut(text, ",")
	n, err := strconv.Atoi(strings.TrimSpace(first))
	if err != nil {
		return 0
	}
	return n
}

// writtenRange returns the range to write colors in: the original range if it can
// express all colors of the palette, otherwise 0 to 255.
func (w *writer) writtenRange() palette {
	p := palette{low: 0, high: 255}
	text, _ := w.carried.value(kindColorPalette, keyRange)
	low, high, ok := rangeOf([]byte(text))
	if !ok {
		return p
	}
	q := palette{low: low, high: high}
	for _, c := range w.draft.Palette {
		if c.Set && q.color(q.widen(c)) != c {
			return p
		}
	}
	return q
}

func (w *writer) paletteFields() pairs {
	if len(w.draft.Palette) == 0 {
		return nil
	}
	form, ok := w.carried.value(kindColorPalette, keyForm)
	if !ok || slices.ContainsFunc(w.draft.Palette, func(c schema.Color) bool { return c.Set }) {
		form = "RGB"
	}
	r := w.writtenRange()
	return pairs{{keyEntries, numberText(len(w.draft.Palette))}, {keyForm, form},
		{keyRange, fmt.Sprintf("%d,%d", r.low, r.high)}}
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
		return r.widen(c).String()
	})
}

// carriedSections writes the carried sections of a kind; with kindPrivate, also the
// ones that WIF doesn't know.
func (w *writer) carriedSections(k kind) {
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
		if near := nearSection([]byte(name)); has == kindUnknown && near != kindUnknown && !w.sectionNames[upperName([]byte(sections[near].name))] {
			name = "PRIVATE " + name // otherwise it would be read as that section
		}
		if w.sectionNames[upperName([]byte(name))] {
			w.out.WriteString("\n" + heading(name))
		} else {
			w.begin(name)
		}
		last := len(s.Lines)
		for last > 0 && carriedLine(s.Lines[last-1]) == "" {
			last-- // blank lines at its end only separate it from the next section
		}
		for _, text := range s.Lines[:last] {
			w.out.WriteString(carriedLine(text))
			w.out.WriteByte('\n')
		}
	}
}

// carriedLine returns a carried line so that it can't begin another line or section.
func carriedLine(text string) string {
	text = strings.TrimRight(onOneLine(text), " \t\f")
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
	return []string{"the draft's own settings, which belong in fettle.ini: " + strings.Join(names, ", ")}
}

// carried holds what a draft carries from a WIF file, by section, so that the writer
// can put it back in its place.
type carried struct {
	values   map[string]map[string]string   // by section and key
	keys     map[string][]string            // keys of each section, in order
	comments map[string]map[string][]string // by section and the key after them
	order    map[string][]string            // keys with comments before them, by section, in order
	sections []string                       // sections with comments, in order
}

func carriedOf(d *schema.Draft) *carried {
	c := &carried{values: map[string]map[string]string{}, keys: map[string][]string{},
		comments: map[string]map[string][]string{}, order: map[string][]string{}}
	for _, v := range d.Carried.Values {
		c.addValue(v)
	}
	current := map[string]bool{}
	for _, g := range d.Ignores {
		current[g.Rule+" "+g.Reason] = true
	}
	written := map[string]bool{}
	for _, s := range d.Carried.Sections {
		for _, l := range s.Lines {
			if rule, reason, ok := ignoreComment(l); ok {
				written[rule+" "+reason] = true
			}
		}
	}
	for _, m := range d.Carried.Comments {
		rule, reason, ok := ignoreComment(m.Text)
		if ok && !current[rule+" "+reason] {
			continue // the model has changed, and the model wins
		}
		written[rule+" "+reason] = true
		c.addComment(m)
	}
	for _, g := range d.Ignores {
		if !written[g.Rule+" "+g.Reason] {
			written[g.Rule+" "+g.Reason] = true
			c.addComment(schema.Comment{Text: strings.TrimRight(schema.IgnoreComment+g.Rule+" - "+g.Reason, " -")})
		}
	}
	return c
}

func (c *carried) addValue(v schema.Setting) {
	if c.values[v.Section] == nil {
		c.values[v.Section] = map[string]string{}
	}
	if _, twice := c.values[v.Section][v.Key]; !twice {
		c.values[v.Section][v.Key] = onOneLine(v.Value)
	}
	c.keys[v.Section] = append(c.keys[v.Section], v.Key)
}

func (c *carried) addComment(m schema.Comment) {
	if c.comments[m.Section] == nil {
		c.comments[m.Section] = map[string][]string{}
		c.sections = append(c.sections, m.Section)
	}
	if c.comments[m.Section][m.Before] == nil {
		c.order[m.Section] = append(c.order[m.Section], m.Before)
	}
	text := onOneLine(strings.TrimSpace(m.Text))
	if !strings.HasPrefix(text, ";") {
		text = strings.TrimSpace("; " + text)
	}
	c.comments[m.Section][m.Before] = append(c.comments[m.Section][m.Before], text)
}

// value returns a carried value.
func (c *carried) value(k kind, key string) (string, bool) {
	v, ok := c.values[sections[k].name][key]
	return v, ok
}

// others returns the carried keys of a section that aren't in list and that the model
// doesn't hold. A key that would be read as another one becomes a comment.
func (c *carried) others(k kind, list pairs) pairs {
	var more pairs
	name := sections[k].name
	for _, key := range c.keys[name] {
		if list.has(key) || k.inModel(key) {
			continue
		}
		value := c.values[name][key]
		near := k.nearKey([]byte(key))
		switch {
		case !lexesAs(key, value):
		case k.keyOf([]byte(key)) < 0 && near >= 0 && !list.has(sections[k].keys[near].name):
			c.addComment(schema.Comment{Section: name, Text: "; " + key + "=" + value})
		default:
			more = append(more, pair{key, value})
		}
	}
	return more
}

func (p pairs) has(key string) bool {
	return slices.ContainsFunc(p, func(p pair) bool { return p.key == key })
}

// inModel reports whether the model holds the value of a key, so that a carried value
// only has more detail.
func (k kind) inModel(key string) bool {
	switch {
	case k == kindColorPalette:
		return true
	case k == kindColorTable:
		_, next := digits([]byte(key), 0)
		return next == len(key)
	case k == kindWarp, k == kindWeft:
		return sameName([]byte(key), k.nameOf(schema.FieldColor))
	}
	return false
}

// lexesAs reports whether "key=value" is read as this key and this value.
func lexesAs(key, value string) bool {
	text := []byte(key + "=" + value)
	l := lex(text, 0)
	return l.sort == sortKey && string(text[l.name.Start:l.name.End]) == key &&
		string(text[l.value.Start:l.value.End]) == value
}

// listable reports whether CONTENTS can list a section with this name.
func listable(name string) bool { return lexesAs(name, "true") }

// comments writes the comments before a key, once.
func (w *writer) comments(out *bytes.Buffer, section, key string) {
	list := w.carried.comments[section][key]
	if list == nil {
		return
	}
	for _, text := range list {
		out.WriteString(text + "\n")
	}
	delete(w.carried.comments[section], key)
}

// leftComments writes the other comments of a section: those at its end, and those of
// keys that are gone.
func (w *writer) leftComments(out *bytes.Buffer, section string) {
	for _, key := range w.carried.order[section] {
		w.comments(out, section, key)
	}
}

// remainingComments writes the comments of sections that are gone.
func (w *writer) remainingComments(out *bytes.Buffer) {
	for _, section := range w.carried.sections {
		w.leftComments(out, section)
	}
}
