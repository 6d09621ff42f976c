package clean

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"fettle/lint"
)

// repeated is lines made with the numbers from 1 up.
func repeated(count int, format string) string {
	var b strings.Builder
	for n := 1; n <= count; n++ {
		b.WriteString(strings.ReplaceAll(format, "#", fmt.Sprint(n)))
	}
	return b.String()
}

// manyFixes are drafts with as much to mend as one likes.
func manyFixes() []struct{ name, before, each string } {
	head := "[WIF]\nVersion=1.1\n[CONTENTS]\nTHREADING=true\n[THREADING]\n1=1\n2=2\n"
	return []struct{ name, before, each string }{
		{"decimal commas", head + "[WARP SPACING]\n", "#=0,5\n"},
		{"commas behind rows, a stray line each", head + "[TREADLING]\n", "#=1,\nand so on\n"},
		{"sections that CONTENTS leaves out", head, "[PRIVATE #]\na=b\n"},
		{"sections that stand again and again", head, "[THREADING]\n#=1\n[NOTES]\n#=x\n"},
		{"rows that stand twice", head + "[TREADLING]\n", "#=1\n#=2\n"},
		{"rows numbered 0", head + "[TREADLING]\n", "0=#\n"},
		{"comments behind numbers", head + "[TREADLING]\n", "#=1 ; as ever\n"},
		{"colors beyond the palette", head + "[COLOR PALETTE]\nEntries=1\n[COLOR TABLE]\n", "#=1,2,3\n"},
		{"shafts that carry no end", head + "[LIFTPLAN]\n", "#=2,3,4\n"},
		{"rows that stand twice, with comments", head + "[TREADLING]\n", "#=1\n#=2, ; again\n"},
		{"lone CR", strings.ReplaceAll(head, "\n", "\r"), "#=1\r"},
	}
}

// fixMany mends a draft with so much to mend, and has the change shown.
func fixMany(t testing.TB, before, each string, count int) {
	clean := cleaner(t, lint.Selection{})
	clean.Risky = true
	r := cleaned(t, clean, before+repeated(count, each))
	diff, err := r.Diff()
	if !r.Changed() || err == nil && len(diff) == 0 || len(r.Refused) > 0 {
		t.Fatalf("changed is %v: %q", r.Changed(), r.Refused)
	}
}

func TestManyFixes(t *testing.T) {
	for _, c := range manyFixes() {
		t.Run(c.name, func(t *testing.T) { fixMany(t, c.before, c.each, 2_000) })
	}
}

// BenchmarkManyFixes tells by which power of what there is to mend the time
// grows: 1 where it is in proportion.
func BenchmarkManyFixes(b *testing.B) {
	const few, times = 10_000, 4
	for _, c := range manyFixes() {
		b.Run(c.name, func(b *testing.B) {
			var short, long time.Duration
			for b.Loop() {
				begun := time.Now()
				fixMany(b, c.before, c.each, few)
				between := time.Now()
				fixMany(b, c.before, c.each, times*few)
				short, long = short+between.Sub(begun), long+time.Since(between)
			}
			b.ReportMetric(math.Log(float64(long)/float64(short))/math.Log(times), "exponent")
		})
	}
}
