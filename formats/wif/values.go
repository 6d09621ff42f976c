package wif

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

// key takes a line of the form name = value in a section that is not carried.
func (r *reader) key(l line) {
	switch sections[r.kind].form {
	case fields:
		if r.kind == kindContents {
			r.contentsKey(l)
		} else {
			r.field(l)
		}
	case lines:
		if index, ok := r.index(l); ok {
			r.notes = append(r.notes, entry[string]{index, string(r.text[l.value.Start:l.value.End]), l.span()})
		}
	case numbers:
		l, _ = r.wholeRow(l)
		if index, ok := r.index(l); ok {
			r.add(r.kind, index, r.rowNumbers(index, l), l.span())
		}
	case colors:
		if index, ok := r.index(l); ok {
			r.color(index, l)
		}
	case decimals:
		if index, ok := r.index(l); ok {
			if v, ok := r.decimal(r.plain(l), l); ok {
				r.decimals[r.kind] = append(r.decimals[r.kind], entry[float64]{index, v, l.span()})
			}
		}
	}
}

// add puts a row into its table, or reports that it is there already.
func (r *reader) add(k kind, index int32, numbers []int32, at schema.Span) {
	if t := &r.tables[k]; !t.add(index, numbers, at) {
		r.repeated(k, index, at, t.same(index, numbers))
	}
}

// saidBefore says whether the first line of a key that appears twice has the same
// value as another.
func (r *reader) saidBefore(l line, key string) bool {
	if r.values == nil {
		r.values = map[string]schema.Span{}
	}
	name := sections[r.kind].name + "\x00" + key
	first, known := r.values[name]
	if !known {
		at, ok := r.soFar(l.start).key(r.kind, key)
		if !ok {
			return false
		}
		first = lex(r.text, at.Start).value
		r.values[name] = first
	}
	return bytes.EqualFold(r.text[first.Start:first.End], r.text[l.value.Start:l.value.End])
}

// index is the number a row goes by. A row without one is an unknown key, and
// carried; a row numbered 0 or beyond all belief is reported and left out.
func (r *reader) index(l line) (int32, bool) {
	name := r.text[l.name.Start:l.name.End]
	if plain, ok := r.plainly(l, l.name); ok {
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
			r.doubt(schema.FileUnknownKey)
		}
		if !r.letterRow(l, name) {
			r.unknownKey(l, name, -1)
		}
		r.carry(l, string(name), l.value)
	}
	return 0, false
}

// tooLong says whether a name is a whole number of more digits than any index.
func tooLong(name []byte) bool {
	return len(name) > 9 && len(bytes.Trim(name, "0123456789")) == 0
}

// carry keeps a key with the part of its value that counts, as it stands.
func (r *reader) carry(l line, key string, value schema.Span) {
	r.attach(key)
	r.draft.Carried.Values = append(r.draft.Carried.Values, schema.Setting{
		Section: sections[r.kind].name, Key: key, Value: string(r.text[value.Start:value.End])})
}

// field takes a key of a section with fixed keys.
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
		r.duplicateKey(l, k.name, r.saidBefore(l, k.name))
		return
	}
	r.seen[r.kind] |= 1 << i
	r.attach(k.name)
	r.value(l, k)
}

// nearKey is the key that a misspelt name stands for, -1 where there is none or
// where the section has that key spelt as it should be.
func (r *reader) nearKey(name []byte) int {
	i := r.kind.nearKey(name)
	if i < 0 {
		return -1
	}
	if r.exact == 1<<15 {
		r.exact = r.exactKeys(r.parts[len(r.parts)-1].body)
	}
	if (r.exact|r.seen[r.kind])&(1<<i) != 0 {
		return -1
	}
	return i
}

// exactKeys is which keys a section spells as they should be, by number. It is
// looked up once for a section, and only where one is misspelt.
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

