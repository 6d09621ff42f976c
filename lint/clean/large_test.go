package clean

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"fettle/lint"
)

// repeated returns n lines from a pattern in which # is the number of the line, from 1.
func repeated(count int, format string) string {
	var b strings.Builder
	for n := 1; n <= count; n++ {
		b.WriteString(strings.ReplaceAll(format, "#", fmt.Sprint(n)))
	}
	return b.String()
}

// manyFixes returns drafts to which lines with something to fix can be added.
func manyFixes() []struct{ name, before, each string } {
	head := "[WIF]\nVersion=1.1\n[CONTENTS]\nTHREADING=true\n[THREADING]\n1=1\n2=2\n"
	return []struct{ name, before, each string }{
		{"decimal commas", head + "[WARP SPACING]\n", "#=0,5\n"},
		{"commas after rows, and stray lines", head + "[TREADLING]\n", "#=1,\nand so on\n"},
		{"sections that CONTENTS doesn't list", head, "[PRIVATE #]\na=b\n"},
		{"many duplicate sections", head, "[THREADING]\n#=1\n[NOTES]\n#=x\n"},
		{"duplicate rows", head + "[TREADLING]\n", "#=1\n#=2\n"},
		{"rows numbered 0", head + "[TREADLING]\n", "0=#\n"},
		{"comments after numbers", head + "[TREADLING]\n", "#=1 ; as ever\n"},
		{"colors beyond the palette", head + "[COLOR PALETTE]\nEntries=1\n[COLOR TABLE]\n", "#=1,2,3\n"},
		{"shafts without ends", head + "[LIFTPLAN]\n", "#=2,3,4\n"},
		{"duplicate rows with comments", head + "[TREADLING]\n", "#=1\n#=2, ; again\n"},
		{"lone CR", strings.ReplaceAll(head, "\n", "\r"), "#=1\r"},
	}
}

// fixMany cleans a draft with n lines to fix and makes the diff.
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

// BenchmarkManyFixes reports the exponent with which time grows with the number of fixes;
// 1 is linear.
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
