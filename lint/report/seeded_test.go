package report

import (
	"bytes"
	"fmt"
	"slices"
	"testing"

	"fettle/corpus"
	"fettle/formats"
	"fettle/lint"
	"fettle/lint/rules"
	"fettle/schema/settings"
)

// TestSeededSARIF checks the report on a folder of drafts against the published schema:
// it has every finding, errors first.
func TestSeededSARIF(t *testing.T) {
	linter, err := lint.New(rules.All(), lint.Selection{})
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	w, err := New("sarif", &b, Options{Rules: rules.All(), Version: "v1"})
	if err != nil {
		t.Fatal(err)
	}
	var s Summary
	for n := range 200 {
		raw, _ := corpus.Dirty(uint64(n))
		doc := formats.Read(fmt.Sprintf("dräft %d.wif", n), raw)
		result, err := linter.Lint(doc, &settings.Settings{})
		if err != nil {
			t.Fatal(err)
		}
		f := File{Path: doc.Source.Path, Format: doc.Format, Source: doc.Source, Findings: result.Findings,
			Prints: printed(new(lint.Linter).Fingerprints(doc.Source, result.Findings)...)}
		s.Add(f)
		if err := w.File(f); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(s); err != nil {
		t.Fatal(err)
	}
	var levels []int
	for _, r := range parseSARIF(t, b.String()).Runs[0].Results {
		levels = append(levels, slices.Index([]string{"error", "warning", "note"}, r.Level))
	}
	if len(levels) != s.Errors+s.Warnings+s.Notes || len(levels) < 200 || !slices.IsSorted(levels) {
		t.Errorf("%d results of %v, or errors are not first", len(levels), s)
	}
}
