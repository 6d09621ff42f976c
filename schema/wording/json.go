package wording

import (
	"bytes"
	"encoding/json"
	"fmt"
	"unicode/utf8"
)

// JSON returns a value as JSON, in the form that every command writes: without
// HTML escapes and without a line break at the end. Each line after the first
// begins with prefix, then indent for each level. Without either, all is on one
// line.
//
// In strings, JSON escapes as \uXXXX each character that Printable replaces, and
// the bracket of a mark that CI services obey (see LogGuard). Programs read the
// same data.
func JSON(value any, prefix, indent string) ([]byte, error) {
	return new(JSONEncoder).Encode(value, prefix, indent)
}

// JSONEncoder encodes many values and reuses its memory. The zero value is ready
// for use, by one goroutine.
type JSONEncoder struct {
	buffer  bytes.Buffer
	encoder *json.Encoder
}

// Encode returns the same text as JSON. The text is valid until the next call.
func (e *JSONEncoder) Encode(value any, prefix, indent string) ([]byte, error) {
	if e.encoder == nil {
		e.encoder = json.NewEncoder(&e.buffer)
		e.encoder.SetEscapeHTML(false)
	}
	e.buffer.Reset()
	e.encoder.SetIndent(prefix, indent)
	if err := e.encoder.Encode(value); err != nil {
		return nil, err
	}
	return escapeHidden(bytes.TrimSuffix(e.buffer.Bytes(), []byte("\n"))), nil
}

// escapeHidden needs no parser: the characters that it escapes occur only in
// strings.
func escapeHidden(text []byte) []byte {
	if isPlain(text) {
		return text
	}
	out := make([]byte, 0, len(text)+64)
	var mark hashMark
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRune(text[i:])
		switch marked := mark.ends(r); {
		case r > 0xffff && Printable(r) != r:
			out = fmt.Appendf(out, `\u%04x\u%04x`, 0xd800+(r-0x10000)>>10, 0xdc00+(r-0x10000)&0x3ff)
		case marked, r >= 0x7f && Printable(r) != r:
			out = fmt.Appendf(out, `\u%04x`, r)
		default:
			out = append(out, text[i:i+size]...)
		}
		i += size
	}
	return out
}

// isPlain reports whether a text needs no escapes, as most don't.
func isPlain(text []byte) bool {
	for i, c := range text {
		if c >= 0x7f || c == '#' && i > 0 && text[i-1] == '#' {
			return false
		}
	}
	return true
}
