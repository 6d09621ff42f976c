package corpus

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fettle/formats"
	"fettle/schema"
)

// dirtySeeds is how many dirty drafts each test reads.
const dirtySeeds = 600

// content is the content of a draft in a form in which equal drafts compare equal.
type content struct {
	Texts            schema.Texts
	Notes            string
	Shafts, Treadles int
	Ends, Picks      int
	Shed             schema.Shed
	Palette          []schema.Color
	WarpColors       []int
	WeftColors       []int
	WarpMM, WeftMM   []float64
	Cloth            []string
}

func contentOf(d *schema.Draft) content {
	t := content{Texts: d.Texts, Notes: strings.Join(d.Notes, "\n"), Shafts: d.Shafts, Treadles: d.Treadles,
		Ends: d.Ends(), Picks: d.Picks(), Shed: d.Shed, Palette: d.Palette, Cloth: clothRows(d),
		WarpMM: spacings(&d.Warp, d.Ends()), WeftMM: spacings(&d.Weft, d.Picks())}
	for n := 1; n <= d.Ends(); n++ {
		t.WarpColors = append(t.WarpColors, d.Warp.ColorOf(n))
	}
	for n := 1; n <= d.Picks(); n++ {
		t.WeftColors = append(t.WeftColors, d.Weft.ColorOf(n))
	}
	return t
}

// rulesOf returns the rules of a document's findings, sorted without duplicates.
func rulesOf(doc *schema.Document) []string {
	var rules []string
	for _, f := range doc.Findings {
		rules = append(rules, f.Rule)
	}
	slices.Sort(rules)
	return slices.Compact(rules)
}

// eachDirty reads a dirty draft for each seed.
func eachDirty(t *testing.T, do func(t *testing.T, doc *schema.Document, facts Facts)) {
	for seed := range uint64(dirtySeeds) {
		raw, facts := Dirty(seed)
		doc := formats.Read("dirty", raw)
		if doc.Draft == nil {
			t.Errorf("seed %d isn't a draft: %s", seed, doc.Findings[0].Message)
			continue
		}
		do(t, doc, facts)
		if t.Failed() {
			t.Fatalf("seed %d:\n%s", seed, doc.Source.Text)
		}
	}
}

func TestDirtyDraftsReadAsTheyAre(t *testing.T) {
	met := map[string]int{}
	eachDirty(t, func(t *testing.T, doc *schema.Document, facts Facts) {
		if diff := cmp.Diff(contentOf(facts.Draft), contentOf(doc.Draft)); diff != "" {
			t.Errorf("a different draft is read: written (-), read (+)\n%s", diff)
		}
		if diff := cmp.Diff(facts.Rules, rulesOf(doc)); diff != "" {
			t.Errorf("different findings: want (-), got (+)\n%s", diff)
		}
		for _, r := range facts.Rules {
			met[r]++
		}
	})
	for _, rule := range []string{schema.FileEncoding, schema.FileStrayLine, schema.FileDuplicateSection, schema.FileDuplicateKey,
		schema.FileUnknownSection, schema.FileUnknownKey, schema.FileMissingSection, schema.FileContents, schema.FileBadValue,
		schema.FileDecimalComma, schema.FileIndex, schema.FileVersion} {
		if met[rule] < 10 {
			t.Errorf("only %d drafts have findings of %s", met[rule], rule)
		}
	}
}

func TestDirtyIsTheSameEachTime(t *testing.T) {
	seen := map[string]bool{}
	for seed := range uint64(50) {
		a, _ := Dirty(seed)
		b, _ := Dirty(seed)
		if string(a) != string(b) {
			t.Errorf("seed %d gives two drafts", seed)
		}
		seen[string(a)] = true
	}
	if len(seen) != 50 {
		t.Errorf("50 seeds give %d drafts", len(seen))
	}
}

// rounds limits how often fixes are applied until none is left.
const rounds = 5

// TestCertainFixesChangeNothing applies all certain fixes to dirty and wild drafts. The
// drafts stay the same.
func TestCertainFixesChangeNothing(t *testing.T) {
	eachDirty(t, func(t *testing.T, doc *schema.Document, _ Facts) { mendAll(t, doc) })
	for _, d := range wildDrafts() {
		t.Run(d.name, func(t *testing.T) {
			if doc := formats.Read(d.name, []byte(d.raw)); doc.Draft != nil {
				mendAll(t, doc)
			}
		})
	}
}

func mendAll(t *testing.T, doc *schema.Document) {
	before := contentOf(doc.Draft)
	for n := 0; ; n++ {
		text, fixed := fixOnce(doc)
		if len(fixed) == 0 {
			return
		}
		if n == rounds {
			t.Errorf("after %d rounds there are still fixes for %s", rounds, fixed)
			return
		}
		old := doc
		if doc = formats.Read("fixed", text); doc.Draft == nil {
			t.Errorf("not a draft after fixing %s:\n%s", fixed, text)
			return
		}
		if diff := added(old, doc); diff != "" {
			t.Errorf("fixing %s adds findings of %s:\n%s", fixed, diff, text)
			return
		}
		if diff := cmp.Diff(before, contentOf(doc.Draft)); diff != "" {
			t.Errorf("fixing %s changes the draft: before (-), after (+)\n%s\n%s", fixed, diff, text)
			return
		}
	}
}

// added returns a rule with more findings than before, "" for none.
func added(before, after *schema.Document) string {
	count := map[string]int{}
	for _, f := range before.Findings {
		count[f.Rule]++
	}
	for _, f := range after.Findings {
		if count[f.Rule]--; count[f.Rule] < 0 {
			return f.Rule + ": " + f.Message
		}
	}
	if len(after.Findings) >= len(before.Findings) {
		return "no fewer findings"
	}
	return ""
}

// fixOnce applies each certain fix that doesn't overlap an earlier one. It returns the
// rules of those it applied.
func fixOnce(doc *schema.Document) (text []byte, fixed []string) {
	var edits []schema.Edit
	for _, f := range schema.SortFindings(doc.Findings) {
		for _, fix := range f.Fixes {
			if fix.Risky || len(fix.Edits) == 0 || slices.ContainsFunc(fix.Edits, func(e schema.Edit) bool { return overlaps(e, edits) }) {
				continue
			}
			edits = append(edits, fix.Edits...)
			fixed = append(fixed, fmt.Sprintf("%s (%s)", f.Rule, fix.Title))
			break
		}
	}
	slices.SortStableFunc(edits, func(a, b schema.Edit) int {
		if a.Span.Start != b.Span.Start {
			return a.Span.Start - b.Span.Start
		}
		return a.Span.End - b.Span.End
	})
	at := 0
	for _, e := range edits {
		text = append(append(text, doc.Source.Text[at:e.Span.Start]...), e.New...)
		at = e.Span.End
	}
	return append(text, doc.Source.Text[at:]...), fixed
}

// overlaps reports whether an edit shares a byte with others. Insertions at the same place
// don't overlap.
func overlaps(e schema.Edit, others []schema.Edit) bool {
	return slices.ContainsFunc(others, func(o schema.Edit) bool { return e.Span.Start < o.Span.End && o.Span.Start < e.Span.End })
}
