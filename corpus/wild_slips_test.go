package corpus

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fettle/formats"
	"fettle/lint"
	"fettle/lint/clean"
	"fettle/lint/rules"
	"fettle/schema"
	"fettle/schema/settings"
)

// slip is the sound draft spoilt by one slip: pieces of it, each there just once,
// replaced.
func slip(name string, oldNew ...string) wildDraft {
	return wildDraft{name: name, raw: with(oldNew...), meant: sound}
}

// The tables of the sound draft, to be typed in other ways.
const (
	soundTieup     = "1=1,2\n2=2,3\n3=3,4\n4=1,4\n"
	soundThreading = "[THREADING]\n1=1\n2=2\n3=3\n4=4\n"
	soundTreadling = "[TREADLING]\n1=1\n2=2\n3=4\n"
)

// tied is the sound draft with another mark for the commas of its tie-up.
func tied(name, mark string) wildDraft {
	return slip(name, soundTieup, strings.ReplaceAll(soundTieup, ",", mark))
}

// wildSlips are sound drafts spoilt by one slip each.
func wildSlips() []wildDraft {
	return []wildDraft{
		// A list parted by something other than commas.
		tied("list-semicolons", ";"), tied("list-semicolons-spaced", "; "), tied("list-spaces", " "), tied("list-plus", "+"),
		tied("list-points", "."), tied("list-slashes", "/"), tied("list-hyphens", "-"), tied("list-semicolons-apart", " ; "),
		slip("list-one-row", "2=2,3\n", "2=2;3\n"),
		slip("list-beyond-shafts", soundTieup, "1=1;2\n2=2;3\n3=3;7\n4=1;4\n"),
		slip("list-two-marks", soundTieup, "1=1;2\n2=2.3\n3=3;4\n4=1;4\n"),
		slip("list-and-comments", soundTieup, "1=1;2 ; left\n2=2;3\n3=3;4\n4=1;4 ; right\n"),
		slip("list-and-words", "2=2,3\n", "2=2;3 foot\n"),
		slip("list-cut-short", "1=1,2\n", "1=1,\n"), slip("list-commas-at-ends", soundTieup, "1=1,2,\n2=2,3,\n3=3,4,\n4=1,4,\n"),
		// Something other than = after a row's number or a key.
		slip("colon-one-row", "3=3\n", "3: 3\n"), slip("colon-all-rows", soundThreading, "[THREADING]\n1: 1\n2: 2\n3: 3\n4: 4\n"),
		slip("colon-beyond-shafts", "3=3\n", "3: 8\n"), slip("colon-and-row", "3=3\n", "3=3\n3: 4\n"),
		slip("colon-key", "Rising Shed=true", "Rising Shed: true"), slip("tab-row", "3=3\n", "3\t3\n"), slip("tab-key", "Shafts=4", "Shafts\t4"),
		// Letters for digits.
		slip("letter-l", "1=1\n2=2\n3=3\n4=4\n", "1=l\n2=2\n3=3\n4=4\n"), slip("letter-in-list", "2=2,3\n", "2=Z,3\n"),
		slip("letters-several", "1=1\n2=2\n3=3\n4=4\n", "1=I\n2=2\n3=3\n4=A\n"), slip("letter-row", "3=3\n", "E=3\n"),
		slip("letter-row-number", "[TREADLING]\n1=1\n", "[TREADLING]\nl=1\n"), slip("letter-count", "[WARP]\nThreads=4", "[WARP]\nThreads=A4"),
		slip("letter-o", "2=2\n3=4\n", "2=O\n3=4\n"), slip("letter-key-count", "Shafts=4", "Shafts=4l"),
		slip("space-row", "3=3\n", "3 3\n"), slip("row-after-bracket", "[THREADING]\n1=1\n", "[THREADING] 1=1\n"),
	}
}

// TestSlipsAreFoundOrUndone cleans each spoilt draft: certain fixes give just what
// was meant, or a finding is left that is no note; and no more than three findings
// tell of one slip.
func TestSlipsAreFoundOrUndone(t *testing.T) {
	linter, err := lint.New(rules.All(), lint.Selection{})
	if err != nil {
		t.Fatal(err)
	}
	checker := &lint.Checker{Linter: linter, Finder: settings.NewFinder(settings.Options{})}
	findings := func(doc *schema.Document) []string {
		t.Helper()
		result, err := checker.Check(doc)
		if err != nil {
			t.Fatal(err)
		}
		var list []string
		for _, f := range result.Findings {
			if f.Severity > schema.Note {
				list = append(list, f.Rule+": "+f.Message)
			}
		}
		return list
	}
	read := func(text []byte) *schema.Document { return formats.Read(filepath.Join("wild", "draft.wif"), text) }
	for _, d := range wildDrafts() {
		if d.meant == "" {
			continue
		}
		t.Run(d.name, func(t *testing.T) {
			doc := read([]byte(d.raw))
			told := findings(doc)
			if len(told) == 0 || len(told) > 3 {
				t.Errorf("%d findings: %q", len(told), told)
			}
			result, err := (&clean.Cleaner{Checker: checker}).Clean(doc)
			if err != nil {
				t.Fatal(err)
			}
			after := read(result.After)
			diff := cmp.Diff(wovenAs(read([]byte(d.meant)).Draft), wovenAs(after.Draft))
			if left := findings(after); diff != "" && len(left) == 0 {
				t.Errorf("another draft than was meant (-), without a finding:\n%s", diff)
			}
		})
	}
}

// wovenAs is what is read of a draft but for its comments.
func wovenAs(d *schema.Draft) *wildFacts {
	f := factsOf(d)
	f.Comments = nil
	return f
}
