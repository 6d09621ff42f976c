package wif

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
	"fettle/schema/measure"
	"fettle/schema/spelling"
	"fettle/schema/wording"
)

// key reads a key = value line in a section that isn't carried.
func (r *reader) key(l line) {
	switch sections[r.kind].form {
	case formFields:
		if r.kind == kindContents {
			r.contentsKey(l)
		} else {
			r.field(l)
		}
	case formText:
		if index, ok := r.index(l); ok {
			r.notes = append(r.notes, entry[string]{index, r.str(l.value), l.span()})
		}
	case formNumbers:
		l, _ = r.unquotedRow(l)
		if index, ok := r.index(l); ok {
			r.add(r.kind, index, r.rowNumbers(index, l), l.span())
		}
	case formColors:
		if index, ok := r.index(l); ok {
			r.color(index, l)
		}
	case formDecimals:
		if index, ok := r.index(l); ok {
			if v, ok := r.decimal(r.plain(l), l); ok {
				r.decimals[r.kind] = append(r.decimals[r.kind], entry[float64]{index, v, l.span()})
			}
		}
	}
}

// add adds a row to its table, or reports a duplicate.
func (r *reader) add(k kind, index int32, numbers []int32, at schema.Span) {
	if t := &r.tables[k]; !t.add(index, numbers, at) {
		r.duplicateRow(k, index, at, t.same(index, numbers))
	}
}

// sameAsFirst reports whether a duplicate key has the same value as the first one.
func (r *reader) sameAsFirst(l line, key string) bool {
	if r.values == nil {
		r.values = map[string]schema.Span{}
	}
	name := sections[r.kind].name + "\x00" + key
	first, known := r.values[name]
	if !known {
		at, ok := r.locatorUpTo(l.start).key(r.kind, key)
		if !ok {
			return false
		}
		first = lex(r.text, at.Start).value
		r.values[name] = first
	}
	return bytes.EqualFold(r.text[first.Start:first.End], r.text[l.value.Start:l.value.End])
}

// index returns the number of a row. A row without one is an unknown key and is
// carried; a row with a number of 0 or far too high is reported and ignored.
func (r *reader) index(l line) (int32, bool) {
	name := r.text[l.name.Start:l.name.End]
	if plain, ok := r.cleaned(l, l.name); ok {
		name = []byte(plain)
	}
	v, next := digits(name, 0)
	switch {
	case next == len(name) && v > 0:
		r.attach(strconv.Itoa(int(v)))
		return v, true
	case next == len(name), tooLong(name):
		r.badIndex(l, name)
	default:
		if r.kind.isWeave() {
			r.markUnclear(schema.FileUnknownKey)
		}
		if !r.reportLettersInIndex(l, name) {
			r.unknownKey(l, name, -1)
		}
		r.carry(l, string(name), l.value)
	}
	return 0, false
}

// tooLong reports whether a name is a whole number that is too long for an index.
func tooLong(name []byte) bool {
	return len(name) > 9 && len(bytes.Trim(name, "0123456789")) == 0
}

// carry keeps a key with its value, without trailing comments and commas.
func (r *reader) carry(l line, key string, value schema.Span) {
	r.attach(key)
	r.draft.Carried.Values = append(r.draft.Carried.Values, schema.Setting{
		Section: sections[r.kind].name, Key: key, Value: r.str(value)})
}

// field reads a named key.
func (r *reader) field(l line) {
	name := r.text[l.name.Start:l.name.End]
	i := r.kind.keyOf(name)
	if i < 0 {
		if i = r.nearKey(name); i < 0 {
			r.unknownKey(l, name, r.kind.nearKey(name))
			r.carry(l, string(name), l.value)
			return
		}
		r.misspeltKey(l, name, i)
	}
	k := sections[r.kind].keys[i]
	if r.seen[r.kind]&(1<<i) != 0 {
		r.duplicateKey(l, k.name, r.sameAsFirst(l, k.name))
		return
	}
	r.seen[r.kind] |= 1 << i
	r.attach(k.name)
	r.value(l, k)
}

// nearKey returns the key that a misspelt name means, -1 for none or if the section
// also has that key.
func (r *reader) nearKey(name []byte) int {
	if i := r.kind.nearKey(name); i >= 0 && !r.hasKey(i) {
		return i
	}
	return -1
}

