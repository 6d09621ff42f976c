package clean

import (
	"bytes"
	"maps"
	"slices"
	"testing"

	"fettle/corpus"
	"fettle/formats"
	"fettle/lint"
	"fettle/lint/rules"
	"fettle/schema"
	"fettle/schema/cloth"
)

// seeds is how many drafts are made dirty and cleaned.
const seeds = 1500

// cannotBeMended are the rules of which findings stay in cleaned drafts: a key and
// a section that the format does not have may be a program's own, and what
// another version means is not known, so that only --risky writes 1.1. What a
// file that breaks off lacks nobody can add.
var cannotBeMended = []string{schema.FileMissingSection, schema.FileUnknownKey, schema.FileUnknownSection, schema.FileVersion}

// TestDirtyDraftsComeClean cleans drafts in all dialects: nothing that can be
// mended is left, the draft is the one that was written, and cleaning again
// changes nothing.
func TestDirtyDraftsComeClean(t *testing.T) {
	c := cleaner(t, lint.Selection{})
	full := checker(t, rules.All(), lint.Selection{})
	left := map[string]int{}
	for seed := range uint64(seeds) {
		raw, facts := corpus.Dirty(seed)
		r := cleaned(t, c, string(raw))
		if len(r.Refused) > 0 {
			t.Errorf("seed %d: refused: %q", seed, r.Refused)
		}
		for _, f := range fileFindings(r.After) {
			if f.Fixable() {
				t.Errorf("seed %d: %s is left: %s", seed, f.Rule, f.Message)
			}
			left[f.Rule]++
		}
		after := formats.Read("draft.wif", r.After)
		before := formats.Read("draft.wif", raw)
		if threads, rest := differences(before.Draft, after.Draft); len(threads)+len(rest) > 0 {
			t.Errorf("seed %d: %v %v", seed, threads, rest)
		}
		if facts.Draft.Ends() != after.Draft.Ends() || !cloth.Same(facts.Draft, after.Draft) {
			t.Errorf("seed %d: another cloth than was written", seed)
		}
		if more := added(t, full, before, after); more != "" {
			t.Errorf("seed %d: cleaning brings up %s", seed, more)
		}
		if again := cleaned(t, c, string(r.After)); again.Changed() {
			t.Errorf("seed %d: cleaning again changes it:\n%s", seed, again.Diff())
		}
		if bytes.Contains(r.Diff(), []byte("@@ \n")) {
			t.Errorf("seed %d: a hunk without a rule", seed)
		}
		if t.Failed() {
			t.Fatalf("seed %d:\n%s\nbecame\n%s\n%s", seed, before.Source.Text, r.After, r.Diff())
		}
	}
	if got := slices.Sorted(maps.Keys(left)); !slices.Equal(got, cannotBeMended) {
		t.Errorf("left are findings of %q, want those of %q", got, cannotBeMended)
	}
}

// added names a rule that finds more in the second document than in the first.
func added(t *testing.T, c *lint.Checker, before, after *schema.Document) string {
	t.Helper()
	count := map[string]int{}
	for i, doc := range []*schema.Document{before, after} {
		r, err := c.Check(doc)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range r.Findings {
			if count[f.Rule] += 1 - 2*i; count[f.Rule] < 0 {
				return f.Rule + ": " + f.Message
			}
		}
	}
	return ""
}
