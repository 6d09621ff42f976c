package formats

import (
	"bytes"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	utf16 "golang.org/x/text/encoding/unicode"
)

// The encodings that are not plain UTF-8, as messages name them.
const (
	marked       = "UTF-8 with a byte order mark"
	littleEndian = "UTF-16, little-endian"
	bigEndian    = "UTF-16, big-endian"
	windows1252  = "Windows-1252"
	macintosh    = "Mac Roman"
	cutOff       = "UTF-8, cut off in its last character" // the file ends in the middle of one
)

// decode turns a file into UTF-8 text without a byte order mark, and names the
// encoding it was in; "" for plain UTF-8. It decides by a byte order mark, then
// by the zero bytes of UTF-16 without one, then by validity as UTF-8, then
// between Windows-1252 and Mac Roman by the evidence of macRoman.
func decode(raw []byte) (text []byte, name string) {
	switch {
	case bytes.HasPrefix(raw, []byte("\xef\xbb\xbf")):
		return toUTF8(raw[3:]), marked
	case bytes.HasPrefix(raw, []byte("\xff\xfe")):
		return convert(raw[2:], utf16.UTF16(utf16.LittleEndian, utf16.IgnoreBOM)), littleEndian
	case bytes.HasPrefix(raw, []byte("\xfe\xff")):
		return convert(raw[2:], utf16.UTF16(utf16.BigEndian, utf16.IgnoreBOM)), bigEndian
	}
	if little, big := zeroSides(raw); little {
		return convert(raw, utf16.UTF16(utf16.LittleEndian, utf16.IgnoreBOM)), littleEndian
	} else if big {
		return convert(raw, utf16.UTF16(utf16.BigEndian, utf16.IgnoreBOM)), bigEndian
	}
	switch {
	case utf8.Valid(raw):
		return raw, ""
	case utf8.Valid(raw[:wholeLength(raw)]) && !wordEnd(raw):
		return toUTF8(raw), cutOff
	case macRoman(raw):
		return convert(raw, charmap.Macintosh), macintosh
	}
	return convert(raw, charmap.Windows1252), windows1252
}

// wholeLength is how much of a text there is without a character at its end that
// is begun and not finished.
func wholeLength(raw []byte) int {
	for n := 1; n <= min(3, len(raw)); n++ {
		if b := raw[len(raw)-n:]; utf8.RuneStart(b[0]) {
			if !utf8.FullRune(b) {
				return len(raw) - n
			}
			break
		}
	}
	return len(raw)
}

// wordEnd says whether a text that has no character beyond ASCII but its last
// byte ends, read as Windows-1252, in a small letter behind a letter. Then it
// does not look cut off.
func wordEnd(raw []byte) bool {
	last := len(raw) - 1
	if bytes.IndexFunc(raw[:last], func(r rune) bool { return r >= 0x80 }) >= 0 {
		return false
	}
	return plausible(charmap.Windows1252.DecodeByte(raw[last]), neighbour(raw, last-1), ' ') > 1
}

// toUTF8 replaces what is no UTF-8 behind a mark that says it is.
func toUTF8(raw []byte) []byte {
	if utf8.Valid(raw) {
		return raw
	}
	return bytes.ToValidUTF8(raw, []byte("\ufffd"))
}

// convert decodes. These decoders have no errors: what they cannot read becomes
// the replacement character.
func convert(raw []byte, from encoding.Encoding) []byte {
	text, err := from.NewDecoder().Bytes(raw)
	if err != nil {
		return toUTF8(raw)
	}
	return text
}

// zeroSides looks for UTF-16 without a byte order mark: a draft is nearly all
// ASCII, so every other byte of it is zero.
func zeroSides(raw []byte) (little, big bool) {
	head := raw[:min(len(raw), 512)&^1]
	var even, odd int
	for i := 0; i < len(head); i += 2 {
		if head[i] == 0 {
			even++
		}
		if head[i+1] == 0 {
			odd++
		}
	}
	half := len(head) / 2
	return half > 1 && odd*10 >= half*9 && even == 0, half > 1 && even*10 >= half*9 && odd == 0
}

// macRoman weighs whether bytes above 127 read better as Mac Roman than as
// Windows-1252. Both give every such byte a meaning, so the evidence is what
// kind of character it makes where it stands: an accented small letter beside a
// letter speaks for an encoding, a symbol between letters or a capital after a
// small letter against it. A byte that Windows-1252 leaves undefined and lines
// that end in a lone CR speak for the old Macintosh. At a tie it is
// Windows-1252, the commoner by far.
func macRoman(raw []byte) bool {
	mac, windows := 0, 0
	if lf := bytes.IndexByte(raw, '\n'); lf < 0 && bytes.IndexByte(raw, '\r') >= 0 {
		mac += 2
	}
	for i, c := range raw {
		if c < 0x80 {
			continue
		}
		before, after := neighbour(raw, i-1), neighbour(raw, i+1)
		mac += plausible(charmap.Macintosh.DecodeByte(c), before, after)
		windows += plausible(charmap.Windows1252.DecodeByte(c), before, after)
	}
	return mac > windows
}

// neighbour is the ASCII character at an index; a blank outside the text, and
// for bytes whose meaning is still open.
func neighbour(raw []byte, i int) rune {
	if i < 0 || i >= len(raw) || raw[i] >= 0x80 {
		return ' '
	}
	return rune(raw[i])
}

func plausible(r, before, after rune) int {
	letters := unicode.IsLetter(before) || unicode.IsLetter(after)
	switch {
	case r == utf8.RuneError || r < 0xa0:
		return -4
	case unicode.IsLower(r) && unicode.IsUpper(after):
		return -1
	case unicode.IsLower(r) && letters:
		return 2
	case unicode.IsUpper(r) && unicode.IsLower(before):
		return -2
	case unicode.IsLetter(r):
		return 1
	case unicode.IsLetter(before) && unicode.IsLetter(after):
		return markScore(r, after)
	}
	return 0
}

// markScore is for a mark between two letters: an apostrophe or a dash belongs
// there, most of all where a name goes on with a capital or a word with what
// English shortens to; any other symbol does not.
func markScore(r, after rune) int {
	switch {
	case r == '’' && (unicode.IsUpper(after) || strings.ContainsRune("stdmlrv", after)):
		return 3
	case r == '’', r == '–', r == '—':
		return 1
	}
	return -2
}
