package clean

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fettle/corpus/golden"
	"fettle/formats"
	"fettle/lint"
	"fettle/schema"
)

// planted returns a draft and a rule that fixes each of its rows by writing 1 for 01.
// The fixes of bad rows write 2.
func planted(rows int, bad func(row int) bool) (text string, rule lint.Rule) {
	text = "[WIF]\nVersion=1.1\n[TIEUP]\n1=1\n2=2\n[TREADLING]\n1=1\n2=2\n[THREADING]\n" + repeated(rows, "#=01\n")
	return text, lint.Rule{ID: "a/a", Fixable: true, Default: schema.Warning, Check: func(p *lint.Pass) {
		fix := schema.Fix{Title: "a"}
		for n := 1; n <= rows; n++ {
			at := p.Editor().SetRow(schema.EndPlace(n), nil)[0].Span
			with := "1"
			if bad(n) {
				with = "2"
			}
			if at.End-at.Start == len("01") {
				fix.AddPart(schema.Edit{Span: at, New: with})
			}
		}
		p.Report(schema.Place{}, nil, "a")
		p.Fix(fix)
	}}
}

// TestBadFixesAreFound cleans drafts with a few bad fixes among many. Few trials find the
// bad ones, and all others are made.
func TestBadFixesAreFound(t *testing.T) {
	for _, c := range []struct {
		rows   int
		bad    []int
		trials int
	}{
		{1, []int{1}, 3}, {4, []int{2, 3}, 15}, {5_000, []int{1, 5_000}, 60}, {20_000, []int{7, 8, 19_999}, 110}, {300, nil, 1},
	} {
		text, rule := planted(c.rows, func(row int) bool { return slices.Contains(c.bad, row) })
		w := workOn(t, cleanerOf(t, []lint.Rule{rule}), text)
		r, err := w.clean()
		if err != nil {
			t.Fatal(err)
		}
		var want []Refusal
		if len(c.bad) > 0 {
			want = []Refusal{{Rule: "a/a", Line: 9 + c.bad[0], More: len(c.bad) - 1}}
		}
		for i := range r.Refused {
			r.Refused[i].Reason = ""
		}
		if !slices.Equal(r.Refused, want) {
			t.Errorf("%d rows: refused %v, want %v", c.rows, r.Refused, want)
		}
		if fixed := strings.Count(text, "=0") - strings.Count(string(r.After), "=0"); fixed != c.rows-len(c.bad) {
			t.Errorf("%d rows: %d are fixed, want %d", c.rows, fixed, c.rows-len(c.bad))
		}
		if w.trials > c.trials {
			t.Errorf("%d rows: %d trials, want at most %d", c.rows, w.trials, c.trials)
		}
	}
}

// TestMostlyBadFixes cleans a large file with too many bad fixes to find. The search ends
// in time and doesn't change the draft.
func TestMostlyBadFixes(t *testing.T) {
	text, rule := planted(6_000, func(row int) bool { return row%2 == 0 })
	w := workOn(t, cleanerOf(t, []lint.Rule{rule, exchangingIn(text, "b/b", "Version=1.1", "version=1.1")}), text)
	r, err := w.clean()
	if err != nil {
		t.Fatal(err)
	}
	refused := 0
	for _, x := range r.Refused {
		refused += 1 + x.More
	}
	if refused != 6_000 || r.Made.String() != "b/b 1" || len(r.Refused) > mostReasons || w.trials > 3*trialsFor([]byte(text)) {
		t.Errorf("%d refused in %d kinds, after %d trials", refused, len(r.Refused), w.trials)
	}
	if again, err := workOn(t, w.Cleaner, string(r.After)).clean(); err != nil || again.Changed() {
		t.Errorf("cleaning again changes it, or fails: %v", err)
	}
	if why := listed(differences(formats.Read("", []byte(text)).Draft, r.Document.Draft)); why != "" {
		t.Error(why)
	}
}

func TestRefusalsAreReported(t *testing.T) {
	var r Result
	for n := range 14 {
		r.refuse(Refusal{Rule: "a/a", Line: 30 + n, Reason: fmt.Sprint("reason ", n/2)})
		r.refuse(Refusal{Rule: "a/b", Line: 50 + n, Reason: fmt.Sprint("reason ", n)})
	}
	r.refuse(Refusal{Rule: Canonical, Reason: "why"})
	r.refuse(Refusal{Reason: "the whole file"})
	var lines []string
	for _, x := range r.Refused {
		lines = append(lines, x.At("a.wif"))
	}
	if len(lines) != 7+mostReasons+2 {
		t.Errorf("%d lines: %q", len(lines), lines)
	}
	golden.Words(t, strings.Join(lines, "\n"))
}

// workOn returns the work on the bytes of a file, before its first round.
func workOn(t testing.TB, c *Cleaner, raw string) *work {
	t.Helper()
	doc := formats.Read("draft.wif", []byte(raw))
	if doc.Draft == nil {
		t.Fatalf("no draft: %s", doc.Findings[0].Message)
	}
	return c.work(doc)
}
