package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"

	"fettle/corpus"
	"fettle/formats/wif"
)

// library writes so many generated drafts of middling size into a folder of
// its own, and gives it with their size in bytes.
func library(b *testing.B, drafts int) (folder string, size int64) {
	folder = b.TempDir()
	for n := range drafts {
		text, _ := wif.Write(corpus.Generate(uint64(n+1), corpus.GenOptions{Ends: 400, Picks: 400, Shafts: 8}), wif.Options{})
		writeFile(b, filepath.Join(folder, fmt.Sprintf("draft%04d.wif", n)), text)
		size += int64(len(text))
	}
	return folder, size
}

// BenchmarkLint lints a library, report and all, against reading the same
// files and doing nothing with them.
func BenchmarkLint(b *testing.B) {
	const drafts = 500
	folder, size := library(b, drafts)
	run := func(name string, do func()) {
		b.Run(name, func(b *testing.B) {
			b.SetBytes(size)
			b.ReportAllocs()
			for b.Loop() {
				do()
			}
			b.ReportMetric(float64(b.N)*drafts/b.Elapsed().Seconds(), "drafts/s")
		})
	}
	run("floor", func() {
		paths, _ := filepath.Glob(filepath.Join(folder, "*"))
		for _, path := range paths {
			if _, err := os.ReadFile(path); err != nil {
				b.Fatal(err)
			}
		}
	})
	run("all", func() { lintQuietly(b, folder) })
	run("sound", func() {
		lintQuietly(b, folder, "--skip", "cloth/long-float,cloth/loose-selvedge,draft/partial-repeat,collection")
	})
}

func lintQuietly(b *testing.B, args ...string) {
	p := &program{out: io.Discard, err: io.Discard}
	if status := p.run(append([]string{"fettle", "lint", "--quiet", "--fail-on", "never"}, args...)); status != statusFine {
		b.Fatalf("exit status %d", status)
	}
}
