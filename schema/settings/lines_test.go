package settings

import (
	"fmt"
	"slices"
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

// linesOf splits a text, and counts the invalid lines.
func linesOf(text string) (list []line, problems int) {
	eachLine([]byte(text), func(l line) { list = append(list, l) }, func(line, string) { problems++ })
	return list, problems
}

// TestLinesAreWhatTheLibraryFinds reads whole files with the library. Without comments after
// values, it finds the same headings, keys and values as line by line.
func TestLinesAreWhatTheLibraryFinds(t *testing.T) {
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
		whole := options()
		whole.AllowShadows, whole.AllowDuplicateShadowValues = true, true
		split, err := ini.LoadSources(whole, []byte(b.String()))
		if err != nil {
			t.Fatal(err)
		}
		var want, got []string
		for i, s := range split.Sections() {
			if i > 0 {
				want = append(want, "["+s.Name()+"]")
			}
			for _, k := range s.Keys() {
				for _, v := range k.ValueWithShadows() {
					want = append(want, k.Name()+" = "+v)
				}
			}
		}
		list, problems := linesOf(b.String())
		keys := map[string]int{} // the library puts the values of a key together
		for _, l := range list {
			if l.isHeading {
				got, keys = append(got, "["+l.heading+"]"), map[string]int{}
				continue
			}
			entry := l.key + " = " + l.value
			if at, again := keys[l.key]; again {
				for k, v := range keys {
					if v > at {
						keys[k]++
					}
				}
				got = slices.Insert(got, at+1, entry)
				keys[l.key]++
				continue
			}
			got = append(got, entry)
			keys[l.key] = len(got) - 1
		}
		if problems > 0 || !slices.Equal(got, want) {
			t.Fatalf("%q: %d problems, got %q, want %q", b.String(), problems, got, want)
		}
	})
}

// TestLinesOfAnyText reads random text. Each line is used or reported at most once, in
// order.
func TestLinesOfAnyText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := fileOf(t)
		last := 0
		check := func(l line) {
			if l.number <= last || l.column < 1 || l.isHeading && l.key != "" {
				t.Fatalf("%q: %+v after line %d", text, l, last)
			}
			last = l.number
		}
		eachLine([]byte(text), func(l line) {
			check(l)
			if l.isHeading == (l.heading == "") || !l.isHeading && (l.key == "" || l.value == "" || l.valueColumn <= l.column) {
				t.Fatalf("%q: %+v", text, l)
			}
		}, func(l line, problem string) {
			check(l)
			if problem == "" || strings.Contains(problem, "can't be read") {
				t.Fatalf("%q: %+v: %q", text, l, problem)
			}
		})
	})
}

// TestLinePlaces checks the columns of keys and values, in characters.
func TestLinePlaces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		space := rapid.StringMatching(`[ \t\x{a0}]{0,3}`)
		word := rapid.StringMatching(`[a-zäж]{1,5}`)
		before, key, value := space.Draw(t, "before"), word.Draw(t, "key"), word.Draw(t, "value")
		left := before + key + space.Draw(t, "left") + "=" + space.Draw(t, "right")
		got, _ := linesOf("\n" + left + value + " ; " + value)
		want := line{number: 2, column: utf8.RuneCountInString(before) + 1, key: key, value: value, valueColumn: utf8.RuneCountInString(left) + 1}
		if len(got) != 1 || got[0] != want {
			t.Fatalf("%q: got %+v, want %+v", left+value, got, want)
		}
	})
}

// FuzzParse reads random text. Every error has its place.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"", manualExample, Starter(), strings.ReplaceAll(Starter(), "\n#", "\n"), "include = a\n[loom]\nx", "[rules {a,b}]\na = off, 2",
		"[yarn]\r[yarn]\rgrist=R60 tex/2", "\xff\xfe[", "[a]b]\n-=1\n`=`", "[reed a]\ndents=1/in\n[project]\nreed=b"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := parse("a.ini", text)
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
			if strings.ContainsAny(e.Message, "\n\r\x1b") || strings.Contains(e.Message, "can't be read") {
				t.Fatalf("message %q", e.Message)
			}
		}
	})
}
