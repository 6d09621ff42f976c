package formats

import (
	"strings"
	"testing"
)

// TestDecode holds the decisions about encodings and the evidence for each.
func TestDecode(t *testing.T) {
	wide := func(s string, low, high int) string {
		var b strings.Builder
		for i := range len(s) {
			unit := []byte{0, 0}
			unit[low], unit[high] = s[i], 0
			b.Write(unit)
		}
		return b.String()
	}
	for _, row := range []struct{ name, raw, text, encoding string }{
		{"nothing", "", "", ""},
		{"ASCII", "Title=x", "Title=x", ""},
		{"UTF-8 is valid as such", "Title=Café", "Title=Café", ""},
		{"a mark says UTF-8", "\xef\xbb\xbfTitle=Café", "Title=Café", "UTF-8 with a byte order mark"},
		{"a mark alone", "\xef\xbb\xbf", "", "UTF-8 with a byte order mark"},
		{"a mark, and what is no UTF-8", "\xef\xbb\xbfCaf\xe9!", "Caf\ufffd!", "UTF-8 with a byte order mark"},
		{"a mark says little-endian", "\xff\xfe" + wide("[WIF]", 0, 1), "[WIF]", "UTF-16, little-endian"},
		{"a mark says big-endian", "\xfe\xff" + wide("[WIF]", 1, 0), "[WIF]", "UTF-16, big-endian"},
		{"zeros at odd bytes", wide("[WIF]\n", 0, 1), "[WIF]\n", "UTF-16, little-endian"},
		{"zeros at even bytes", wide("[WIF]\n", 1, 0), "[WIF]\n", "UTF-16, big-endian"},
		{"zeros at odd bytes, one byte over", wide("[WIF]\n", 0, 1) + "x", "[WIF]\n\ufffd", "UTF-16, little-endian"},
		{"one zero is not UTF-16", "ab\x00defgh", "ab\x00defgh", ""},
		{"cut off in its last character", "Title=Caf\xc3", "Title=Caf\ufffd", cutOff},
		{"cut off two bytes into three", "Title=\xe2\x80", "Title=\ufffd", cutOff},
		{"a small letter after a letter: Windows", "Caf\xe9", "Café", "Windows-1252"},
		{"a small letter after a letter: Mac", "Caf\x8e", "Café", "Mac Roman"},
		{"a small letter within a word: Windows", "Gr\xfcn", "Grün", "Windows-1252"},
		{"a small letter within a word: Mac", "Gr\x9fn", "Grün", "Mac Roman"},
		{"what Windows-1252 leaves undefined: Mac", "fa\x8don", "façon", "Mac Roman"},
		{"an apostrophe between letters: Windows", "d\x92Arc", "d’Arc", "Windows-1252"},
		{"an apostrophe between letters: Mac", "d\xd5Arc", "d’Arc", "Mac Roman"},
		{"an English apostrophe: Windows", "don\x92t", "don’t", "Windows-1252"},
		{"a small letter before a vowel: Mac", "Mar\x92a", "María", "Mac Roman"},
		{"a tie is Windows", "10 \xa9", "10 ©", "Windows-1252"},
		{"lines that end in CR break a tie: Mac", "10 \xa9\r", "10 ©\r", "Mac Roman"},
		{"letters outweigh lines that end in CR", "Caf\xe9\rGr\xfcn\r", "Café\rGrün\r", "Windows-1252"},
	} {
		t.Run(row.name, func(t *testing.T) {
			text, encoding := decode([]byte(row.raw))
			if string(text) != row.text || encoding != row.encoding {
				t.Errorf("%q in %q, want %q in %q", text, encoding, row.text, row.encoding)
			}
		})
	}
}

func TestLineBreaks(t *testing.T) {
	for _, row := range []struct{ name, text, want string }{
		{"none", "a", ""}, {"LF", "a\nb\n", ""}, {"CRLF", "a\r\nb\r\n", ""}, {"CRLF, the last line open", "a\r\nb", ""},
		{"CR", "a\rb\r", "lines that end in a lone CR"}, {"CRLF and LF", "a\r\nb\n", "mixed line endings"},
		{"CRLF and CR", "a\r\nb\r", "mixed line endings"}, {"LF and CR", "a\nb\r", "mixed line endings"},
		{"CR before CRLF", "a\r\r\n", "mixed line endings"},
	} {
		if got := lineBreaks([]byte(row.text)); got != row.want {
			t.Errorf("%s: %q, want %q", row.name, got, row.want)
		}
	}
}
