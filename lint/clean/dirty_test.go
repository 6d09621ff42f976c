package clean

import (
	"bytes"
	"flag"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"fettle/corpus"
	"fettle/corpus/golden"
	"fettle/formats"
	"fettle/lint"
	"fettle/lint/rules"
	"fettle/schema"
	"fettle/schema/cloth"
)

var long = flag.Bool("long", false, "clean many more dirty drafts")

func TestMain(m *testing.M) { os.Exit(golden.M{M: m}.Run()) }

// seeds returns how many dirty drafts to clean.
func seeds() uint64 {
	switch {
	case *long:
		return 10_000
	case testing.Short():
		return 120
	}
	return 250
}

// unfixable lists the rules whose findings stay in cleaned drafts, and why no tool can
// fix them.
var unfixable = map[string]string{
	schema.FileBadValue:       "the range of the colors is unknown",
	schema.FileDuplicateKey:   "either of two values may be right",
	schema.FileIndex:          "the right number of a row is unknown",
	schema.FileMissingSection: "the rest of a truncated file is unknown",
	schema.FileStrayLine:      "a number may be missing after a comma",
	schema.FileUnknownKey:     "the key may belong to another program",
	schema.FileUnknownSection: "the section may belong to another program",
	schema.FileVersion:        "the meaning of another version is unknown",
}

// TestDirtyDraftsComeClean cleans drafts in all dialects. No fix is refused and none is
// left to make; the draft, its comments and its private lines stay; cleaning again
// changes nothing.
func TestDirtyDraftsComeClean(t *testing.T) {
	c := cleaner(t, lint.Selection{})
	full := checker(t, rules.All(), lint.Selection{})
	left := map[string]int{}
	for seed := range seeds() {
		raw, facts := corpus.Dirty(seed)
		r := cleaned(t, c, string(raw))
		if len(r.Refused) > 0 {
			t.Errorf("seed %d: refused: %q", seed, r.Refused)
		}
		for _, words := range facts.Kept {
			if !strings.Contains(string(formats.Read("", r.After).Source.Text), words) {
				t.Errorf("seed %d: lost: %q", seed, words)
			}
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
			t.Errorf("seed %d: a different cloth", seed)
		}
		if more := added(t, full, before, after); more != "" {
			t.Errorf("seed %d: cleaning adds a finding: %s", seed, more)
		}
		if again := cleaned(t, c, string(r.After)); again.Changed() {
			t.Errorf("seed %d: cleaning again changes it:\n%s", seed, again.After)
		}
		if diff, _ := r.Diff(); bytes.Contains(diff, []byte("@@ \n")) {
			t.Errorf("seed %d: a hunk without a rule", seed)
		}
		if t.Failed() {
			t.Fatalf("seed %d:\n%s\nbecame\n%s", seed, before.Source.Text, r.After)
		}
	}
	got, want := slices.Sorted(maps.Keys(left)), slices.Sorted(maps.Keys(unfixable))
	if !slices.Equal(got, want) {
		t.Errorf("findings of %q are left, want %q", got, want)
	}
}

// added returns a finding of a rule that finds more in the second document than in the
// first, "" for none.
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
