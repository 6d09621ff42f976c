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

// seeds returns how many drafts are made dirty and cleaned.
func seeds() uint64 {
	switch {
	case *long:
		return 10_000
	case testing.Short():
		return 120
	}
	return 250
}

// cannotBeMended are the findings that stay in cleaned drafts, by rule, and why no
// tool could know what is meant.
var cannotBeMended = map[string]string{
	schema.FileBadValue:       "a range of colors can only be guessed",
	schema.FileDuplicateKey:   "either of two values may be meant",
	schema.FileIndex:          "a row or a count beyond belief may be another one",
	schema.FileMissingSection: "nobody can add what a file that breaks off lacks",
	schema.FileStrayLine:      "a number may be lost after a comma",
	schema.FileUnknownKey:     "the key may be a program's own",
	schema.FileUnknownSection: "the section may be a program's own",
	schema.FileVersion:        "what another version means is not known",
}

// TestDirtyDraftsComeClean cleans drafts in all dialects: nothing is refused,
// nothing that can be mended is left, the draft is the one that was written,
// comments and private lines are there, and cleaning again changes nothing.
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
			t.Errorf("seed %d: another cloth than was written", seed)
		}
		if more := added(t, full, before, after); more != "" {
			t.Errorf("seed %d: cleaning brings up %s", seed, more)
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
	got, want := slices.Sorted(maps.Keys(left)), slices.Sorted(maps.Keys(cannotBeMended))
	if !slices.Equal(got, want) {
		t.Errorf("left are findings of %q, want those of %q", got, want)
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
