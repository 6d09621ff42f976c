package main

import (
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"fettle/corpus"
	"fettle/formats"
	"fettle/formats/draftjson"
	"fettle/formats/wif"
	"fettle/lint"
	"fettle/lint/report"
	"fettle/lint/rules"
	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/settings"
)

// ordinary is a medium-sized draft: 11 kB as WIF.
var ordinary = corpus.GenOptions{Ends: 400, Picks: 400, Shafts: 8}

// library writes n generated drafts of medium size into a new folder. It returns the
// folder and the total size in bytes.
func library(t testing.TB, drafts int) (folder string, size int64) {
	folder = t.TempDir()
	for n := range drafts {
		text, _ := wif.Write(corpus.Generate(uint64(n+1), ordinary), wif.Options{})
		writeFile(t, filepath.Join(folder, fmt.Sprintf("draft%04d.wif", n)), text)
		size += int64(len(text))
	}
	return folder, size
}

func lintQuietly(t testing.TB, args ...string) {
	p := &program{out: io.Discard, err: io.Discard}
	if status := p.run(append([]string{"fettle", "lint", "--quiet", "--fail-on", "never"}, args...)); status != statusFine {
		t.Fatalf("exit status %d", status)
	}
}

// BenchmarkLint compares linting a library, with its report, with only reading the files.
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

// stage is a step in the processing of a draft.
type stage struct {
	name   string
	drafts float64 // processed at once
	do     func()
	// times and kilobytes are the budget per draft: the number of allocations and their
	// size. 0 means no budget.
	times, kilobytes float64
}

// stages lists the steps of lint with their budgets. Allocations hardly differ between
// machines, so a test can check them. If a change needs more, raise the budget here and
// give the reason in the commit.
func stages(t testing.TB) (list []stage, size int) {
	draft := corpus.Generate(1, ordinary)
	text, _ := wif.Write(draft, wif.Options{})
	object, _ := draftjson.Write(draft)
	linter, err := lint.New(rules.All(), lint.Selection{})
	if err != nil {
		t.Fatal(err)
	}
	check := func() lint.Result {
		result, err := linter.Lint(formats.Read("a.wif", text), &settings.Settings{})
		if err != nil {
			t.Fatal(err)
		}
		return result
	}
	finder := settings.NewFinder(settings.Options{})
	list = []stage{
		{"read text", 1, func() { formats.Read("a.wif", text) }, 29, 20},
		{"read JSON", 1, func() { formats.Read("a.json", object) }, 400, 31},
		{"settings", 1, func() {
			if _, err := finder.For("a.wif", nil); err != nil {
				t.Fatal(err)
			}
		}, 3, 0.5},
		{"cloth", 1, func() {
			c := cloth.Of(draft)
			c.Floats(cloth.FloatQuery{Warp: cloth.Measure{LimitThreads: 9}, Weft: cloth.Measure{LimitThreads: 9}})
			c.Layers()
			c.Keys()
		}, 100, 12},
		{"read and all rules", 1, func() { check() }, 225, 50},
	}
	result, src := check(), formats.Read("a.wif", text).Source
	for _, form := range report.Names() {
		file := report.File{Path: "a.wif", Format: wif.Format, Source: src, Draft: draft, Findings: result.Findings,
			Prints: func() []string { return new(lint.Linter).Fingerprints(src, result.Findings) }}
		list = append(list, stage{name: "report as " + form, drafts: 1, do: func() {
			w, err := report.New(form, io.Discard, report.Options{FailOn: schema.Error})
			if err == nil {
				err = w.File(file)
			}
			if err != nil {
				t.Fatal(err)
			}
		}})
	}
	for _, form := range append(formats.Names(), formats.Drawings()...) {
		list = append(list, stage{name: "write as " + form, drafts: 1, do: func() {
			if _, _, err := formats.Write(form, draft, formats.Options{}); err != nil {
				t.Fatal(err)
			}
		}})
	}
	return list, len(text)
}

func BenchmarkStage(b *testing.B) {
	list, size := stages(b)
	for _, s := range list {
		b.Run(s.name, func(b *testing.B) {
			b.SetBytes(int64(size))
			b.ReportAllocs()
			for b.Loop() {
				s.do()
			}
		})
	}
}

func TestAllocationBudget(t *testing.T) {
	if testing.Short() {
		t.Skip("the race detector allocates too")
	}
	const drafts = 100
	folder, _ := library(t, drafts)
	list, _ := stages(t)
	list = append(list, stage{"the whole of lint", drafts, func() { lintQuietly(t, folder, "--jobs", "2") }, 320, 66})
	for _, s := range list {
		if s.times == 0 {
			continue
		}
		times, kilobytes := allocated(s.do)
		times, kilobytes = times/s.drafts, kilobytes/s.drafts
		t.Logf("%s: %.0f times, %.1f kB a draft", s.name, times, kilobytes)
		if times > s.times || kilobytes > s.kilobytes {
			t.Errorf("%s: %.0f times and %.1f kB a draft are over the budget of %.0f and %.0f", s.name, times, kilobytes, s.times, s.kilobytes)
		}
	}
}

// allocated returns the number of allocations of a function and their size in kilobytes.
// It takes the least of several runs, because the garbage collector and other goroutines
// allocate too.
func allocated(do func()) (times, kilobytes float64) {
	do()
	times, kilobytes = math.Inf(1), math.Inf(1)
	for range 5 {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		do()
		runtime.ReadMemStats(&after)
		times = min(times, float64(after.Mallocs-before.Mallocs))
		kilobytes = min(kilobytes, float64(after.TotalAlloc-before.TotalAlloc)/1024)
	}
	return times, kilobytes
}
