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