// hasKey reports whether the section has a key, spelt correctly or read so far.
func (r *reader) hasKey(i int) bool {
	if r.exact == 1<<15 {
		r.exact = r.exactKeys(r.parts[len(r.parts)-1].body)
	}
	return (r.exact|r.seen[r.kind])&(1<<i) != 0
}

// exactKeys returns the keys that a section spells correctly, a bit each.
func (r *reader) exactKeys(at int) (found uint16) {
	for at < len(r.text) {
		l := lex(r.text, at)
		if l.sort == sortSection {
			break
		}
		if l.sort == sortKey {
			if i := r.kind.keyOf(r.text[l.name.Start:l.name.End]); i >= 0 {
				found |= 1 << i
			}
		}
		at = l.next
	}
	return found
}

// value reads the value of a known key.
func (r *reader) value(l line, k key) {
	switch r.kind {
	case kindWIF:
		if k.name == keyVersion {
			r.version(l)
		}
	case kindText:
		*textField(&r.draft.Texts, k.field) = r.str(l.value)
	case kindColorPalette:
		r.paletteKey(l, k.name)
	case kindWeaving:
		r.weaving(l, k.field)
	case kindWarp:
		r.system(l, k, &r.draft.Warp)
	case kindWeft:
		r.system(l, k, &r.draft.Weft)
	}
}

// textField returns the field that holds a text.
func textField(t *schema.Texts, f schema.Field) *string {
	switch f {
	case schema.FieldTitle:
		return &t.Title
	case schema.FieldAuthor:
		return &t.Author
	case schema.FieldAddress:
		return &t.Address
	case schema.FieldEMail:
		return &t.EMail
	case schema.FieldTelephone:
		return &t.Telephone
	}
	return &t.Fax
}

func (r *reader) version(l line) {
	at := r.plain(l)
	switch r.str(at) {
	case "1.1", "1.0":
	default:
		r.reportVersion(l, at)
	}
}

func (r *reader) weaving(l line, f schema.Field) {
	d := r.draft
	switch f {
	case schema.FieldShafts:
		r.count(l, &d.Shafts)
	case schema.FieldTreadles:
		r.count(l, &d.Treadles)
	case schema.FieldShed:
		switch r.yesOrNo(l) {
		case schema.Yes:
			d.Shed = schema.Rising
		case schema.No:
			d.Shed = schema.Sinking
		default:
			r.markUnclear(schema.FileBadValue) // it isn't known which face is up
		}
	case schema.FieldProfile:
		d.Profile = r.yesOrNo(l)
	}
}

func (r *reader) system(l line, k key, s *schema.System) {
	switch k.field {
	case schema.FieldThreads:
		r.count(l, &s.Threads)
	case schema.FieldColor:
		at := r.plain(l)
		if list := r.wholeNumbers(at, l); len(list) > 0 {
			s.Color = int(list[0])
		}
		if bytes.IndexByte(r.text[at.Start:at.End], ',') >= 0 {
			r.carry(l, k.name, at)
		}
	case schema.FieldUnit:
		r.unit(l, s)
	case schema.FieldSpacing:
		s.Spacing, _ = r.decimal(r.plain(l), l)
	case schema.FieldThickness:
		s.Thickness, _ = r.decimal(r.plain(l), l)
	case schema.NoField: // a symbol, which may be a comma or a semicolon, or a number
		at := l.value
		if k.name != keySymbol {
			at = r.plain(l)
		}
		r.carry(l, k.name, at)
	}
}

// count is a declared number of threads, shafts, treadles or palette entries. Whether
// fettle believes it depends on the rows.
type count struct {
	value  int
	target *int
	kind   kind
	line   line
}

func (r *reader) count(l line, target *int) {
	at := r.plain(l)
	text := r.str(at)
	if plain, ok := r.cleaned(l, at); ok {
		text = plain
	}
	v, err := strconv.ParseUint(text, 10, 62)
	if err != nil {
		if !r.reportLetters(l, at) {
			r.badValue(l, "a whole number, like 8")
		}
		return
	}
	r.counts = append(r.counts, count{int(v), target, r.kind, l})
}

func (r *reader) yesOrNo(l line) schema.Answer {
	var buf [maxWord]byte
	switch string(r.word(buf[:0], l)) {
	case "TRUE", "YES", "ON", "1":
		return schema.Yes
	case "FALSE", "NO", "OFF", "0":
		return schema.No
	}
	r.badValue(l, "true or false")
	return schema.Unsaid
}

