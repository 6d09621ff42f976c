package formats

import (
	"bytes"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestDecode lists the decisions about encodings with the evidence for each.
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
	for _, row := range []struct{ name, raw, stated, text, encoding string }{
		{"nothing", "", "", "", ""},
		{"ASCII", "Title=x", "", "Title=x", ""},
		{"ASCII, whatever is stated", "Title=x", "cp850", "Title=x", ""},
		{"ASCII has no zero bytes", "Title=x", "utf-16", "Title=x", "against"},
		{"UTF-8", "Title=Café", "", "Title=Café", ""},
		{"UTF-8, stated", "Title=Café", "utf-8", "Title=Café", ""},
		{"UTF-8, stated as something else", "Title=Café", "cp850", "Title=Café", "against"},
		{"a mark of UTF-8", "\xef\xbb\xbfTitle=Café", "", "Title=Café", "utf-8"},
		{"a mark of UTF-8, against the stated encoding", "\xef\xbb\xbfTitle=Café", "cp850", "Title=Café", "utf-8 against"},
		{"only a mark", "\xef\xbb\xbf", "", "", "utf-8"},
		{"a mark, and invalid UTF-8", "\xef\xbb\xbfCaf\xe9!", "", "Caf\ufffd!", "utf-8"},
		{"a mark of little-endian UTF-16", "\xff\xfe" + wide("[WIF]", 0, 1), "", "[WIF]", "utf-16"},
		{"a mark of big-endian UTF-16", "\xfe\xff" + wide("[WIF]", 1, 0), "", "[WIF]", "utf-16"},
		{"zeros at odd bytes", wide("[WIF]\n", 0, 1), "", "[WIF]\n", "utf-16"},
		{"zeros at even bytes", wide("[WIF]\n", 1, 0), "", "[WIF]\n", "utf-16"},
		{"zeros at odd bytes, as stated", wide("[WIF]\n", 0, 1), "utf-16", "[WIF]\n", "utf-16"},
		{"zeros at odd bytes, against the stated encoding", wide("[WIF]\n", 0, 1), "cp437", "[WIF]\n", "utf-16 against"},
		{"zeros at odd bytes, and one extra byte", wide("[WIF]\n", 0, 1) + "x", "", "[WIF]\n\ufffd", "utf-16"},
		{"many characters beyond ASCII, in UTF-16 as stated", "[\x00\x42\x04\x43\x04", "utf-16", "[ту", "utf-16"},
		{"one zero is not UTF-16", "ab\x00defgh", "", "ab\x00defgh", ""},
		{"truncated in its last character", "Title=Caf\xc3", "", "Title=Caf\ufffd", "utf-8 cut"},
		{"truncated after two bytes of three", "Title=\xe2\x80", "", "Title=\ufffd", "utf-8 cut"},
		{"UTF-8 with a broken byte", "Title=Grüner Schal für René\xe9, blå", "", "Title=Grüner Schal für René\ufffd, blå", "utf-8"},
		{"invalid UTF-8, stated as UTF-8", "Caf\xe9!", "utf-8", "Caf\ufffd!", "utf-8"},
		{"as stated", "R\x9bd v\x91v", "cp865", "Rød væv", "cp865"},
		{"as stated, against the likely encoding", "p\xe5", "cp437", "pσ", "cp437"},
		{"a byte that the stated page lacks", "p\x81", "windows-1252", "p\ufffd", "windows-1252"},
		{"a small letter after a letter: Windows", "Caf\xe9", "", "Café", "windows-1252"},
		{"a small letter after a letter: Mac", "Title=Caf\x8e", "", "Title=Café", "mac-roman"},
		{"a small letter after a letter: DOS", "Title=Caf\x82 ", "", "Title=Café ", "cp850"},
		{"a small letter within a word: Windows", "Gr\xfcn", "", "Grün", "windows-1252"},
		{"a small letter within a word: DOS", "Gr\x81n", "", "Grün", "cp850"},
		{"an apostrophe between letters: Windows", "d\x92Arc", "", "d’Arc", "windows-1252"},
		{"an English apostrophe: Windows", "don\x92t", "", "don’t", "windows-1252"},
		{"English plurals: Windows", "the weavers\x92 guild", "", "the weavers’ guild", "windows-1252"},
		{"quotation marks: Windows", "\x93Quay\x94 \x96 4 shafts", "", "“Quay” – 4 shafts", "windows-1252"},
		{"capitals: DOS", "ROSENG\x8fNG", "", "ROSENGÅNG", "cp850"},
		{"capitals: Windows", "ROSENG\xc5NG", "", "ROSENGÅNG", "windows-1252"},
		{"a single letter: DOS", "Spetskypert p\x86 8 skaft", "", "Spetskypert på 8 skaft", "cp850"},
		{"a ruled line: DOS", "; \xc4\xc4\xc4\xc4\xc4\xc4 ", "", "; ────── ", "cp850"},
		{"a tie is Windows, and unclear", "10 \xa9", "", "10 ©", "windows-1252?"},
		{"a DOS mark at the end breaks a tie", "Title=10 \xac\x1a", "", "Title=10 ¼\x1a", "cp850"},
		{"lines that end in CR break a tie: Mac", "Ma\x96ana\r", "", "Mañana\r", "mac-roman"},
		{"letters outweigh lines that end in CR", "Caf\xe9\rGr\xfcn\r", "", "Café\rGrün\r", "windows-1252"},
		{"bytes that aren't words in any page", "\xb0\xe7\xf3\x8a\xc4\xbf\xd9\xa1\xf0\xd0\xfe", "", "░τ≤è─┐┘í≡╨■", "cp437?"},
		{"one letter that fits in two pages", "Title=R\x9ad\n", "", "Title=Röd\n", "mac-roman"},
	} {
		t.Run(row.name, func(t *testing.T) {
			e := encodingOf([]byte(row.raw), row.stated)
			got := e.name
			if e.truncated {
				got += " cut"
			}
			if len(e.unclear) > 0 {
				got += "?"
			}
			if e.conflict != "" {
				got = strings.TrimSpace(got + " against")
			}
			if text := string(e.decode([]byte(row.raw))); text != row.text || got != row.encoding {
				t.Errorf("%q in %q, want %q in %q: %v", text, got, row.text, row.encoding, e.unclear)
			}
		})
	}
}

