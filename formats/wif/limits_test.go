package wif

import (
	"fmt"
	"runtime"
	"strconv"
	"strings"
	"testing"

	"fettle/corpus"
	"fettle/schema"
)

func read(text string) *schema.Document { return Read(&schema.Source{Text: []byte(text)}) }

// allocated returns how many bytes Read allocates for a text.
func allocated(text string) uint64 {
	src := &schema.Source{Text: []byte(text)}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	Read(src)
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

// TestCountsAllocateNothing declares far more than the file has.
func TestCountsAllocateNothing(t *testing.T) {
	const head = "[WIF]\nVersion=1.1\n"
	for name, text := range map[string]string{
		"threads":            "[WARP]\nThreads=2000000000\n",
		"shafts":             "[WEAVING]\nShafts=2000000000\nTreadles=999999999999999999\n",
		"entries":            "[COLOR PALETTE]\nEntries=2000000000\n[COLOR TABLE]\n1=1,2,3\n",
		"an end's number":    "[THREADING]\n1=1\n999999999=1\n",
		"a note's number":    "[NOTES]\n999999999=far\n",
		"a color's number":   "[COLOR TABLE]\n999999999=1,2,3\n",
		"a spacing's number": "[WARP SPACING]\n999999999=1.5\n",
		"a shaft's number":   "[THREADING]\n1=999999999\n",
	} {
		t.Run(name, func(t *testing.T) {
			if n := allocated(head + text); n > 1<<20 {
				t.Errorf("Read allocates %d bytes", n)
			}
			d := read(head + text)
			if d.Draft.Ends() > 1 || d.Draft.Shafts > 1 || len(d.Draft.Palette) > 1 {
				t.Errorf("fettle believes it: %d ends, %d shafts, %d colors", d.Draft.Ends(), d.Draft.Shafts, len(d.Draft.Palette))
			}
		})
	}
}

// TestBelievedCountsAllocateNothing checks that a count makes no table.
func TestBelievedCountsAllocateNothing(t *testing.T) {
	text := "[WIF]\n[WARP]\nThreads=1000000\n[WEFT]\nThreads=1000000\n[WEAVING]\nShafts=1000000\n"
	if n := allocated(text); n > 1<<20 {
		t.Errorf("Read allocates %d bytes", n)
	}
	if got := read(text).Draft.Ends(); got != 1_000_000 {
		t.Errorf("%d ends", got)
	}
}

// TestMemoryFollowsTheFile checks that the size of a hostile file bounds its memory,
// except for some findings of each kind.
func TestMemoryFollowsTheFile(t *testing.T) {
	if testing.Short() {
		t.Skip("the race detector allocates too")
	}
	for _, h := range hostile() {
		t.Run(h.name, func(t *testing.T) {
			text := h.text(10_000)
			most := 1<<20 + 300*len(text)
			if n := allocated(text); n > uint64(most) {
				t.Errorf("Read allocates %d bytes for %d bytes, %d lines", n, len(text), strings.Count(text, "\n"))
			}
		})
	}
}

// hostileText is a text that could take a reader long. Its size grows with n.
type hostileText struct {
	name  string
	text  func(n int) string
	rule  string
	found func(n int) int // the number of findings of the rule
}

func hostile() []hostileText {
	some := func(int) int { return maxReported }
	once := func(int) int { return 1 }
	times := func(head, line string) func(int) string {
		return func(n int) string { return "[WIF]\n[THREADING]\n" + head + strings.Repeat(line, n) }
	}
	lines := func(head, line string) func(int) string {
		return func(n int) string {
			var b strings.Builder
			b.WriteString("[WIF]\n[THREADING]\n" + head)
			for i := range n {
				b.WriteString(strings.ReplaceAll(line, "#", strconv.Itoa(i+1)))
			}
			return b.String()
		}
	}
	return []hostileText{
		{"a key many times", times("[WEAVING]\nShafts=4\n", "Shafts=4\n"), schema.FileDuplicateKey, once},
		{"a row many times", times("1=1\n", "1=1\n"), schema.FileDuplicateKey, once},
		{"an unknown key many times", times("[WEAVING]\n", "Looms=4\n"), schema.FileUnknownKey, some},
		{"a misspelt key many times", times("[WEAVING]\n", "Shaft=4\n"), schema.FileUnknownKey, func(int) int { return maxReported + 1 }},
		{"a section many times", times("[TEXT]\n", "[TEXT]\n"), schema.FileDuplicateSection, some},
		{"a misspelt section many times", times("", "[TREDLING]\n"), schema.FileUnknownSection, func(int) int { return maxReported + 1 }},
		{"an unknown section many times", times("", "[X]\n"), schema.FileUnknownSection, some},
		{"stray lines", times("", "x\n"), schema.FileStrayLine, once},
		{"stray lines and rows in turn", times("", "x\n1=1\n"), schema.FileStrayLine, once},
		{"lines of CONTENTS", times("[CONTENTS]\n", "x=1\n"), schema.FileDuplicateKey, once},
		{"unreadable values", times("[WARP SPACING]\n", "1=x\n"), schema.FileBadValue, once},
		{"rows of words", lines("[WARP SPACING]\n", "#=x\n"), schema.FileBadValue, once},
		{"rows with decimal commas", lines("[WARP SPACING]\n", "#=0,5\n"), schema.FileDecimalComma, once},
		{"rows with a trailing comma", lines("[TREADLING]\n", "#=1,\n"), schema.FileStrayLine, once},
		{"rows with a trailing comment", lines("[TREADLING]\n", "#=1 ; so\n"), schema.FileStrayLine, once},
		{"rows numbered 0", times("", "0=1\n"), schema.FileIndex, once},
		{"row numbers that are far too high", times("", "999999999=1\n"), schema.FileIndex, once},
		{"colors of two channels", lines("[COLOR TABLE]\n", "#=1,2\n"), schema.FileBadValue, once},
		{"colors beyond their range", lines("[COLOR PALETTE]\nRange=0,255\n[COLOR TABLE]\n", "#=1,2,300\n"), schema.FileBadValue, once},
		{"colors beyond the palette", lines("[COLOR PALETTE]\nEntries=1\n[COLOR TABLE]\n", "#=1,2,3\n"), schema.FileIndex, once},
		{"two mistakes in turn", lines("", "#=x\nx\n"), schema.FileBadValue, once},
		{"rows without a number", times("", "x=1\n"), schema.FileUnknownKey, once},
		{"unknown keys", lines("[WEAVING]\n", "loom#=4\n"), schema.FileUnknownKey, some},
		{"unknown sections", lines("", "[loom #]\n"), schema.FileUnknownSection, some},
		{"open brackets", times("", "[TEXT\n"), schema.FileStrayLine, some},
		{"missing sections in CONTENTS", lines("[CONTENTS]\n", "loom #=1\n"), schema.FileContents, func(int) int { return maxReported + 1 }},
		{"a long line", func(n int) string { return "[WIF]\n[NOTES]\n1=" + strings.Repeat("é ", n) + "\n" }, schema.FileContents, once},
		{"a long row", func(n int) string { return "[WIF]\n[THREADING]\n1=" + strings.Repeat("1,", n) + "1\n" }, schema.FileContents, once},
		{"a long section name", func(n int) string { return "[WIF]\n[" + strings.Repeat("x", n) + "]\n" }, schema.FileUnknownSection, once},
		{"brackets", times("", "[\n"), schema.FileStrayLine, once},
		{"rows in descending order", func(n int) string {
			var b strings.Builder
			b.WriteString("[WIF]\n[THREADING]\n")
			for i := n; i > 0; i-- {
				fmt.Fprintf(&b, "%d=1\n", i)
			}
			return b.String()
		}, schema.FileContents, once},
	}
}

func TestHostileTextsAreRead(t *testing.T) {
	const n = 20_000
	for _, h := range hostile() {
		t.Run(h.name, func(t *testing.T) {
			got := 0
			for _, f := range read(h.text(n)).Findings {
				if f.Rule == h.rule {
					got++
				}
			}
			if want := h.found(n); got != want {
				t.Errorf("%d findings of %s, want %d", got, h.rule, want)
			}
		})
	}
}

// TestCleanLinesAllocateNothing checks that allocations don't grow with the lines of a
// clean file.
func TestCleanLinesAllocateNothing(t *testing.T) {
	for _, lifts := range []bool{false, true} {
		text, _ := Write(corpus.Generate(1, corpus.GenOptions{Ends: 20_000, Picks: 20_000, Shafts: 24, LiftPlan: lifts}), Options{})
		if n := testing.AllocsPerRun(3, func() { Read(&schema.Source{Text: text}) }); n > 60 {
			t.Errorf("lifts %v: %v allocations for %d bytes", lifts, n, len(text))
		}
	}
}

// BenchmarkHostile shows whether time is linear: the time for a byte must not grow
// with the file.
func BenchmarkHostile(b *testing.B) {
	for _, h := range hostile() {
		for _, n := range []int{125_000, 1_000_000} {
			b.Run(fmt.Sprintf("%s/%d", h.name, n), func(b *testing.B) {
				text := []byte(h.text(n))
				b.SetBytes(int64(len(text)))
				for b.Loop() {
					Read(&schema.Source{Text: text})
				}
			})
		}
	}
}
