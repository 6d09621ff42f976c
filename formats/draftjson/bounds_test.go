package draftjson_test

import (
	"fmt"
	"runtime"
	"strings"
	"testing"
	"time"

	"fettle/corpus"
	"fettle/formats/draftjson"
	"fettle/formats/wif"
	"fettle/schema"
)

// hostile holds texts of about n bytes that are hard on a reader.
var hostile = map[string]func(n int) string{
	"one list":           func(n int) string { return `{"fettle": 1, "threading": [1` + strings.Repeat(",2", n/2) + "]}" },
	"rows of one number": func(n int) string { return `{"fettle": 1, "liftplan": [[1]` + strings.Repeat(",[1]", n/4) + "]}" },
	"one row":            func(n int) string { return `{"fettle": 1, "liftplan": [[1` + strings.Repeat(",2", n/2) + "]]}" },
	"wrong numbers":      func(n int) string { return `{"fettle": 1, "threading": [1` + strings.Repeat(`,"x"`, n/4) + "]}" },
	"long numbers": func(n int) string {
		return `{"fettle": 1, "warp": {"spacings": [1` + strings.Repeat(",0.12345678901234567", n/20) + "]}}"
	},
	"one huge number":       func(n int) string { return `{"fettle": 1, "shafts": 1` + strings.Repeat("0", n) + "}" },
	"huge exponents":        func(n int) string { return `{"fettle": 1, "threading": [1` + strings.Repeat(",1e999999", n/9) + "]}" },
	"a property many times": func(n int) string { return `{"fettle": 1` + strings.Repeat(`,"shafts":1`, n/11) + "}" },
	"unknown properties":    func(n int) string { return `{"fettle": 1` + numbered(`,"x%d":1`, n/10) + "}" },
	"misspelt settings":     func(n int) string { return `{"fettle": 1, "project": {"sett": 1` + numbered(`,"x%d":1`, n/10) + "}}" },
	"yarns": func(n int) string {
		return `{"fettle": 1, "project": {"yarns": {"a": {}` + numbered(`,"x%d":{"Grist": 1}`, n/22) + "}}}"
	},
	"lists called like tables": func(n int) string { return `{"fettle": 1` + numbered(`,"treadl%d":[]`, n/15) + "}" },
	"ignores":                  func(n int) string { return `{"fettle": 1, "ignore": [{}` + strings.Repeat(`,{"rule":1}`, n/11) + "]}" },
	"sections": func(n int) string {
		return `{"fettle": 1, "carried": {"wif": {"sections": [{}` + strings.Repeat(`,{"name":"a","lines":[1]}`, n/25) + "]}}}"
	},
	"one title": func(n int) string { return `{"fettle": 1, "title": "` + strings.Repeat(`\"`, n/2) + `"}` },
	"one name":  func(n int) string { return `{"fettle": 1, "` + strings.Repeat("x", n) + `": 1}` },
	"deep":      func(n int) string { return `{"fettle": ` + strings.Repeat("[", n/2) + strings.Repeat("]", n/2) + "}" },
	"deep as allowed": func(n int) string {
		return `{"fettle": 1` + numbered(`,"x%d":`+strings.Repeat("[", 9000)+strings.Repeat("]", 9000), n/18000) + "}"
	},
	"invalid UTF-8":      func(n int) string { return `{"fettle": 1, "notes": ["a"` + strings.Repeat(",\"\xff\xc3\"", n/5) + "]}" },
	"truncated":          func(n int) string { return `{"fettle": 1, "threading": [1` + strings.Repeat(",2", n/2) },
	"text after the end": func(n int) string { return `{"fettle": 1}` + strings.Repeat("]", n) },
	"space":              func(n int) string { return `{"fettle": 1, "threading": [` + strings.Repeat(" ", n) + "1]}" },
}

func numbered(format string, n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, format, i)
	}
	return b.String()
}

