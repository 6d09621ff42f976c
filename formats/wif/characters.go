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

// This file reads lines with characters in them that do not belong there: letters
// typed for digits, as in 30=O, quotation marks, digits of full width, blanks that
// are no spaces, and marks of the beginning or the end of a file.

// wide are white space and marks that other programs do not take for white space.
var wide = []struct{ text, name, plain string }{
	{"\u00a0", "non-breaking space", " "}, {"\u202f", "narrow non-breaking space", " "}, {"\u2007", "figure space", " "},
	{"\u3000", "ideographic space", " "}, {"\u200b", "zero-width space", ""}, {"\ufeff", "byte order mark", ""}, {"\x1a", "end-of-file mark (Ctrl-Z)", ""},
}

// wideAt is how many bytes of wide white space a text begins with.
func wideAt(text []byte) int {
	for _, w := range wide {
		if hasAt(text, 0, w.text) {
			return len(w.text)
		}
	}
	return 0
}

// wideBefore is how many bytes of wide white space a text ends with.
func wideBefore(text []byte) int {
	for _, w := range wide {
		if hasAt(text, max(len(text)-len(w.text), 0), w.text) {
			return len(w.text)
		}
	}
	return 0
}

// wideSpaces reports wide white space in a section line or a key, but for that
// which is kept as it stands: in texts, comments and keys that the format does not
// have.
func (r *reader) wideSpaces(l line, at int) {
	end := l.end
	for end < l.next && r.text[end] != '\n' && r.text[end] != '\r' {
		end++
	}
	switch l.sort {
	case sortSection:
		r.wideBetween(at, max(l.name.End, l.rest.Start))
	case sortKey:
		name := l.name.Start
		if r.kind.keyOf(r.text[l.name.Start:l.name.End]) >= 0 {
			name = l.name.End
		}
		r.wideBetween(at, name)
		r.wideBetween(l.name.End, l.value.Start)
		if n := len(r.typed); sections[r.kind].form == numbers && rowOf(r.text, l) > 0 && (n == 0 || r.typed[n-1].line.start != l.start) {
			r.wideBetween(l.value.Start, l.value.End)
		}
		r.wideBetween(l.end, end)
	}
}

// wideBetween reports the wide white space between two offsets.
func (r *reader) wideBetween(from, to int) {
	for i := from; i < to; i++ {
		if r.text[i] < 0x80 && r.text[i] != endOfText {
			continue
		}
		for _, w := range wide {
			if hasAt(r.text[:to], i, w.text) {
				r.wideFinding(schema.Span{Start: i, End: i + len(w.text)}, w.name, w.plain)
				i += len(w.text) - 1
				break
			}
		}
	}
}

func (r *reader) wideFinding(at schema.Span, name, plain string) {
	fix := mend("delete it", at, plain)
	todo := "delete it"
	if plain != "" {
		fix.Title, todo = "write a space", "write a space"
	}
	if r.extend(alike{schema.FileStrayLine, kindUnknown, name}, at, true, fix.Edits...) {
		return
	}
	r.report(schema.FileStrayLine, at, "there is a "+name+" here, and other programs cannot read the line; "+todo,
		schema.Data{{Key: "name", Value: name}, {Key: "suggestion", Value: plain}}, fix)
}

