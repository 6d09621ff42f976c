package formats

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestCountCRLF(t *testing.T) {
	letters := rapid.SampledFrom([]byte("\r\n\r\nab\x00\x0c\x0e\x8d\x8a\xff"))
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SliceOfN(letters, 0, 60).Draw(t, "text")
		if got, want := countCRLF(text), strings.Count(string(text), "\r\n"); got != want {
			t.Fatalf("%d, want %d in %q", got, want, text)
		}
	})
}

func BenchmarkCountCRLF(b *testing.B) {
	text := []byte(strings.Repeat("123=4\r\n", 2000))
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		countCRLF(text)
	}
}

func TestEndLinesAlike(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"nothing", "", ""},
		{"LF", "a\nb\n", "a\nb\n"},
		{"CRLF", "a\r\nb\r\n", "a\r\nb\r\n"},
		{"lone CR", "a\rb\r\rc", "a\nb\n\nc"},
		{"more CRLF", "a\r\nb\r\nc\nd\re", "a\r\nb\r\nc\r\nd\r\ne"},
		{"more LF", "a\nb\nc\r\nd", "a\nb\nc\nd"},
		{"as many", "a\nb\r\nc", "a\nb\nc"},
		{"lone CR and CRLF", "a\rb\r\nc\r", "a\r\nb\r\nc\r\n"},
		{"CR before CRLF", "a\r\r\nb", "a\r\n\r\nb"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := EndLinesAlike([]byte(c.text)); string(got) != c.want {
				t.Errorf("%q, want %q", got, c.want)
			}
			if got := LineBreaks(EndLinesAlike([]byte(c.text))); got != "" {
				t.Errorf("it still has %s", got)
			}
		})
	}
}
