package sheet

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"fettle/schema/dressing"
	"fettle/schema/wording"
)

func TestTable(t *testing.T) {
	long := strings.Repeat("word ", 20)
	for _, row := range []struct {
		name  string
		table table
		want  string
	}{
		{"numbers to the right", table{heads: []string{"a", "b"}, right: []bool{true}, rows: [][]string{{"1", "x"}, {"10", "y"}}},
			"   a  b\n   1  x\n  10  y\n"},
		{"an empty column is left out", table{heads: []string{"a", "wide", "c"}, rows: [][]string{{"1", "", "2"}}}, "  a  c\n  1  2\n"},
		{"no headings", table{rows: [][]string{{"a", "b"}}}, "  a  b\n"},
		{"several lines", table{rows: [][]string{{"a", "b\nc"}, {"d", "e"}}}, "  a  b\n     c\n  d  e\n"},
		{"no room is left", table{rows: [][]string{{strings.Repeat("x", 90), "abc"}}}, "  " + strings.Repeat("x", 73) + "  abc\n  " + strings.Repeat("x", 17) + "\n"},
		{"headings take two lines where there is no room", table{heads: []string{"a", "one two three", "x"}, rows: [][]string{{strings.Repeat("x", 63), "1", "abcd"}}},
			"  a" + strings.Repeat(" ", 64) + "one two  x\n" + strings.Repeat(" ", 67) + "three\n  " + strings.Repeat("x", 63) + "  1        abcd\n"},
		{"the widest column takes several lines", table{rows: [][]string{{long, "30"}}, right: []bool{false, true}},
			"  " + strings.Repeat("word ", 15) + " 30\n  " + strings.TrimRight(strings.Repeat("word ", 5), " ") + "\n"},
		{"the last column takes the room that is left", table{rows: [][]string{{"a", long}}},
			"  a  " + strings.TrimRight(strings.Repeat("word ", 15), " ") + "\n     " + strings.TrimRight(strings.Repeat("word ", 5), " ") + "\n"},
	} {
		t.Run(row.name, func(t *testing.T) {
			var p page
			p.table(&row.table)
			if got := p.String(); got != row.want {
				t.Errorf("\n%s\nwant\n%s", got, row.want)
			}
		})
	}
}

func TestTicks(t *testing.T) {
	var p page
	p.ticks([]string{"4", "8", "12"})
	if got, want := p.String(), "  [ ] 4   [ ] 8   [ ] 12\n"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// For any file, the sheet has 80 columns and no terminal control characters, NaN or
// infinities.
func TestTextOfAnyDraft(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s := anyDraft(t), anySetup(t)
		plan := dressing.Options{
			Path: anyName(t, "path"), Group: []int{rapid.IntRange(0, 30).Draw(t, "group")},
			Start: rapid.SampledFrom([]dressing.Start{dressing.FromRight, dressing.FromLeft, dressing.FromCentre}).Draw(t, "start"),
		}
		text := textOf(t, d, s, plan, Options{End1Left: rapid.Bool().Draw(t, "end 1 left")})
		for line := range strings.Lines(text) {
			line = strings.TrimSuffix(line, "\n")
			if utf8.RuneCountInString(line) > columnsWide || strings.HasSuffix(line, " ") {
				t.Fatalf("%q is too wide, or ends in spaces", line)
			}
			if plain := wording.Plain(line, len(line)); plain != line {
				t.Fatalf("%q would have to be %q", line, plain)
			}
		}
		for _, wrong := range []string{"NaN", "Inf", "%!", "state .", " ,", "\n\n\n"} {
			if strings.Contains(text, wrong) {
				t.Fatalf("%q stands in:\n%s", wrong, text)
			}
		}
	})
}

// Absurdly large figures are still laid out.
func TestTextOfAbsurdFigures(t *testing.T) {
	d, s := towel()
	s.Project.Repeats = 100_000
	s.Project.FinishedLength = 1e9
	s.Project.TakeUp, s.Project.ShrinkageWarp = 0.999, 0.999
	s.Yarns[0].Name = strings.Repeat("long ", 20)
	text := textOf(t, d, s, dressing.Options{Group: []int{100_000}}, Options{})
	if !strings.Contains(text, "long long long") || strings.Contains(text, "Inf") {
		t.Errorf("no sheet:\n%.3000s", text)
	}
}
