// Package wording writes values as words for people, and makes text from files
// safe to print. It quotes, counts, lists and wraps, and keeps text from
// controlling terminals and CI services. It also writes all JSON, for that reason.
package wording

import "strings"

// Quote returns a value from a file in quotation marks, for a message. It makes
// the value safe as Plain does and truncates it after 60 characters.
func Quote(s string) string { return "'" + Plain(s, 60) + "'" }

// Plain returns a value from a file on one line, with Printable applied to each
// character and truncated after most characters. So the text of a draft can't
// control a terminal or break a report.
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

// Printable returns a character that is safe in a report: a space for a control
// character, the replacement character for one that is invisible, changes the
// direction of text or isn't allowed in XML, otherwise the character itself.
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

// noCharacter reports whether Unicode reserves a number as never a character.
func noCharacter(r rune) bool { return r&0xfffe == 0xfffe || r >= 0xfdd0 && r <= 0xfdef }
