package wording

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

func TestWrap(t *testing.T) {
	for _, test := range []struct {
		name, text string
		width      int
		want       []string
	}{
		{"empty text", "", 10, []string{""}},
		{"a text that fits keeps its spaces", "a  b ", 10, []string{"a  b "}},
		{"between words", "one two three four", 9, []string{"one two", "three", "four"}},
		{"exact fit", "one two three", 7, []string{"one two", "three"}},
		{"its own line breaks", "one\n\ntwo three", 5, []string{"one", "", "two", "three"}},
		{"a long word is split", "a bcdefghijk l", 4, []string{"a", "bcde", "fghi", "jk l"}},
		{"characters are whole", "äöüäöü", 4, []string{"äöüä", "öü"}},
		{"characters of any width", "a€😀ä€😀", 2, []string{"a€", "😀ä", "€😀"}},
		{"not at a non-breaking space", "a 16\u00a0cm b", 5, []string{"a", "16\u00a0cm", "b"}},
		{"no room", "abc", 0, []string{"a", "b", "c"}},
		{"only spaces", "      ", 3, []string{""}},
	} {
		if got := Wrap(test.text, Columns(test.width)); !slices.Equal(got, test.want) {
			t.Errorf("%s: %q, want %q", test.name, got, test.want)
		}
	}
}

// TestWrapKeepsWords wraps any text. No line may be too wide or too short, and no character
// may be lost.
func TestWrapKeepsWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.SampledFrom([]rune("ab€😀 ä\n\x00"))).Draw(t, "text")
		width := rapid.IntRange(1, 9).Draw(t, "width")
		lines := Wrap(text, Columns(width))
		packed := func(s string) string { return strings.Join(strings.Fields(s), "") }
		if packed(strings.Join(lines, "")) != packed(text) {
			t.Fatalf("%q is wrapped as %q", text, lines)
		}
		for i, line := range lines {
			if utf8.RuneCountInString(line) > width {
				t.Fatalf("%q is wider than %d", line, width)
			}
			if i+1 < len(lines) && !strings.Contains(text, "\n") && !strings.Contains(line, "  ") {
				word, _, _ := strings.Cut(strings.TrimLeft(lines[i+1], " "), " ")
				if n := utf8.RuneCountInString(line); n < width && n+1+utf8.RuneCountInString(word) <= width && word != "" {
					t.Fatalf("%q has room for %q", line, word)
				}
			}
		}
	})
}

// TestWrapIsLinear counts how many characters Wrap measures to split a word.
func TestWrapIsLinear(t *testing.T) {
	measured := func(size int) (sum int) {
		columns := Columns(80)
		Wrap(strings.Repeat("€", size), func(line string) bool {
			sum += min(len(line), 300)
			return columns(line)
		})
		return sum
	}
	if a, b := measured(10_000), measured(20_000); b > 2*a+a/10 {
		t.Errorf("%d bytes measured, %d for twice as much", a, b)
	}
}
