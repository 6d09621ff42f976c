package wording

import (
	"bytes"
	"encoding/json"
	"fmt"
	"unicode/utf8"
)

// JSON returns a value as every command writes JSON: without the escapes that
// only HTML needs, and without a line break at the end. Each line but the first
// begins with prefix, and with indent for each level; with neither, all stands on
// one line.
//
// In strings, a character that a terminal obeys or hides (Printable replaces it)
// is escaped as \uXXXX, and so is the bracket of a mark that CI services take for
// a command (see LogGuard). Programs read the same data.
func JSON(value any, prefix, indent string) ([]byte, error) {
	return new(JSONEncoder).Encode(value, prefix, indent)
}

// JSONEncoder encodes many values, one after the other, without new memory for
// each. The zero value is ready for use by one goroutine.
type JSONEncoder struct {
	buffer  bytes.Buffer
	encoder *json.Encoder
}

// Encode returns a value as JSON does. The text is valid until the next call.
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

// escapeHidden escapes what is to be escaped in JSON. Outside of strings there is
// none of it.
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

// isPlain reports whether a text is ASCII and has no mark that could be taken for
// a command, as most are.
func isPlain(text []byte) bool {
	for i, c := range text {
		if c >= 0x7f || c == '#' && i > 0 && text[i-1] == '#' {
			return false
		}
	}
	return true
}
