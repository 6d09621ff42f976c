package draftjson

import (
	"bytes"
	"iter"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/go-json-experiment/json/jsontext"

	"fettle/schema"
)

// This file reads JSON. The library checks that it is valid; after that, a cursor
// moves over it without looking for mistakes.

// parse returns the span of the first JSON value in a text. It accepts duplicate
// names, which the reader reports, and invalid UTF-8, which is checked for the whole
// file.
func parse(text []byte) (schema.Span, error) {
	d := jsontext.NewDecoder(bytes.NewBuffer(text), jsontext.AllowDuplicateNames(true), jsontext.AllowInvalidUTF8(true))
	v, err := d.ReadValue()
	end := int(d.InputOffset())
	return schema.Span{Start: end - len(v), End: end}, err
}

// cursor moves over valid JSON.
type cursor struct {
	text      []byte
	at        int
	badNumber schema.Span // the first absurd number
}

// peek skips space and returns the next byte, 0 at the end.
func (c *cursor) peek() byte {
	i, text := c.at, c.text
	for i < len(text) && text[i] <= ' ' { // valid JSON has no other control characters here
		i++
	}
	c.at = i
	if i == len(text) {
		return 0
	}
	return text[i]
}

// open enters the object or list at the cursor. It returns false if there is none.
func (c *cursor) open(bracket byte) bool {
	if c.peek() != bracket {
		return false
	}
	c.at++
	return true
}

// next moves to the next element or property. At the closing bracket it leaves and
// returns false.
func (c *cursor) next() bool {
	b := c.peek()
	if b == ',' {
		c.at++
		b = c.peek()
	}
	if b == ']' || b == '}' || b == 0 {
		c.at = min(c.at+1, len(c.text))
		return false
	}
	return true
}

// key reads the name of a property and moves to its value.
func (c *cursor) key() schema.Span {
	key := c.value()
	if c.peek() == ':' {
		c.at++
	}
	c.peek()
	return key
}

// value skips the value at the cursor and returns its span.
func (c *cursor) value() schema.Span {
	c.peek()
	start, depth := c.at, 0
	for c.at < len(c.text) {
		switch b := c.text[c.at]; b {
		case '"':
			c.skipString()
		case '{', '[':
			depth++
			c.at++
		case '}', ']':
			depth--
			c.at++
		case ' ', '\n', '\r', '\t', ',', ':':
			c.at++
			continue // doesn't end a value
		default:
			c.skipScalar()
		}
		if depth <= 0 {
			break
		}
	}
	return schema.Span{Start: start, End: c.at}
}

func (c *cursor) skipString() {
	for c.at++; c.at < len(c.text); c.at++ {
		i := bytes.IndexByte(c.text[c.at:], '"')
		if i < 0 {
			c.at = len(c.text)
			return
		}
		from := c.at
		c.at += i
		slashes := 0
		for c.at-slashes > from && c.text[c.at-slashes-1] == '\\' {
			slashes++
		}
		if slashes%2 == 0 {
			c.at++
			return
		}
	}
}

// maxDigits is longer than any number in a draft.
const maxDigits = 40

// skipScalar skips a number or a literal. It records an absurd number: one with too
// many digits, or with a huge exponent, which would cost an exact validator more than
// the whole draft.
func (c *cursor) skipScalar() {
	start, odd := c.at, false
scan:
	for c.at < len(c.text) {
		switch c.text[c.at] {
		case ' ', '\n', '\r', '\t', ',', ':', ']', '}', '[', '{', '"':
			break scan
		case 'e', 'E':
			odd = true
		}
		c.at++
	}
	if c.at == start {
		c.at++ // only invalid JSON gets here
	}
	if first := c.text[start]; c.at-start < 30 && !odd || first != '-' && (first < '0' || first > '9') || c.badNumber.End > 0 {
		return
	}
	v, err := strconv.ParseFloat(string(c.text[start:min(c.at, start+maxDigits)]), 64)
	if c.at-start > maxDigits || err != nil || v != 0 && (math.Abs(v) > 1e30 || math.Abs(v) < 1e-30) {
		c.badNumber = schema.Span{Start: start, End: c.at}
	}
}

