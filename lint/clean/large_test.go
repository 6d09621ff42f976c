package clean

import (
	"fmt"
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

// TestManyFixes cleans drafts with a great many things to mend: four times as
// many take about four times as long, and not sixteen times.
func TestManyFixes(t *testing.T) {
	if testing.Short() {
		t.Skip("it takes seconds")
	}
	const few = 10_000
	head := "[WIF]\nVersion=1.1\n[CONTENTS]\nTHREADING=true\n[THREADING]\n1=1\n2=2\n"
	for _, c := range []struct{ name, before, each string }{
		{"decimal commas", head + "[WARP SPACING]\n", "#=0,5\n"},
		{"commas behind rows, a stray line each", head + "[TREADLING]\n", "#=1,\nand so on\n"},
		{"sections that CONTENTS leaves out", head, "[PRIVATE #]\na=b\n"},
		{"sections that stand again and again", head, "[THREADING]\n#=1\n[NOTES]\n#=x\n"},
		{"rows that stand twice", head + "[TREADLING]\n", "#=1\n#=2\n"},
		{"rows numbered 0", head + "[TREADLING]\n", "0=#\n"},
		{"comments behind numbers", head + "[TREADLING]\n", "#=1 ; as ever\n"},
		{"colors beyond the palette", head + "[COLOR PALETTE]\nEntries=1\n[COLOR TABLE]\n", "#=1,2,3\n"},
		{"shafts that carry no end", head + "[LIFTPLAN]\n", "#=2,3,4\n"},
		{"lone CR", strings.ReplaceAll(head, "\n", "\r"), "#=1\r"},
	} {
		t.Run(c.name, func(t *testing.T) {
			clean := cleaner(t, lint.Selection{})
			clean.Risky = true
			took := func(count int) time.Duration {
				text := c.before + repeated(count, c.each)
				begun := time.Now()
				r := cleaned(t, clean, text)
				diff := r.Diff()
				took := time.Since(begun)
				if !r.Changed() || len(diff) == 0 || len(r.Refused) > 0 {
					t.Fatalf("changed is %v: %q", r.Changed(), r.Refused)
				}
				return took
			}
			short, long := took(few), took(4*few)
			t.Logf("%v for %d, %v for %d", short, few, long, 4*few)
			if long > 10*short+200*time.Millisecond {
				t.Errorf("%v for %d, but %v for %d", short, few, long, 4*few)
			}
		})
	}
}
