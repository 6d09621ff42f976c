package wif

import (
	"testing"

	"gopkg.in/ini.v1"

	"fettle/corpus"
	"fettle/schema"
)

// sizes lists the files for benchmarks: an ordinary draft, a long dobby draft, and two
// that no loom could weave.
func sizes() []struct {
	name string
	gen  corpus.GenOptions
} {
	return []struct {
		name string
		gen  corpus.GenOptions
	}{
		{"10kB", corpus.GenOptions{Ends: 400, Picks: 420, Shafts: 8}},
		{"8000picks", corpus.GenOptions{Ends: 2000, Picks: 8000, Shafts: 24, LiftPlan: true}},
		{"1MB", corpus.GenOptions{Ends: 30_000, Picks: 30_000, Shafts: 8}},
		{"20MB", corpus.GenOptions{Ends: 550_000, Picks: 550_000, Shafts: 16}},
	}
}

// benchmarkSizes runs a benchmark for each file of at most maxBytes.
func benchmarkSizes(b *testing.B, maxBytes int, do func(text []byte)) {
	for _, s := range sizes() {
		b.Run(s.name, func(b *testing.B) {
			text, _ := Write(corpus.Generate(1, s.gen), Options{})
			if len(text) > maxBytes {
				b.Skip("its time is quadratic")
			}
			b.SetBytes(int64(len(text)))
			b.ReportAllocs()
			for b.Loop() {
				do(text)
			}
		})
	}
}

const anySize = 1 << 30

func BenchmarkLex(b *testing.B) {
	benchmarkSizes(b, anySize, func(text []byte) {
		for at := 0; at < len(text); {
			at = lex(text, at).next
		}
	})
}

func BenchmarkRead(b *testing.B) {
	benchmarkSizes(b, anySize, func(text []byte) { Read(&schema.Source{Text: text}) })
}

// BenchmarkINI reads the files with the general INI reader that tests compare with.
func BenchmarkINI(b *testing.B) {
	benchmarkSizes(b, 200_000, func(text []byte) {
		if _, err := ini.LoadSources(verbatimINI(), text); err != nil {
			b.Fatal(err)
		}
	})
}
