package wif

import (
	"fmt"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
)

// This file tells of values that are not what their key takes, or hardly.

func (r *reader) badValue(l line, expected string) {
	k := r.kindAt(l.start)
	if k.isWeave() {
		r.doubt(schema.FileBadValue)
	}
	if r.fold(alike{schema.FileBadValue, k, expected}, l.span(), r.inTable(k)) {
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
	if r.fold(alike{schema.FileDecimalComma, r.kind, what}, l.span(), r.inTable(r.kind), fix.Edits...) {
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
