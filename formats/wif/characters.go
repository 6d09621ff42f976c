package wif

import (
	"fmt"
	"strconv"
	"strings"

	"fettle/schema"
)

// This file reads numbers with characters in them that are none of a number's:
// letters typed for digits, as in 30=O.

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
	if r.fold(alike{schema.FileBadValue, r.kind, "letters"}, l.span(), r.inTable(r.kind), edit) {
		return true
	}
	name, value := string(r.text[l.name.Start:l.name.End]), string(r.text[at.Start:at.End])
	what := "row " + schema.Plain(name, 30)
	if !r.inTable(r.kind) {
		what = schema.Plain(name, 30)
	}
	r.report(schema.FileBadValue, l.span(),
		fmt.Sprintf("%s in %s of section %s has the letter %c in the place of a digit; write %s if that is meant",
			schema.Quote(value), what, sections[r.kind].name, letter, schema.Plain(meant, 30)),
		schema.Data{{Key: "section", Value: sections[r.kind].name}, {Key: "key", Value: schema.Plain(name, 60)},
			{Key: "value", Value: schema.Plain(value, 60)}, {Key: "expected", Value: schema.Plain(meant, 60)}},
		schema.Fix{Title: "write " + schema.Plain(meant, 30), Risky: true, Changes: true, Edits: []schema.Edit{edit}})
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
	if r.fold(alike{schema.FileUnknownKey, r.kind, "letters"}, l.span(), true, edit) {
		return true
	}
	r.report(schema.FileUnknownKey, l.span(),
		fmt.Sprintf("the row number %s in section %s has the letter %c in the place of a digit; write %s if that is meant",
			schema.Quote(string(name)), sections[r.kind].name, letter, meant),
		schema.Data{{Key: "name", Value: schema.Plain(string(name), 60)}, {Key: "suggestion", Value: meant}},
		schema.Fix{Title: "write " + meant, Risky: true, Changes: true, Edits: []schema.Edit{edit}})
	return true
}
