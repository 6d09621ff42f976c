package formats

import (
	"bytes"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestEncode(t *testing.T) {
	const draft = "[WIF]\r\n[TEXT]\r\nTitle=Gr\u00fcner Schal\r\n"
	utf16 := func(s string, little bool) string {
		var b strings.Builder
		for _, r := range s {
			pair := []byte{byte(r >> 8), byte(r)}
			if little {
				pair[0], pair[1] = pair[1], pair[0]
			}
			b.Write(pair)
		}
		return b.String()
	}
	for _, c := range []struct{ name, raw, add, want, stated string }{
		{"UTF-8", draft, "\u20ac", draft + "\u20ac", ""},
		{"a byte order mark", "\xef\xbb\xbf" + draft, "\u20ac", "\xef\xbb\xbf" + draft + "\u20ac", ""},
		{"UTF-16 with a mark, little end first", "\xff\xfe" + utf16(draft, true), "\u20ac", "\xff\xfe" + utf16(draft+"\u20ac", true), ""},
		{"UTF-16 with a mark, big end first", "\xfe\xff" + utf16(draft, false), "\u20ac", "\xfe\xff" + utf16(draft+"\u20ac", false), ""},
		{"UTF-16, little end first", utf16(draft, true), "x", utf16(draft+"x", true), ""},
		{"UTF-16, big end first", utf16(draft, false), "x", utf16(draft+"x", false), ""},
		{"Windows-1252", strings.ReplaceAll(draft, "\u00fc", "\xfc"), "\u20ac", strings.ReplaceAll(draft, "\u00fc", "\xfc") + "\x80", ""},
		{"Mac Roman", strings.NewReplacer("\u00fc", "\x9f", "\r\n", "\r").Replace(draft), "\u00e9", strings.NewReplacer("\u00fc", "\x9f", "\r\n", "\r").Replace(draft) + "\x8e", ""},
		{"a letter that Windows-1252 lacks", strings.ReplaceAll(draft, "\u00fc", "\xfc"), "\u0142", "!windows-1252 has no character '\u0142'", ""},
		{"bytes that are no character", "\xef\xbb\xbf" + draft + "\xe9!", "x", "!bytes that are no character in utf-8", ""},
		{"half a character", "\xff\xfe" + utf16(draft, true) + "x", "x", "!bytes that are no character in utf-16", ""},
		{"as stated", strings.ReplaceAll(draft, "\u00fc", "\x81"), "\u00e5", strings.ReplaceAll(draft, "\u00fc", "\x81") + "\x86", "cp437"},
		{"a letter that the encoding stated lacks", strings.ReplaceAll(draft, "\u00fc", "\x81"), "\u00f8", "!cp437 has no character '\u00f8'", "cp437"},
	} {
		t.Run(c.name, func(t *testing.T) {
			src := ReadAs("", []byte(c.raw), c.stated).Source
			got, err := Encode(append(bytes.Clone(src.Text), c.add...), src)
			if says, wrong := strings.CutPrefix(c.want, "!"); wrong {
				if err == nil || !strings.Contains(err.Error(), says) {
					t.Errorf("%q, %v; want an error that says %q", got, err, says)
				}
				return
			}
			if err != nil || string(got) != c.want {
				t.Errorf("%q, %v\nwant %q", got, err, c.want)
			}
		})
	}
}

// TestEncodeKeepsTheFile writes texts as they were read: the bytes are those of
// the file.
func TestEncodeKeepsTheFile(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		raw := append([]byte(rapid.SampledFrom([]string{"", "\xef\xbb\xbf", "\xff\xfe", "\xfe\xff", "[\x00", "\x00["}).Draw(t, "mark")),
			rapid.SliceOf(rapid.Byte()).Draw(t, "rest")...)
		src := ReadAs("", raw, rapid.SampledFrom(append(Encodings(), "")).Draw(t, "stated")).Source
		text := src.Text
		if got, err := Encode(text, src); err == nil && !bytes.Equal(got, raw) {
			t.Fatalf("%q reads as %q, which is written as %q", raw, text, got)
		}
	})
}
