package settings

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"gopkg.in/ini.v1"
	"pgregory.net/rapid"
)

// lineOf draws a line that is a section, a key, a comment, or none of these.
func lineOf(t *rapid.T) string {
	part := rapid.SampledFrom([]string{
		"loom", "shafts", "yarn a", "#", ";", " ;", " #", "=", "==", "[", "]", "\"", "\"\"\"", "`", "'", "\\", ":",
		" ", "\t", "\u00a0", "ä", "-", "%(a)s", "16", "a/**", "{a,b}", "\x00", "\xe4", ".", "DEFAULT",
	})
	pad := rapid.SampledFrom([]string{"", " ", "\t", "  "})
	some := func(n int) string { return strings.Join(rapid.SliceOfN(part, 0, n).Draw(t, "parts"), "") }
	switch rapid.IntRange(0, 3).Draw(t, "kind") {
	case 0:
		return pad.Draw(t, "pad") + "[" + some(3) + "]" + pad.Draw(t, "pad")
	case 1, 2:
		return pad.Draw(t, "pad") + some(2) + pad.Draw(t, "pad") + "=" + pad.Draw(t, "pad") + some(4)
	}
	return some(5)
}

func fileOf(t *rapid.T) string {
	lines := rapid.SliceOfN(rapid.Custom(lineOf), 0, 20).Draw(t, "lines")
	end := rapid.SampledFrom([]string{"\n", "\r\n", "\r"}).Draw(t, "end")
	return strings.Join(lines, end)
}

// TestIndexAgreesWithTheLibrary holds the index against the library, whatever
// the file: what the one finds, in cleaned text, the other finds too.
func TestIndexAgreesWithTheLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := fileOf(t)
		x := indexOf("a.ini", []byte(text))
		split, err := ini.LoadSources(options(), x.clean)
		if err != nil {
			t.Fatalf("the library does not read %q, cleaned %q: %v", text, x.clean, err)
		}
		if !agree(x.readable(), split) {
			t.Fatalf("the two do not agree on %q, cleaned %q", text, x.clean)
		}
	})
}

// TestIndexAgreesOnTextAsItStands is the same without cleaning: in a file
// without problems and comments behind values, the library finds the same keys
// in the text as the weaver wrote it.
func TestIndexAgreesOnTextAsItStands(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringMatching(`[a-zä/*][a-zä0-9 /*#.:\\-]{0,8}`)
		var b strings.Builder
		for range rapid.IntRange(0, 20).Draw(t, "lines") {
			switch rapid.IntRange(0, 3).Draw(t, "kind") {
			case 0:
				fmt.Fprintf(&b, "[%s]\n", strings.TrimSpace(word.Draw(t, "section")))
			case 1, 2:
				fmt.Fprintf(&b, "%s = %s\n", word.Draw(t, "key"), word.Draw(t, "value"))
			default:
				fmt.Fprintf(&b, "  ; %s\n\n", word.Draw(t, "comment"))
			}
		}
		x := indexOf("a.ini", []byte(b.String()))
		split, err := ini.LoadSources(options(), []byte(b.String()))
		if err != nil || len(x.problems) > 0 {
			t.Fatalf("%q: %v, %v", b.String(), err, x.problems)
		}
		if !agree(x.readable(), split) {
			t.Fatalf("the two do not agree on %q", b.String())
		}
	})
}

// TestIndexPlaces checks that a key's column and its value's are where the
// words begin, counted in characters.
func TestIndexPlaces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		space := rapid.StringMatching(`[ \t\x{a0}]{0,3}`)
		word := rapid.StringMatching(`[a-zäж]{1,5}`)
		before, key, value := space.Draw(t, "before"), word.Draw(t, "key"), word.Draw(t, "value")
		left := before + key + space.Draw(t, "left") + "=" + space.Draw(t, "right")
		x := indexOf("a.ini", []byte("\n"+left+value+" ; "+value))
		got := x.sections[0].keys[0]
		want := keyLine{key, 2, utf8.RuneCountInString(before) + 1, utf8.RuneCountInString(left) + 1}
		if got != want {
			t.Fatalf("%q: got %+v, want %+v", left+value, got, want)
		}
	})
}

// FuzzParse: no text stops the reader, and every error has its place.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"", manualExample, Starter(), strings.ReplaceAll(Starter(), "\n#", "\n"), "include = a\n[loom]\nx", "[rules {a,b}]\na = off, 2",
		"[yarn]\r[yarn]\rgrist=R60 tex/2", "\xff\xfe[", "[a]b]\n-=1\n`=`", "[reed a]\ndents=1/in\n[project]\nreed=b"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := Parse("a.ini", text)
		if err == nil {
			if s == nil || s.Given == nil {
				t.Fatal("neither settings nor an error")
			}
			return
		}
		last := strings.Count(strings.ReplaceAll(string(text), "\r", "\n"), "\n") + 1
		for _, e := range err.(Errors) {
			if e.Path != "a.ini" || e.Line < 1 || e.Line > last || e.Column < 1 || e.Message == "" {
				t.Fatalf("%+v has no place in %d lines", e, last)
			}
			if strings.ContainsAny(e.Message, "\n\r\x1b") || strings.Contains(e.Message, "cannot be told apart") {
				t.Fatalf("message %q", e.Message)
			}
		}
	})
}