// value takes the value of a key that the section has.
func (r *reader) value(l line, k key) {
	switch r.kind {
	case kindWIF:
		if k.name == "Version" {
			r.version(l)
		}
	case kindText:
		*textField(&r.draft.Texts, k.field) = string(r.text[l.value.Start:l.value.End])
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

// textField is where a text is kept.
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
	switch string(r.text[at.Start:at.End]) {
	case "1.1", "1.0":
	default:
		r.foreignVersion(l, at)
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
		switch r.answer(l) {
		case schema.Yes:
			d.Shed = schema.Rising
		case schema.No:
			d.Shed = schema.Sinking
		default:
			r.doubt(schema.FileBadValue) // which face is up is not known
		}
	case schema.FieldProfile:
		d.Profile = r.answer(l)
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
		if k.name != "Symbol" {
			at = r.plain(l)
		}
		r.carry(l, k.name, at)
	}
}

// count is a declared number of threads, shafts, treadles or palette entries,
// to be believed or not once all rows are known.
type count struct {
	value  int
	target *int
	kind   kind
	line   line
}

func (r *reader) count(l line, target *int) {
	at := r.plain(l)
	text := string(r.text[at.Start:at.End])
	if plain, ok := r.plainly(l, at); ok {
		text = plain
	}
	v, err := strconv.ParseUint(text, 10, 62)
	if err != nil {
		if !r.letterFinding(l, at) {
			r.badValue(l, "a whole number, like 8")
		}
		return
	}
	r.counts = append(r.counts, count{int(v), target, r.kind, l})
}

// answer reads a yes or a no.
func (r *reader) answer(l line) schema.Answer {
	var buf [longestWord]byte
	switch string(r.word(buf[:0], l)) {
	case "TRUE", "YES", "ON", "1":
		return schema.Yes
	case "FALSE", "NO", "OFF", "0":
		return schema.No
	}
	r.badValue(l, "true or false")
	return schema.Unsaid
}

// unit reads the unit of a system's measures. Without it they say nothing.
func (r *reader) unit(l line, s *schema.System) {
	var buf [longestWord]byte
	switch string(r.word(buf[:0], l)) {
	case "DECIPOINTS":
		s.Unit = schema.Decipoints
	case "INCHES":
		s.Unit = schema.Inches
	case "CENTIMETERS", "CENTIMETRES":
		s.Unit = schema.Centimetres
	case "CM", "CENTIMETER", "CENTIMETRE":
		s.Unit = schema.Centimetres
		r.nearUnit(l, "Centimeters")
	case "IN", "INCH":
		s.Unit = schema.Inches
		r.nearUnit(l, "Inches")
	default:
		s.Unit = schema.UnitUnstated
		r.unmeasured = append(r.unmeasured, s)
		r.badValue(l, "Decipoints, Inches or Centimeters")
		r.found[len(r.found)-1].Message += "; without it spacing and thickness say nothing"
	}
}

// longestWord is the length of the longest word that a value can be.
const longestWord = len("centimeters")

// word is a value of one word in upper case, empty where it is a longer one than
// there are.
func (r *reader) word(buf []byte, l line) []byte {
	at := r.plain(l)
	upper, ok := foldCase(buf, r.text[at.Start:at.End])
	if !ok {
		return nil
	}
	return upper
}

// plain is the part of a value that counts where the format wants numbers: what
// stands before a comment behind it, without commas at its end. What it leaves
// out is reported.
func (r *reader) plain(l line) schema.Span {
	at := plainPart(r.text, l.value)
	if at.End < l.value.End {
		r.leftOver(l, at)
	}
	return at
}

// plainPart is a value without a comment behind it and commas at its end.
func plainPart(text []byte, at schema.Span) schema.Span {
	if i := bytes.IndexByte(text[at.Start:at.End], ';'); i >= 0 {
		at.Start, at.End = trim(text, at.Start, at.Start+i)
	}
	for at.End > at.Start && (text[at.End-1] == ',' || blank(text[at.End-1])) {
		at.End--
	}
	return at
}

// wholeNumbers reads numbers parted by commas. Those that cannot be read are
// reported and left out.
func (r *reader) wholeNumbers(at schema.Span, l line) []int32 {
	list := r.numbers[:0]
	if plain, ok := r.plainly(l, at); ok {
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
		if next == end && end > start && v <= highestNumber {
			list = append(list, v)
		} else {
			bad = true
		}
		from = to + 1
	}
	if len(list) > 1 && slices.Contains(list, 0) {
		r.zeroInList[r.kind] = true
	}
	if bad && r.letterFinding(l, at) {
		return r.numbers[:0]
	}
	if bad {
		r.badValue(l, "whole numbers parted by commas, like 3 or 1,4")
	}
	return list
}

// numbersIn is whole numbers parted by commas, without those that cannot be read.
func numbersIn(text string) (list []int32) {
	for part := range strings.SplitSeq(text, ",") {
		if v, next := digits([]byte(strings.TrimSpace(part)), 0); next > 0 && next == len(strings.TrimSpace(part)) && v <= highestNumber {
			list = append(list, v)
		}
	}
	return list
}

// decimal reads a decimal number of 0 or more, with a point or with a comma for
// one.
func (r *reader) decimal(at schema.Span, l line) (float64, bool) {
	text := string(r.text[at.Start:at.End])
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
		r.doubt(schema.FileBadValue)
	}
	if r.extend(alike{schema.FileBadValue, k, expected}, l.span(), r.inTable(k)) {
		return
	}
	name, value := string(r.text[l.name.Start:l.name.End]), string(r.text[l.value.Start:l.value.End])
	r.report(schema.FileBadValue, l.span(),
		fmt.Sprintf("%s is no value for %s in section %s: it takes %s", wording.Quote(value), wording.Quote(name), sections[k].name, expected),
		schema.Data{{Key: "section", Value: sections[k].name}, {Key: "key", Value: wording.Plain(name, 60)},
			{Key: "value", Value: wording.Plain(value, 60)}, {Key: "expected", Value: expected}})
	r.unread()
}

