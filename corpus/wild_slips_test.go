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

// undone is a slip that risky fixes undo.
func undone(name string, oldNew ...string) wildDraft {
	d := slip(name, oldNew...)
	d.risky = true
	return d
}

// sixTreadles is the sound draft with six treadles, all pressed.
var sixTreadles = with("Treadles=4", "Treadles=6", "[WEFT]\nThreads=3", "[WEFT]\nThreads=6", soundTieup, "1=1,2\n2=2,3\n3=3,4\n4=1,4\n5=1,3\n6=2,4\n",
	soundTreadling, "[TREADLING]\n1=1\n2=2\n3=3\n4=4\n5=5\n6=6\n")

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
		undone("list-one-row", "2=2,3\n", "2=2;3\n"),
		slip("list-beyond-shafts", soundTieup, "1=1;2\n2=2;3\n3=3;7\n4=1;4\n"),
		undone("list-two-marks", soundTieup, "1=1;2\n2=2.3\n3=3;4\n4=1;4\n"),
		slip("list-and-comments", soundTieup, "1=1;2 ; left\n2=2;3\n3=3;4\n4=1;4 ; right\n"),
		slip("list-and-words", "2=2,3\n", "2=2;3 foot\n"),
		slip("list-cut-short", "1=1,2\n", "1=1,\n"), slip("list-commas-at-ends", soundTieup, "1=1,2,\n2=2,3,\n3=3,4,\n4=1,4,\n"),
		// Something other than = after a row's number or a key.
		slip("colon-one-row", "3=3\n", "3: 3\n"), slip("colon-all-rows", soundThreading, "[THREADING]\n1: 1\n2: 2\n3: 3\n4: 4\n"),
		slip("colon-beyond-shafts", "3=3\n", "3: 8\n"), slip("colon-and-row", "3=3\n", "3=3\n3: 4\n"),
		slip("colon-key", "Rising Shed=true", "Rising Shed: true"), slip("tab-row", "3=3\n", "3\t3\n"), slip("tab-key", "Shafts=4", "Shafts\t4"),
		// Letters for digits.
		undone("letter-l", "1=1\n2=2\n3=3\n4=4\n", "1=l\n2=2\n3=3\n4=4\n"), undone("letter-in-list", "2=2,3\n", "2=Z,3\n"),
		slip("letters-several", "1=1\n2=2\n3=3\n4=4\n", "1=I\n2=2\n3=3\n4=A\n"), slip("letter-row", "3=3\n", "E=3\n"),
		undone("letter-row-number", "[TREADLING]\n1=1\n", "[TREADLING]\nl=1\n"), slip("letter-count", "[WARP]\nThreads=4", "[WARP]\nThreads=A4"),
		slip("letter-o", "2=2\n3=4\n", "2=O\n3=4\n"), slip("letter-key-count", "Shafts=4", "Shafts=4l"),
		{"tieup-sideways", strings.Replace(sixTreadles, "1=1,2\n2=2,3\n3=3,4\n4=1,4\n5=1,3\n6=2,4\n", "1=1,4,5\n2=1,2,6\n3=2,3,5\n4=3,4,6\n", 1), sixTreadles, true},
		slip("space-row", "3=3\n", "3 3\n"), slip("row-after-bracket", "[THREADING]\n1=1\n", "[THREADING] 1=1\n"),
	}
}

// TestSlipsAreFoundOrUndone cleans each spoilt draft: certain fixes give just what
// was meant, or a finding is left that is no note; and no more than three findings
// tell of one slip.
func TestSlipsAreFoundOrUndone(t *testing.T) {
	with := func(s lint.Selection) *lint.Checker {
		linter, err := lint.New(rules.All(), s)
		if err != nil {
			t.Fatal(err)
		}
		return &lint.Checker{Linter: linter, Finder: settings.NewFinder(settings.Options{})}
	}
	checker, slipsOnly := with(lint.Selection{}), with(lint.Selection{Skip: []string{"draft/unused-treadle"}})
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
			if d.risky {
				result, err := (&clean.Cleaner{Checker: slipsOnly, Risky: true}).Clean(doc)
				if diff := cmp.Diff(wovenAs(read([]byte(d.meant)).Draft), wovenAs(read(result.After).Draft)); err != nil || diff != "" {
					t.Errorf("risky fixes do not give what was meant (-); refused %q; %v:\n%s", result.Refused, err, diff)
				}
			}
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
