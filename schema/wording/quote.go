// Package wording turns values into words for people, and makes text from files safe
// to print: it quotes, counts, lists and wraps, shows paths, and keeps text from
// driving terminals and CI services. All JSON is written here, for the same reason.
package wording

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

// Printable returns a character as it may stand in a report: itself, a space for
// a control character, or the replacement character for one that hides itself,
// changes the direction of the line, or may not stand in XML.
func Printable(r rune) rune {
	switch {
	case r < 0x20 || r >= 0x7f && r < 0xa0:
		return ' '
	case r >= 0x200b && r <= 0x200f, r >= 0x2028 && r <= 0x202e,
		r >= 0x2060 && r <= 0x206f, r == 0xfeff, r == 0xad, r == 0x61c, r == 0x180e,
		r >= 0xfff9 && r <= 0xfffb, r >= 0xe0000 && r <= 0xe007f, noCharacter(r):
		return '\ufffd'
	}
	return r
}

// noCharacter reports whether Unicode says that a number never is a character.
func noCharacter(r rune) bool { return r&0xfffe == 0xfffe || r >= 0xfdd0 && r <= 0xfdef }