// unit reads the unit of spacing and thickness.
func (r *reader) unit(l line, s *schema.System) {
	var buf [maxWord]byte
	word := r.word(buf[:0], l)
	for _, u := range unitSpellings {
		if string(word) == u.spelling {
			s.Unit = u.unit
			if !u.standard {
				r.reportUnitSpelling(l, unitNames[u.unit])
			}
			return
		}
	}
	for _, u := range unitSpellings {
		if u.standard && spelling.OneSlip(word, u.spelling) {
			s.Unit = u.unit
			r.reportUnitSpelling(l, unitNames[u.unit])
			return
		}
	}
	s.Unit = schema.UnitUnstated
	r.unmeasured = append(r.unmeasured, s)
	r.badValue(l, "Decipoints, Inches or Centimeters")
	r.found[len(r.found)-1].Message += "; until then fettle ignores spacing and thickness"
}

// unitNames holds the units as WIF spells them.
var unitNames = map[schema.Unit]string{schema.Decipoints: "Decipoints", schema.Inches: "Inches", schema.Centimetres: "Centimeters"}

// unitSpellings holds how files spell units, in upper case. A British spelling isn't reported.
var unitSpellings = []struct {
	spelling string
	unit     schema.Unit
	standard bool
}{
	{"DECIPOINTS", schema.Decipoints, true},
	{"INCHES", schema.Inches, true}, {"INCH", schema.Inches, false}, {"IN", schema.Inches, false},
	{"CENTIMETERS", schema.Centimetres, true}, {"CENTIMETRES", schema.Centimetres, true},
	{"CENTIMETER", schema.Centimetres, false}, {"CENTIMETRE", schema.Centimetres, false}, {"CM", schema.Centimetres, false},
}

// maxWord is the length of the longest word in a value.
const maxWord = len("centimeters")

// word returns a value of one word in upper case, nil if it is longer than any word.
func (r *reader) word(buf []byte, l line) []byte {
	at := r.plain(l)
	upper, ok := appendUpper(buf, r.text[at.Start:at.End])
	if !ok {
		return nil
	}
	return upper
}

// plain returns a value without trailing comment and commas, and reports those.
func (r *reader) plain(l line) schema.Span {
	at := plainPart(r.text, l.value)
	if at.End < l.value.End {
		r.reportTrailing(l, at)
	}
	return at
}

// plainPart returns a value without trailing comment and commas.
func plainPart(text []byte, at schema.Span) schema.Span {
	if i := bytes.IndexByte(text[at.Start:at.End], ';'); i >= 0 {
		at.Start, at.End = trim(text, at.Start, at.Start+i)
	}
	for at.End > at.Start && (text[at.End-1] == ',' || blank(text[at.End-1])) {
		at.End--
	}
	return at
}

// wholeNumbers reads numbers separated by commas. It reports unreadable ones and
// leaves them out.
func (r *reader) wholeNumbers(at schema.Span, l line) []int32 {
	list := r.numbers[:0]
	if plain, ok := r.cleaned(l, at); ok {
		return append(list, numbersIn(plain)...)
	}
	bad := false
	for from := at.Start; from < at.End; {
		to := from
		for to < at.End && r.text[to] != ',' {
			to++
		}
		start, end := edges(r.text, from, to)
		v, next := digits(r.text, start)
		if next == end && end > start && v <= maxNumber {
			list = append(list, v)
		} else {
			bad = true
		}
		from = to + 1
	}
	if len(list) > 1 && slices.Contains(list, 0) {
		r.zeroInList[r.kind] = true
	}
	if bad && r.reportLetters(l, at) {
		return r.numbers[:0]
	}
	if bad {
		r.badValue(l, "whole numbers separated by commas, like 3 or 1,4")
	}
	return list
}

// numbersIn reads numbers separated by commas and leaves out unreadable ones.
func numbersIn(text string) (list []int32) {
	for part := range strings.SplitSeq(text, ",") {
		if v, next := digits([]byte(strings.TrimSpace(part)), 0); next > 0 && next == len(strings.TrimSpace(part)) && v <= maxNumber {
			list = append(list, v)
		}
	}
	return list
}

