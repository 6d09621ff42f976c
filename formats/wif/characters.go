package wif

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"fettle/schema"
	"fettle/schema/wording"
)

// This file reads lines with wrong characters: letters typed for digits (30=O),
// quotation marks, full-width digits, odd spaces, and byte order and end-of-file
// marks.

// oddSpaces are spaces and marks that other programs don't read as white space.
var oddSpaces = []struct{ text, name, plain string }{
	{"\u00a0", "non-breaking space", " "}, {"\u202f", "narrow non-breaking space", " "}, {"\u2007", "figure space", " "},
	{"\u3000", "ideographic space", " "}, {"\u200b", "zero-width space", ""}, {"\ufeff", "byte order mark", ""}, {"\x1a", "end-of-file mark (Ctrl-Z)", ""},
}

// oddSpaceAt returns the length of the odd space at the start of a text, 0 for none.
func oddSpaceAt(text []byte) int {
	for _, w := range oddSpaces {
		if hasAt(text, 0, w.text) {
			return len(w.text)
		}
	}
	return 0
}

// oddSpaceBefore returns the length of the odd space at the end of a text, 0 for none.
func oddSpaceBefore(text []byte) int {
	for _, w := range oddSpaces {
		if hasAt(text, max(len(text)-len(w.text), 0), w.text) {
			return len(w.text)
		}
	}
	return 0
}

// checkSpaces reports odd spaces in a section line or a key, but not in texts,
// comments and unknown keys, which stay as they are.
func (r *reader) checkSpaces(l line, at int) {
	end := l.end
	for end < l.next && r.text[end] != '\n' && r.text[end] != '\r' {
		end++
	}
	switch l.sort {
	case sortSection:
		r.reportOddSpaces(at, max(l.name.End, l.rest.Start))
	case sortKey:
		name := l.name.Start
		if r.kind.keyOf(r.text[l.name.Start:l.name.End]) >= 0 {
			name = l.name.End
		}
		r.reportOddSpaces(at, name)
		r.reportOddSpaces(l.name.End, l.value.Start)
		if n := len(r.oddRows); sections[r.kind].form == formNumbers && rowOf(r.text, l) > 0 && (n == 0 || r.oddRows[n-1].line.start != l.start) {
			r.reportOddSpaces(l.value.Start, l.value.End)
		}
		r.reportOddSpaces(l.end, end)
	}
}

func (r *reader) reportOddSpaces(from, to int) {
	for i := from; i < to; i++ {
		if r.text[i] < 0x80 && r.text[i] != endOfText {
			continue
		}
		for _, w := range oddSpaces {
			if hasAt(r.text[:to], i, w.text) {
				r.reportOddSpace(schema.Span{Start: i, End: i + len(w.text)}, w.name, w.plain)
				i += len(w.text) - 1
				break
			}
		}
	}
}

func (r *reader) reportOddSpace(at schema.Span, name, plain string) {
	fix := replacement("delete it", at, plain)
	todo := "delete it"
	if plain != "" {
		fix.Title, todo = "write a space", "write a space"
	}
	if r.merge(similar{schema.FileStrayLine, kindUnknown, name}, at, true, fix.Edits...) {
		return
	}
	r.report(schema.FileStrayLine, at, "other programs can't read this line because of a "+name+"; "+todo, nameData(name, plain), fix)
}

// cleanNumbers returns numbers without quotation marks and with plain digits and
// commas instead of full-width ones. had names what it removed, "" if there was
// nothing or the text isn't numbers. certain reports whether only one meaning is
// possible.
func cleanNumbers(text []byte) (plain, had string, certain bool) {
	quotes := 0
	var b strings.Builder
	for _, c := range string(text) {
		switch {
		case strings.ContainsRune("\"'\u201c\u201d\u201e\u2018\u2019\u00ab\u00bb", c):
			quotes++
			had = "quotation marks"
		case c >= '\uff10' && c <= '\uff19':
			b.WriteRune(c - '\uff10' + '0')
			had = "full-width digits"
		case c == '\uff0c':
			b.WriteByte(',')
			had = "full-width digits"
		case c < 0x80 && (isDigit(byte(c)) || c == ',' || blank(byte(c))):
			b.WriteRune(c)
		default:
			return "", "", false
		}
	}
	if plain = strings.TrimSpace(b.String()); plain == "" {
		return "", "", false
	}
	first, _ := utf8.DecodeRune(text)
	last, _ := utf8.DecodeLastRune(text)
	around := quotes == 2 && !unicode.IsDigit(first) && !unicode.IsDigit(last)
	return plain, had, quotes == 0 || around
}

// cleaned reads a value with quotation marks or full-width digits, reports them, and
// returns the value without them. ok is false if there are none.
func (r *reader) cleaned(l line, at schema.Span) (plain string, ok bool) {
	if !mayNeedCleaning(r.text[at.Start:at.End]) {
		return "", false
	}
	plain, had, certain := cleanNumbers(r.text[at.Start:at.End])
	if had == "" {
		return "", false
	}
	edit := schema.Edit{Span: at, New: plain}
	what := had
	if !certain {
		what += " at risk"
	}
	if r.merge(similar{schema.FileBadValue, r.kind, what}, l.span(), r.inTable(r.kind), edit) {
		return plain, true
	}
	name, value := r.str(l.name), r.str(at)
	r.report(schema.FileBadValue, l.span(),
		fmt.Sprintf("%s in section %s has %s, so other programs can't read it; write %s", wording.Quote(value), sections[r.kind].name, had, wording.Plain(plain, 60)),
		valueData(r.kind, name, value, wording.Plain(plain, 60)),
		schema.Fix{Title: "write " + wording.Plain(plain, 30), Risky: !certain, Edits: []schema.Edit{edit}})
	return plain, true
}