// TestHostileTexts reads each text in two sizes. Memory must be linear and a small
// multiple of the size, and there must be few findings.
func TestHostileTexts(t *testing.T) {
	const small = 100_000
	for name, text := range hostile {
		t.Run(name, func(t *testing.T) {
			one := cost(t, text(small))
			four := cost(t, text(4*small))
			if four > 5*one+1<<20 {
				t.Errorf("Read allocates %d bytes for %d, and %d for 4 times as many", one, small, four)
			}
			if four > 80*4*small+4<<20 { // garbage included
				t.Errorf("Read allocates %d bytes for %d", four, 4*small)
			}
		})
	}
}

// cost returns how many bytes are allocated by reading a text and locating a place.
func cost(t *testing.T, text string) uint64 {
	src := &schema.Source{Text: []byte(text)}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	doc := draftjson.Read(src)
	if doc.Draft != nil {
		doc.Locator.Locate(schema.EndPlace(1))
	}
	runtime.ReadMemStats(&after)
	if len(doc.Findings) > 60 {
		t.Errorf("%d findings", len(doc.Findings))
	}
	for _, f := range doc.Findings {
		if len(f.Message) > 500 || f.Span.Start < 0 || f.Span.End > len(text) || f.Span.End < f.Span.Start {
			t.Errorf("%s at %v: %.100s, %d bytes", f.Rule, f.Span, f.Message, len(f.Message))
		}
	}
	return after.TotalAlloc - before.TotalAlloc
}

// TestThreadsAllocateNothing checks that allocations don't grow with the threads, except
// that lists double.
func TestThreadsAllocateNothing(t *testing.T) {
	times := func(threads int) float64 {
		text, _ := draftjson.Write(corpus.Generate(1, corpus.GenOptions{Ends: threads, Picks: threads, Shafts: 8, LiftPlan: true}))
		src := &schema.Source{Text: text}
		return testing.AllocsPerRun(5, func() { draftjson.Read(src) })
	}
	if few, many := times(400), times(6400); many > few+150 {
		t.Errorf("%.0f allocations for 400 threads, %.0f for 6400", few, many)
	}
}

// shapes holds typical drafts.
var shapes = map[string]func() *schema.Draft{
	"tieup": func() *schema.Draft { return corpus.Generate(1, corpus.GenOptions{Ends: 400, Picks: 400, Shafts: 8}) },
	"liftplan": func() *schema.Draft {
		return corpus.Generate(1, corpus.GenOptions{Ends: 400, Picks: 400, Shafts: 16, LiftPlan: true})
	},
	"small": func() *schema.Draft { return corpus.Generate(1, corpus.GenOptions{Ends: 40, Picks: 40, Shafts: 4}) },
	"measures": func() *schema.Draft {
		d := corpus.Generate(1, corpus.GenOptions{Ends: 400, Picks: 400, Shafts: 8})
		d.Warp.Unit = schema.Centimetres
		for i := range d.Ends() {
			d.Warp.Spacings = append(d.Warp.Spacings, 0.1+float64(i%7)/100)
		}
		return d
	},
}

// BenchmarkReadAgainstWIF reads drafts as JSON and as WIF in turn, and reports how many
// times as long JSON takes. The shortest time of each counts, because other processes
// disturb it least.
func BenchmarkReadAgainstWIF(b *testing.B) {
	for name, draft := range shapes {
		b.Run(name, func(b *testing.B) {
			object, _ := draftjson.Write(draft())
			text, _ := wif.Write(draft(), wif.Options{})
			least := func(best *time.Duration, read func(*schema.Source) *schema.Document, text []byte) {
				start := time.Now()
				read(&schema.Source{Text: text})
				*best = min(*best, time.Since(start))
			}
			asObject, asText := time.Hour, time.Hour
			for b.Loop() {
				least(&asObject, draftjson.Read, object)
				least(&asText, wif.Read, text)
			}
			b.ReportMetric(float64(asObject)/float64(asText), "x-text")
			b.ReportMetric(float64(asObject.Nanoseconds()), "JSON-ns")
			b.ReportMetric(float64(asText.Nanoseconds()), "text-ns")
		})
	}
}