// decimal reads a decimal number of 0 or more, with a point or a comma.
func (r *reader) decimal(at schema.Span, l line) (float64, bool) {
	text := r.str(at)
	if text == "" {
		return 0, true
	}
	v, err := measure.Number(strings.Replace(text, ",", ".", 1))
	if err != nil || v < 0 {
		r.badValue(l, "a number with a decimal point, like 0.127")
		return 0, false
	}
	if strings.Contains(text, ",") {
		r.decimalComma(l, at)
	}
	return v, true
}

func (r *reader) badValue(l line, expected string) {
	k := r.kindAt(l.start)
	if k.isWeave() {
		r.markUnclear(schema.FileBadValue)
	}
	if r.merge(similar{schema.FileBadValue, k, expected}, l.span(), r.inTable(k)) {
		return
	}
	r.report(schema.FileBadValue, l.span(),
		fmt.Sprintf("%s isn't valid %s; write %s", wording.Quote(r.str(l.value)), r.whereIn(k, r.str(l.name)), expected),
		valueData(k, r.str(l.name), r.str(l.value), expected))
	r.markUnread()
}

// whereIn names the row of a table, or the key of a section.
func (r *reader) whereIn(k kind, name string) string {
	if n, err := strconv.Atoi(name); err == nil && n >= 0 && sections[k].form != formFields {
		return fmt.Sprintf("in row %d of section %s", n, sections[k].name)
	}
	return fmt.Sprintf("for %s in section %s", wording.Quote(name), sections[k].name)
}

// reportUnitSpelling reports a unit that isn't spelt as in WIF.
func (r *reader) reportUnitSpelling(l line, unit string) {
	value := r.str(l.value)
	r.report(schema.FileBadValue, l.span(),
		fmt.Sprintf("fettle reads %s in section %s as %s, but other programs may not; write %s", wording.Quote(value), sections[r.kind].name, unit, unit),
		valueData(r.kind, r.kind.nameOf(schema.FieldUnit), value, unit),
		replacement("write "+unit, plainPart(r.text, l.value), unit))
}

// finishMeasures drops measures without a unit.
func (r *reader) finishMeasures() {
	for _, s := range r.unmeasured {
		s.ForgetMeasures()
	}
}

func (r *reader) reportMissingRange(at schema.Span, high int32) {
	value := "0," + strconv.Itoa(int(high))
	expected := keyRange + "=" + value
	var fixes []schema.Fix
	l := r.locator()
	if _, said := l.key(kindColorPalette, keyRange); !said && l.has(kindColorPalette) {
		fixes = append(fixes, schema.Fix{Title: "write " + expected, Risky: true, // another range is as likely
			Edits: l.setKey(kindColorPalette, keyRange, value)})
	}
	r.report(schema.FileBadValue, lex(r.text, at.Start).span(),
		fmt.Sprintf("a color is above 255, but COLOR PALETTE has no Range, so fettle assumes 0 to %d; write %s", high, expected),
		valueData(kindColorPalette, keyRange, "", expected), fixes...)
}

func (r *reader) decimalComma(l line, at schema.Span) {
	text := r.str(at)
	comma := at.Start + strings.IndexByte(text, ',')
	fix := replacement("", schema.Span{Start: comma, End: comma + 1}, ".")
	what := ""
	if before := text[:strings.IndexByte(text, ',')]; len(text)-len(before) == 4 && strings.Trim(before, "0") != "" {
		fix, what = risky(fix), "thousands" // 1,250 may be 1.25 or 1250
	}
	if r.merge(similar{schema.FileDecimalComma, r.kind, what}, l.span(), r.inTable(r.kind), fix.Edits...) {
		return
	}
	point := strings.Replace(text, ",", ".", 1)
	fix.Title = "write " + point
	name := r.str(l.name)
	r.report(schema.FileDecimalComma, l.span(),
		fmt.Sprintf("%s has a decimal comma, which other programs misread; write %s", wording.Quote(text), point),
		schema.Data{{Key: "section", Value: sections[r.kind].name}, {Key: "key", Value: wording.Plain(name, 60)}, {Key: "value", Value: text}},
		fix)
}

func (r *reader) reportVersion(l line, at schema.Span) {
	text := r.str(at)
	r.report(schema.FileVersion, l.span(),
		fmt.Sprintf("version %s isn't a version of WIF, so fettle reads it as 1.1; check that nothing is missing", wording.Quote(text)),
		schema.Data{{Key: "version", Value: wording.Plain(text, 60)}},
		schema.Fix{Title: "write 1.1", Risky: true, Edits: []schema.Edit{{Span: at, New: "1.1"}}})
}