// plainNumbers is a value without quotation marks, and with plain digits and commas
// for those of full width; what it had, "" where it had neither or is no numbers;
// and whether nothing else can be meant.
func plainNumbers(text []byte) (plain, had string, certain bool) {
	quotes := 0
	var b strings.Builder
	for _, c := range string(text) {
		switch {
		case strings.ContainsRune("\"'\u201c\u201d\u201e\u2018\u2019\u00ab\u00bb", c):
			quotes++
			had = "quotation marks"
		case c >= '\uff10' && c <= '\uff19':
			b.WriteRune(c - '\uff10' + '0')
			had = "digits of full width"
		case c == '\uff0c':
			b.WriteByte(',')
			had = "digits of full width"
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

// plainly reads a value that has quotation marks or digits of full width, reports
// them, and gives the value without; ok only where there are any.
func (r *reader) plainly(l line, at schema.Span) (plain string, ok bool) {
	if !odd(r.text[at.Start:at.End]) {
		return "", false
	}
	plain, had, certain := plainNumbers(r.text[at.Start:at.End])
	if had == "" {
		return "", false
	}
	edit := schema.Edit{Span: at, New: plain}
	what := had
	if !certain {
		what += " at risk"
	}
	if r.extend(alike{schema.FileBadValue, r.kind, what}, l.span(), r.inTable(r.kind), edit) {
		return plain, true
	}
	name, value := string(r.text[l.name.Start:l.name.End]), string(r.text[at.Start:at.End])
	r.report(schema.FileBadValue, l.span(),
		fmt.Sprintf("%s in section %s has %s, and other programs cannot read it; write %s", wording.Quote(value), sections[r.kind].name, had, wording.Plain(plain, 60)),
		schema.Data{{Key: "section", Value: sections[r.kind].name}, {Key: "key", Value: wording.Plain(name, 60)},
			{Key: "value", Value: wording.Plain(value, 60)}, {Key: "expected", Value: wording.Plain(plain, 60)}},
		schema.Fix{Title: "write " + wording.Plain(plain, 30), Risky: !certain, Edits: []schema.Edit{edit}})
	return plain, true
}

// odd says whether a text may have quotation marks or characters beyond ASCII.
func odd(text []byte) bool {
	for _, c := range text {
		if c >= 0x80 || c == '"' || c == '\'' {
			return true
		}
	}
	return false
}

// wholeRow takes a row that stands in quotation marks as a whole, as in "1=1,2", and
// gives the line without them.
func (r *reader) wholeRow(l line) (line, bool) {
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
	if !r.extend(alike{schema.FileBadValue, r.kind, "row in quotation marks"}, l.span(), true, edit) {
		r.report(schema.FileBadValue, l.span(),
			fmt.Sprintf("%s in section %s stands in quotation marks, and other programs skip the row; write %s", wording.Quote(string(r.text[all.Start:all.End])),
				sections[r.kind].name, wording.Plain(edit.New, 60)),
			schema.Data{{Key: "section", Value: sections[r.kind].name}, {Key: "key", Value: string(r.text[inner.name.Start:inner.name.End])},
				{Key: "value", Value: wording.Plain(string(r.text[all.Start:all.End]), 60)}, {Key: "expected", Value: wording.Plain(edit.New, 60)}},
			schema.Fix{Title: "write " + wording.Plain(edit.New, 30), Edits: []schema.Edit{edit}})
	}
	return inner, true
}

// lettersFor are the letters that are typed for a digit.
var lettersFor = map[byte]byte{'O': '0', 'o': '0', 'Q': '0', 'l': '1', 'I': '1', 'i': '1', '|': '1', 'Z': '2', 'z': '2', 'S': '5', 's': '5', 'b': '6', 'B': '8', 'g': '9', 'q': '9'}

// digitsMeant is a list of numbers with the digits that letters stand for, and the
// first of those letters; 0 where letters are not all that is wrong.
func digitsMeant(text []byte) (meant string, letter byte) {
	out := []byte(string(text))
	for from := 0; from < len(out); {
		to := from
		for to < len(out) && out[to] != ',' && out[to] != ' ' {
			to++
		}
		digit, bar := false, true // bar: only letters that look like nothing else
		for i := from; i < to; i++ {
			d := lettersFor[out[i]]
			switch {
			case isDigit(out[i]):
				digit = true
				continue
			case d == 0:
				return "", 0
			case letter == 0:
				letter = out[i]
			}
			bar = bar && (d == '0' || d == '1')
			out[i] = d
		}
		if to-from > 1 && !digit && !bar || to-from > 4 {
			return "", 0 // a word
		}
		from = to + 1
	}
	return string(out), letter
}

// letterFinding reports letters typed for digits in the value of a row or a count, and says
// whether there are any.
func (r *reader) letterFinding(l line, at schema.Span) bool {
	meant, letter := digitsMeant(r.text[at.Start:at.End])
	if letter == 0 {
		return false
	}
	edit := schema.Edit{Span: at, New: meant}
	if r.kind.isWeave() {
		r.doubt(schema.FileBadValue)
	}
	if r.extend(alike{schema.FileBadValue, r.kind, "letters"}, l.span(), r.inTable(r.kind), edit) {
		return true
	}
	name, value := string(r.text[l.name.Start:l.name.End]), string(r.text[at.Start:at.End])
	what := "row " + wording.Plain(name, 30)
	if !r.inTable(r.kind) {
		what = wording.Plain(name, 30)
	}
	r.report(schema.FileBadValue, l.span(),
		fmt.Sprintf("%s in %s of section %s has the letter %c in the place of a digit; write %s if that is meant",
			wording.Quote(value), what, sections[r.kind].name, letter, wording.Plain(meant, 30)),
		schema.Data{{Key: "section", Value: sections[r.kind].name}, {Key: "key", Value: wording.Plain(name, 60)},
			{Key: "value", Value: wording.Plain(value, 60)}, {Key: "expected", Value: wording.Plain(meant, 60)}},
		schema.Fix{Title: "write " + wording.Plain(meant, 30), Risky: true, Changes: true, Edits: []schema.Edit{edit}})
	r.unread()
	return true
}

// letterRow reports letters typed for digits in the number of a row, and says
// whether there are any.
func (r *reader) letterRow(l line, name []byte) bool {
	meant, letter := digitsMeant(name)
	if n, err := strconv.Atoi(meant); letter == 0 || err != nil || n == 0 || strings.ContainsAny(meant, ", ") {
		return false
	}
	edit := schema.Edit{Span: l.name, New: meant}
	if r.extend(alike{schema.FileUnknownKey, r.kind, "letters"}, l.span(), true, edit) {
		return true
	}
	r.report(schema.FileUnknownKey, l.span(),
		fmt.Sprintf("the row number %s in section %s has the letter %c in the place of a digit; write %s if that is meant",
			wording.Quote(string(name)), sections[r.kind].name, letter, meant),
		schema.Data{{Key: "name", Value: wording.Plain(string(name), 60)}, {Key: "suggestion", Value: meant}},
		schema.Fix{Title: "write " + meant, Risky: true, Changes: true, Edits: []schema.Edit{edit}})
	return true
}
