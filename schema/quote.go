package schema

import "strings"

// Quote puts a value from a file between quotation marks for a message. Control
// characters and line breaks become a space and long values are cut, so that a
// draft cannot drive a terminal or break a report through its own text.
func Quote(s string) string { return "'" + Plain(s, 60) + "'" }

// Plain is a value from a file fit for one line of a message: no control or
// direction-changing characters, no line breaks, at most that many characters.
func Plain(s string, most int) string {
	var b strings.Builder
	n := 0
	for _, r := range s {
		if n == most {
			b.WriteString("…")
			break
		}
		n++
		b.WriteRune(Printable(r))
	}
	return b.String()
}

// Printable is a character as it may stand in a report: itself, or a space for
// a control character, or the replacement character for one that would change
// the direction or hide the rest of the line.
func Printable(r rune) rune {
	switch {
	case r < 0x20 || r >= 0x7f && r < 0xa0:
		return ' '
	case r >= 0x200b && r <= 0x200f, r >= 0x2028 && r <= 0x202e,
		r >= 0x2060 && r <= 0x206f, r == 0xfeff, r == 0xad, r == 0x61c:
		return '\ufffd'
	}
	return r
}
