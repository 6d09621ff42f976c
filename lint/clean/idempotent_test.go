package clean

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fettle/corpus"
	"fettle/formats"
	"fettle/lint"
)

// variant is a choice of options for cleaning.
type variant struct {
	name             string
	risky, canonical bool
	lint.Selection
}

func variants() []variant {
	return []variant{
		{name: "certain fixes"},
		{name: "risky fixes", risky: true},
		{name: "canonical form", canonical: true},
		{name: "everything", risky: true, canonical: true},
		{name: "the encoding kept", Selection: lint.Selection{Skip: []string{"file/encoding"}}},
		{name: "the encoding kept, with risky fixes", risky: true, Selection: lint.Selection{Skip: []string{"file/encoding"}}},
		{name: "the encoding only", Selection: lint.Selection{Only: []string{"file/encoding"}}},
		{name: "without misspelt keys and stray lines", Selection: lint.Selection{Skip: []string{"file/unknown-key", "file/stray-line"}}},
		{name: "duplicates only", Selection: lint.Selection{Only: []string{"file/duplicate-section", "file/duplicate-key"}}},
	}
}

func (w variant) cleaner(t testing.TB) *Cleaner {
	c := cleaner(t, w.Selection)
	c.Risky, c.Canonical = w.risky, w.canonical
	return c
}

// drafts returns the files of the corpus and dirty drafts, by name.
func drafts(t testing.TB) map[string][]byte {
	t.Helper()
	all := map[string][]byte{}
	for _, pattern := range []string{"guild", "faulty", "wild"} {
		paths, err := filepath.Glob(filepath.Join("..", "..", "corpus", pattern, "*.wif"))
		if err != nil || len(paths) == 0 {
			t.Fatalf("no drafts in %s: %v", pattern, err)
		}
		for _, path := range paths {
			raw, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			all[path] = raw
		}
	}
	for seed := range uint64(150) {
		raw, _ := corpus.Dirty(seed)
		all[fmt.Sprintf("seed %d", seed)] = raw
	}
	return all
}

// TestCleaningAgainChangesNothing cleans all drafts with all options. Cleaning again
// changes nothing, and the draft stays the same.
func TestCleaningAgainChangesNothing(t *testing.T) {
	all := drafts(t)
	for _, w := range variants() {
		t.Run(w.name, func(t *testing.T) {
			c := w.cleaner(t)
			changed := 0
			for name, raw := range all {
				before := formats.Read("draft.wif", raw)
				if before.Draft == nil {
					continue
				}
				r := cleaned(t, c, string(raw))
				if r.Changed() {
					changed++
				}
				for _, x := range r.Refused {
					// Canonical form would lose what fettle couldn't read. No fix may lose an invalid byte or
					// the byte that reveals an old code page.
					if base := filepath.Base(name); x.Rule != Canonical && base != "utf8-one-byte-broken.wif" && base != "cp850-end-of-file-mark.wif" {
						t.Errorf("%s:%d: %s", name, x.Line, x)
					}
				}
				again := cleaned(t, c, string(r.After))
				if again.Changed() {
					t.Errorf("%s: cleaning again changes it:\n%s", name, again.After)
				}
				if diff, err := r.Diff(); err == nil && patched(t, string(raw), string(diff)) != string(r.After) {
					t.Errorf("%s: the diff doesn't give the result:\n%s", name, diff)
				}
				after := formats.Read("draft.wif", r.After)
				threads, rest := differences(before.Draft, after.Draft)
				meant := slices.ContainsFunc(r.Risks, func(s string) bool { return strings.HasPrefix(s, "the draft now has") })
				if len(threads)+len(rest) > 0 && !(w.risky && meant) {
					t.Errorf("%s: it has %v %v", name, threads, rest)
				}
			}
			if changed == 0 {
				t.Error("nothing changed")
			}
		})
	}
}