// digits reads a number of a few digits without sign or point, as nearly all are.
func (c *cursor) digits() (n int32, ok bool) {
	const most = 9
	i := c.at
	for ; i < len(c.text) && i < c.at+most; i++ {
		d := c.text[i] - '0'
		if d > 9 {
			break
		}
		n = n*10 + int32(d)
	}
	if i == c.at || i < len(c.text) && !endsNumber(c.text[i]) {
		return 0, false
	}
	c.at = i
	return n, true
}

func endsNumber(b byte) bool {
	return b == ',' || b == ']' || b == '}' || b == '\n' || b == ' ' || b == '\r' || b == '\t'
}

// number reads a palette, shaft or treadle number. It returns 0 and false for anything
// else.
func (c *cursor) number() (n int32, right bool) {
	n, ok := c.digits()
	if !ok {
		v, whole := wholeNumber(c.raw())
		if !whole || v > schema.MostExtraRows {
			return 0, false
		}
		return int32(v), true
	}
	if n > schema.MostExtraRows {
		return 0, false
	}
	return n, true
}

// tens are powers of ten that a float holds exactly.
var tens = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15}

// measure reads a decimal number of 0 or more. It returns 0 and false for anything
// else.
func (c *cursor) measure() (v float64, right bool) {
	digits, point, whole := 0, -1, uint64(0)
	i := c.at
	for ; i < len(c.text) && digits < len(tens); i++ {
		if d := c.text[i] - '0'; d <= 9 {
			whole = whole*10 + uint64(d)
			digits++
		} else if c.text[i] == '.' && point < 0 {
			point = digits
		} else {
			break
		}
	}
	if digits > 0 && digits < len(tens) && (i == len(c.text) || endsNumber(c.text[i])) {
		c.at = i
		v = float64(whole)
		if point >= 0 {
			v /= tens[digits-point] // correctly rounded, because a float holds both exactly
		}
		return believed(v)
	}
	v, err := strconv.ParseFloat(string(c.raw()), 64)
	if err != nil {
		return 0, false
	}
	return believed(v)
}

func believed(v float64) (float64, bool) {
	if v < 0 || v > schema.MostExtraRows {
		return 0, false
	}
	return v, true
}

// raw skips the value at the cursor and returns its text.
func (c *cursor) raw() []byte {
	at := c.value()
	return c.text[at.Start:at.End]
}

// wholeNumber reads a whole number of 0 or more.
func wholeNumber(raw []byte) (int, bool) {
	v, err := strconv.ParseFloat(string(raw), 64)
	if err != nil || v < 0 || v > 1<<40 || v != float64(int(v)) {
		return 0, false
	}
	return int(v), true
}

// unquoted returns the text of a string, "" for any other value.
func unquoted(raw []byte) string {
	if len(raw) < 2 || raw[0] != '"' {
		return ""
	}
	if inner := raw[1 : len(raw)-1]; bytes.IndexByte(inner, '\\') < 0 && utf8.Valid(inner) {
		return string(inner)
	}
	b, _ := jsontext.AppendUnquote(nil, raw) // the only error is half a surrogate pair, which b marks
	return strings.ToValidUTF8(string(b), "\ufffd")
}

// member is a property of an object, with spans in the whole text.
type member struct {
	name      string
	key, data schema.Span
}

// members yields the properties of the object at a span, with duplicates.
func members(text []byte, at schema.Span) iter.Seq[member] {
	return func(use func(member) bool) {
		c := cursor{text: text[:at.End], at: at.Start}
		if !c.open('{') {
			return
		}
		for c.next() {
			key := c.key()
			if !use(member{unquoted(text[key.Start:key.End]), key, c.value()}) {
				return
			}
		}
	}
}

// elements yields the values of the list at a span.
func elements(text []byte, at schema.Span) iter.Seq[schema.Span] {
	return func(use func(schema.Span) bool) {
		c := cursor{text: text[:at.End], at: at.Start}
		if !c.open('[') {
			return
		}
		for c.next() {
			if !use(c.value()) {
				return
			}
		}
	}
}
