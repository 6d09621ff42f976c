package schema

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

func TestPosition(t *testing.T) {
	const text = "one\r\ntwö = é\rthree\n\nlast"
	s := &Source{Text: []byte(text)}
	for _, test := range []struct {
		name string
		at   string // the text of the span
		want Position
		line string
	}{
		{"the first line", "one", Position{1, 1, 1, 4}, "one"},
		{"columns count characters", "é", Position{2, 7, 2, 8}, "twö = é"},
		{"a lone CR ends a line", "three", Position{3, 1, 3, 6}, "three"},
		{"over several lines", "é\rthree", Position{2, 7, 3, 6}, "twö = é"},
		{"after an empty line", "last", Position{5, 1, 5, 5}, "last"},
	} {
		t.Run(test.name, func(t *testing.T) {
			start := strings.Index(text, test.at)
			if got := s.Position(Span{start, start + len(test.at)}); got != test.want {
				t.Errorf("got %v, want %v", got, test.want)
			}
			if got := string(s.Line(test.want.Line)); got != test.line {
				t.Errorf("the line is %q, want %q", got, test.line)
			}
		})
	}
	if got := s.Position(Span{-5, 1000}); got != (Position{1, 1, 5, 5}) {
		t.Errorf("a span outside the text is cut to %v", got)
	}
	if s.Line(0) != nil || s.Line(6) != nil {
		t.Error("there is a line outside the text")
	}
}

// TestPositionsByCounting checks that positions are the same with and without the line
// table.
func TestPositionsByCounting(t *testing.T) {
	for _, mark := range []struct{ eol, ends string }{{"\n", "\n"}, {"\r\n", "\n"}, {"\r", "\r"}} {
		rapid.Check(t, func(t *rapid.T) {
			lines := rapid.SliceOf(rapid.StringOf(rapid.RuneFrom([]rune("abé=1")))).Draw(t, "lines")
			text := []byte(strings.Join(lines, mark.eol))
			counted, tabled := &Source{Text: text, Break: mark.ends[0]}, &Source{Text: text}
			for range rapid.IntRange(1, 2*fewPositions).Draw(t, "positions") {
				at := rapid.IntRange(0, len(text)).Draw(t, "offset")
				if at < len(text) && (!utf8.RuneStart(text[at]) || text[at] == '\n' && mark.eol == "\r\n") {
					continue // no finding starts within a character or a line ending
				}
				if got, want := counted.Position(Span{at, at}), tabled.Position(Span{at, at}); got != want {
					t.Fatalf("%q at %d: %v, want %v", text, at, got, want)
				}
				line := string(tabled.Line(tabled.Position(Span{at, at}).Line))
				if got, other := string(counted.LineAt(at)), string(tabled.LineAt(at)); got != line || other != line {
					t.Fatalf("%q at %d is in the line %q and %q, want %q", text, at, got, other, line)
				}
			}
		})
	}
}

func TestPositionInNothing(t *testing.T) {
	s := &Source{}
	if got := s.Position(Span{}); got != (Position{1, 1, 1, 1}) {
		t.Errorf("got %v", got)
	}
}