// mayNeedCleaning reports whether a text has quotation marks or characters that
// aren't ASCII.
func mayNeedCleaning(text []byte) bool {
	for _, c := range text {
		if c >= 0x80 || c == '"' || c == '\'' {
			return true
		}
	}
	return false
}

// unquotedRow reads a row that is in quotation marks as a whole ("1=1,2").
func (r *reader) unquotedRow(l line) (line, bool) {
	if !r.kind.isWeave() || l.value.End-l.name.Start < 2 || r.text[l.name.Start] != '"' || r.text[l.value.End-1] != '"' {
		return l, false
	}
	all := schema.Span{Start: l.name.Start, End: l.value.End}
	inner := l
	inner.name.Start++
	inner.value.End--
	if _, next := digits(r.text, inner.name.Start); next != inner.name.End || next == inner.name.Start {
		return l, false
	}
	edit := schema.Edit{Span: all, New: string(r.text[all.Start+1 : all.End-1])}
	if !r.merge(similar{schema.FileBadValue, r.kind, "row in quotation marks"}, l.span(), true, edit) {
		r.report(schema.FileBadValue, l.span(),
			fmt.Sprintf("row %s in section %s is in quotation marks, so other programs skip it; write %s", wording.Quote(r.str(all)), sections[r.kind].name, wording.Plain(edit.New, 60)),
			valueData(r.kind, r.str(inner.name), r.str(all), wording.Plain(edit.New, 60)),
			schema.Fix{Title: "write " + wording.Plain(edit.New, 30), Edits: []schema.Edit{edit}})
	}
	return inner, true
}

// digitFor gives the digit that a letter is often typed for.
var digitFor = map[byte]byte{'O': '0', 'o': '0', 'Q': '0', 'l': '1', 'I': '1', 'i': '1', '|': '1', 'Z': '2', 'z': '2', 'S': '5', 's': '5', 'b': '6', 'B': '8', 'g': '9', 'q': '9'}

// lettersToDigits replaces the letters in a list of numbers by the digits they stand
// for. It also returns the first of these letters, 0 if the text isn't such a list.
func lettersToDigits(text []byte) (meant string, letter byte) {
	out := []byte(string(text))
	for from := 0; from < len(out); {
		to := from
		for to < len(out) && out[to] != ',' && out[to] != ' ' {
			to++
		}
		digit, onlyBars := false, true // onlyBars: only letters that look like 0 or 1
		for i := from; i < to; i++ {
			d := digitFor[out[i]]
			switch {
			case isDigit(out[i]):
				digit = true
				continue
			case d == 0:
				return "", 0
			case letter == 0:
				letter = out[i]
			}
			onlyBars = onlyBars && (d == '0' || d == '1')
			out[i] = d
		}
		if to-from > 1 && !digit && !onlyBars || to-from > 4 {
			return "", 0 // a word
		}
		from = to + 1
	}
	return string(out), letter
}

// reportLetters reports letters typed for digits in the value of a row or a count,
// and reports whether there are any.
func (r *reader) reportLetters(l line, at schema.Span) bool {
	meant, letter := lettersToDigits(r.text[at.Start:at.End])
	if letter == 0 {
		return false
	}
	edit := schema.Edit{Span: at, New: meant}
	if r.kind.isWeave() {
		r.markUnclear(schema.FileBadValue)
	}
	if r.merge(similar{schema.FileBadValue, r.kind, "letters"}, l.span(), r.inTable(r.kind), edit) {
		return true
	}
	name, value := r.str(l.name), r.str(at)
	what := "row " + wording.Plain(name, 30)
	if !r.inTable(r.kind) {
		what = wording.Plain(name, 30)
	}
	r.report(schema.FileBadValue, l.span(),
		fmt.Sprintf("%s in %s of section %s has the letter %c where a digit belongs; if you mean %s, write that",
			wording.Quote(value), what, sections[r.kind].name, letter, wording.Plain(meant, 30)),
		valueData(r.kind, name, value, wording.Plain(meant, 60)),
		schema.Fix{Title: "write " + wording.Plain(meant, 30), Risky: true, Changes: true, Edits: []schema.Edit{edit}})
	r.markUnread()
	return true
}

// reportLettersInIndex does the same for the number of a row.
func (r *reader) reportLettersInIndex(l line, name []byte) bool {
	meant, letter := lettersToDigits(name)
	if n, err := strconv.Atoi(meant); letter == 0 || err != nil || n == 0 || strings.ContainsAny(meant, ", ") {
		return false
	}
	edit := schema.Edit{Span: l.name, New: meant}
	if r.merge(similar{schema.FileUnknownKey, r.kind, "letters"}, l.span(), true, edit) {
		return true
	}
	r.report(schema.FileUnknownKey, l.span(),
		fmt.Sprintf("row number %s in section %s has the letter %c where a digit belongs; if you mean %s, write that",
			wording.Quote(string(name)), sections[r.kind].name, letter, meant),
		nameData(string(name), meant),
		schema.Fix{Title: "write " + meant, Risky: true, Changes: true, Edits: []schema.Edit{edit}})
	return true
}
