package draftjson

import (
	"bytes"
	"iter"
	"math"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json/jsontext"

	"fettle/schema"
)

// member is a property of an object, in byte offsets of the whole text.
type member struct {
	name      string
	key, data schema.Span
}

// lenient takes names that stand twice, which the reader reports itself, and
// what is no UTF-8, which the whole file is checked for before.
var lenient = []jsontext.Options{jsontext.AllowDuplicateNames(true), jsontext.AllowInvalidUTF8(true)}

// members are the properties of the object at a span, in order; none where
// there is no object. Names that stand twice are both there.
func members(text []byte, at schema.Span) []member {
	d := jsontext.NewDecoder(bytes.NewBuffer(text[at.Start:at.End]), lenient...)
	if t, err := d.ReadToken(); err != nil || t.Kind() != '{' {
		return nil
	}
	var list []member
	for d.PeekKind() == '"' {
		name, err := d.ReadToken()
		if err != nil {
			break
		}
		m := member{name: name.String()}
		m.key.End = at.Start + int(d.InputOffset())
		m.key.Start = m.key.End - quotedLength(text[:m.key.End])
		if m.data, err = value(d, at.Start); err != nil {
			break
		}
		list = append(list, m)
	}
	return list
}

// each gives the values of the array at a span, in order; none where there is no
// array.
func each(text []byte, at schema.Span) iter.Seq[schema.Span] {
	return func(use func(schema.Span) bool) {
		d := jsontext.NewDecoder(bytes.NewBuffer(text[at.Start:at.End]), lenient...)
		if t, err := d.ReadToken(); err != nil || t.Kind() != '[' {
			return
		}
		for k := d.PeekKind(); k != ']' && k != 0; k = d.PeekKind() {
			if v, err := value(d, at.Start); err != nil || !use(v) {
				return
			}
		}
	}
}

// value is where the next value of a decoder stands.
func value(d *jsontext.Decoder, base int) (schema.Span, error) {
	v, err := d.ReadValue()
	end := base + int(d.InputOffset())
	return schema.Span{Start: end - len(v), End: end}, err
}

// quotedLength is the length of the quoted string that a text ends in.
func quotedLength(text []byte) int {
	for i := len(text) - 2; i >= 0; i-- {
		if text[i] != '"' {
			continue
		}
		slashes := 0
		for i-slashes > 0 && text[i-slashes-1] == '\\' {
			slashes++
		}
		if slashes%2 == 0 {
			return len(text) - i
		}
	}
	return len(text)
}

// longestNumber is more characters than any number in a draft has.
const longestNumber = 40

// unmeant finds the first number that no draft can mean: one of more digits than
// a measure can have, or with an exponent beyond them. Such a number would cost
// a reader of exact numbers more than the whole draft.
func unmeant(text []byte, at schema.Span) (schema.Span, bool) {
	d := jsontext.NewDecoder(bytes.NewBuffer(text[at.Start:at.End]), lenient...)
	for {
		if d.PeekKind() != '0' {
			if _, err := d.ReadToken(); err != nil {
				return schema.Span{}, false
			}
			continue
		}
		n, err := value(d, at.Start)
		if err != nil {
			return schema.Span{}, false
		}
		v, err := strconv.ParseFloat(string(text[n.Start:min(n.End, n.Start+longestNumber)]), 64)
		if n.End-n.Start > longestNumber || err != nil || v != 0 && (math.Abs(v) > 1e30 || math.Abs(v) < 1e-30) {
			return n, true
		}
	}
}

// whole is the whole number at a span, at least 0.
func whole(text []byte, at schema.Span) (int, bool) {
	v, err := strconv.ParseFloat(string(text[at.Start:at.End]), 64)
	if err != nil || v < 0 || v > 1<<40 || v != float64(int(v)) {
		return 0, false
	}
	return int(v), true
}

// number is the palette, shaft or treadle number at a span, 0 where there is
// none that can be meant.
func number(text []byte, at schema.Span) int32 {
	v, ok := whole(text, at)
	if !ok || v > schema.Belief {
		return 0
	}
	return int32(v)
}

// measure is the decimal number at a span, 0 where there is none that can be
// meant.
func measure(text []byte, at schema.Span) float64 {
	v, err := strconv.ParseFloat(string(text[at.Start:at.End]), 64)
	if err != nil || v < 0 || v > schema.Belief {
		return 0
	}
	return v
}

// words is the string at a span, "" where there is none.
func words(text []byte, at schema.Span) string {
	if text[at.Start] != '"' {
		return ""
	}
	b, err := jsontext.AppendUnquote(nil, text[at.Start:at.End])
	if err != nil {
		return ""
	}
	return strings.ToValidUTF8(string(b), "\ufffd")
}

// asText is a string, or a number or truth value as it is written.
func asText(text []byte, at schema.Span) string {
	switch text[at.Start] {
	case '"':
		return words(text, at)
	case '{', '[', 'n':
		return ""
	}
	return string(text[at.Start:at.End])
}
