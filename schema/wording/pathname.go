package wording

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// PathName returns a path as reports show it, on one line; ParsePathName reads it
// back. It quotes a name that contains a quotation mark, a backslash, a character
// that Printable replaces or bytes that aren't UTF-8, and escapes those bytes as
// git does in a diff. Other names stay unchanged. Call filepath.ToSlash on the
// path first.
func PathName(path string) string {
	if !needsQuotes(path) {
		return path
	}
	var b strings.Builder
	b.WriteByte('"')
	for i := 0; i < len(path); {
		r, size := utf8.DecodeRuneInString(path[i:])
		switch short := strings.IndexByte(shortNames, path[i]); {
		case short >= 0:
			b.WriteByte('\\')
			b.WriteByte(shortLetters[short])
		case r == utf8.RuneError && size == 1 || Printable(r) != r:
			for _, c := range []byte(path[i : i+size]) {
				fmt.Fprintf(&b, `\%03o`, c)
			}
		default:
			b.WriteString(path[i : i+size])
		}
		i += size
	}
	b.WriteByte('"')
	return b.String()
}

// The bytes with an escape of one letter, and those letters in the same order.
const (
	shortNames   = "\a\b\t\n\v\f\r\"\\"
	shortLetters = `abtnvfr"\`
)

func needsQuotes(path string) bool {
	for i, r := range path {
		switch {
		case r == '"' || r == '\\' || Printable(r) != r:
			return true
		case r == utf8.RuneError:
			if _, size := utf8.DecodeRuneInString(path[i:]); size == 1 {
				return true
			}
		}
	}
	return false
}

// ParsePathName returns the path that a text from PathName stands for. It returns
// an error if a quotation mark or an escape is incomplete.
func ParsePathName(name string) (string, error) {
	if !strings.HasPrefix(name, `"`) {
		return name, nil
	}
	damaged := fmt.Errorf("the file name %s is damaged: a quotation mark or an escape in it is incomplete", Quote(name))
	if len(name) < 2 || name[len(name)-1] != '"' {
		return "", damaged
	}
	inner := name[1 : len(name)-1]
	var b strings.Builder
	for i := 0; i < len(inner); i++ {
		if inner[i] == '"' {
			return "", damaged
		}
		if inner[i] != '\\' {
			b.WriteByte(inner[i])
			continue
		}
		if i++; i == len(inner) {
			return "", damaged
		}
		if short := strings.IndexByte(shortLetters, inner[i]); short >= 0 {
			b.WriteByte(shortNames[short])
			continue
		}
		c, ok := octal(inner[i:])
		if !ok {
			return "", damaged
		}
		b.WriteByte(c)
		i += 2
	}
	return b.String(), nil
}

// octal reads a byte written as three octal digits.
func octal(s string) (c byte, ok bool) {
	if len(s) < 3 || s[0] > '3' {
		return 0, false
	}
	for _, d := range []byte(s[:3]) {
		if d < '0' || d > '7' {
			return 0, false
		}
		c = c<<3 | (d - '0')
	}
	return c, true
}