func TestLineBreaks(t *testing.T) {
	for _, row := range []struct{ name, text, want string }{
		{"none", "a", ""}, {"LF", "a\nb\n", ""}, {"CRLF", "a\r\nb\r\n", ""}, {"CRLF, without a last one", "a\r\nb", ""},
		{"CR", "a\rb\r", "lines that end in a lone CR"}, {"CRLF and LF", "a\r\nb\n", "mixed line endings"},
		{"CRLF and CR", "a\r\nb\r", "mixed line endings"}, {"LF and CR", "a\nb\r", "mixed line endings"},
		{"CR before CRLF", "a\r\r\n", "mixed line endings"},
	} {
		if got := LineBreaks([]byte(row.text)); got != row.want {
			t.Errorf("%s: %q, want %q", row.name, got, row.want)
		}
	}
}

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
		{"UTF-16 with a mark, little-endian", "\xff\xfe" + utf16(draft, true), "\u20ac", "\xff\xfe" + utf16(draft+"\u20ac", true), ""},
		{"UTF-16 with a mark, big-endian", "\xfe\xff" + utf16(draft, false), "\u20ac", "\xfe\xff" + utf16(draft+"\u20ac", false), ""},
		{"UTF-16, little-endian", utf16(draft, true), "x", utf16(draft+"x", true), ""},
		{"UTF-16, big-endian", utf16(draft, false), "x", utf16(draft+"x", false), ""},
		{"Windows-1252", strings.ReplaceAll(draft, "\u00fc", "\xfc"), "\u20ac", strings.ReplaceAll(draft, "\u00fc", "\xfc") + "\x80", ""},
		{"Mac Roman", strings.NewReplacer("\u00fc", "\x9f", "\r\n", "\r").Replace(draft), "\u00e9", strings.NewReplacer("\u00fc", "\x9f", "\r\n", "\r").Replace(draft) + "\x8e", ""},
		{"a letter that Windows-1252 lacks", strings.ReplaceAll(draft, "\u00fc", "\xfc"), "\u0142", "!windows-1252 has no character '\u0142'", ""},
		{"bytes that aren't characters", "\xef\xbb\xbf" + draft + "\xe9!", "x", "!bytes that aren't characters in utf-8", ""},
		{"half a character", "\xff\xfe" + utf16(draft, true) + "x", "x", "!bytes that aren't characters in utf-16", ""},
		{"as stated", strings.ReplaceAll(draft, "\u00fc", "\x81"), "\u00e5", strings.ReplaceAll(draft, "\u00fc", "\x81") + "\x86", "cp437"},
		{"a letter that the stated encoding lacks", strings.ReplaceAll(draft, "\u00fc", "\x81"), "\u00f8", "!cp437 has no character '\u00f8'", "cp437"},
	} {
		t.Run(c.name, func(t *testing.T) {
			src := ReadAs("", []byte(c.raw), c.stated).Source
			got, err := Encode(append(bytes.Clone(src.Text), c.add...), src)
			if says, wrong := strings.CutPrefix(c.want, "!"); wrong {
				if err == nil || !strings.Contains(err.Error(), says) {
					t.Errorf("%q, %v; want an error with %q", got, err, says)
				}
				return
			}
			if err != nil || string(got) != c.want {
				t.Errorf("%q, %v\nwant %q", got, err, c.want)
			}
		})
	}
}

// TestEncodeKeepsTheFile checks that an unchanged text has the bytes of its file.
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