// nearUnit reports a unit that is written otherwise than the format has it.
func (r *reader) nearUnit(l line, unit string) {
	value := string(r.text[l.value.Start:l.value.End])
	r.report(schema.FileBadValue, l.span(),
		fmt.Sprintf("%s in section %s is read as %s, but other programs may not know it; write %s", wording.Quote(value), sections[r.kind].name, unit, unit),
		schema.Data{{Key: "section", Value: sections[r.kind].name}, {Key: "key", Value: "Units"},
			{Key: "value", Value: wording.Plain(value, 60)}, {Key: "expected", Value: unit}},
		mend("write "+unit, plainPart(r.text, l.value), unit))
}

// finishMeasures leaves out what is measured in no unit.
func (r *reader) finishMeasures() {
	for _, s := range r.unmeasured {
		s.ForgetMeasures()
	}
}

func (r *reader) rangeUnstated(at schema.Span, high int32) {
	expected := fmt.Sprintf("Range=0,%d", high)
	var fixes []schema.Fix
	l := r.locator()
	if _, said := l.key(kindColorPalette, "Range"); !said && l.has(kindColorPalette) {
		fixes = append(fixes, schema.Fix{Title: "write " + expected, Risky: true, // another range is as likely
			Edits: l.setKey(kindColorPalette, "Range", strings.TrimPrefix(expected, "Range="))})
	}
	r.report(schema.FileBadValue, lex(r.text, at.Start).span(),
		fmt.Sprintf("the colors go beyond 255 and the palette does not say its range; they are read as 0 to %d: write %s in COLOR PALETTE", high, expected),
		schema.Data{{Key: "section", Value: sections[kindColorPalette].name}, {Key: "key", Value: "Range"},
			{Key: "value", Value: ""}, {Key: "expected", Value: expected}}, fixes...)
}

func (r *reader) decimalComma(l line, at schema.Span) {
	text := string(r.text[at.Start:at.End])
	comma := at.Start + strings.IndexByte(text, ',')
	fix := mend("", schema.Span{Start: comma, End: comma + 1}, ".")
	what := ""
	if before := text[:strings.IndexByte(text, ',')]; len(text)-len(before) == 4 && strings.Trim(before, "0") != "" {
		fix, what = atRisk(fix), "thousands" // 1,250 may be 1.25 or 1250
	}
	if r.extend(alike{schema.FileDecimalComma, r.kind, what}, l.span(), r.inTable(r.kind), fix.Edits...) {
		return
	}
	point := strings.Replace(text, ",", ".", 1)
	fix.Title = "write " + point
	name := string(r.text[l.name.Start:l.name.End])
	r.report(schema.FileDecimalComma, l.span(),
		fmt.Sprintf("%s has a decimal comma, which other programs misread; write %s", wording.Quote(text), point),
		schema.Data{{Key: "section", Value: sections[r.kind].name}, {Key: "key", Value: wording.Plain(name, 60)}, {Key: "value", Value: text}},
		fix)
}

func (r *reader) foreignVersion(l line, at schema.Span) {
	text := string(r.text[at.Start:at.End])
	r.report(schema.FileVersion, l.span(),
		fmt.Sprintf("version %s of the format is not one of 1.0 and 1.1; it is read as 1.1: look whether all of it came over", wording.Quote(text)),
		schema.Data{{Key: "version", Value: wording.Plain(text, 60)}},
		schema.Fix{Title: "write 1.1", Risky: true, Edits: []schema.Edit{{Span: at, New: "1.1"}}})
}
