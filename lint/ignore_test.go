package lint

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/corpus/golden"
	"fettle/schema"
)

// TestIgnores compares ignores of the whole file and of sections with a search through all
// of them.
func TestIgnores(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rule := rapid.SampledFrom([]string{"a/one", "a/two"})
		list := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) schema.Ignore {
			g := schema.Ignore{Rule: rule.Draw(t, "rule")}
			if n := rapid.IntRange(0, 4).Draw(t, "section"); n > 0 { // each section has ten bytes, with a gap after it
				g.Section = schema.Span{Start: 12 * n, End: 12*n + 10}
			}
			return g
		}), 0, 8).Draw(t, "ignores")
		g := newIgnores(list, map[string]*setRule{"a/one": {}, "a/two": {}})
		used := make([]bool, len(list))
		for range rapid.IntRange(0, 8).Draw(t, "findings") {
			f := schema.Finding{Rule: rule.Draw(t, "of"), Span: schema.Span{Start: rapid.IntRange(0, 70).Draw(t, "at")}}
			first := slices.IndexFunc(list, func(x schema.Ignore) bool { return x.Rule == f.Rule && x.Section == (schema.Span{}) })
			if first < 0 {
				first = slices.IndexFunc(list, func(x schema.Ignore) bool {
					return x.Rule == f.Rule && x.Section.Start <= f.Span.Start && f.Span.Start < x.Section.End
				})
			}
			if first >= 0 {
				used[first] = true
			}
			if got := g.of(&f) != nil; got != (first >= 0) {
				t.Fatalf("%v left out of %v: %v", f, list, got)
			}
		}
		if !slices.Equal(g.used, used) {
			t.Fatalf("%v used of %v, want %v", g.used, list, used)
		}
	})
}

// TestUnusedIgnores checks that an unused ignore suggests a rule, in time linear in the
// number of ignores.
func TestUnusedIgnores(t *testing.T) {
	l, err := New([]Rule{{ID: "cloth/float", Default: schema.Note}, {ID: UnusedIgnore, Default: schema.Note}}, Selection{})
	if err != nil {
		t.Fatal(err)
	}
	set := l.newSet(nil)
	for _, test := range []struct{ name, rule string }{
		{"one that finds nothing", "cloth/float"},
		{"a slip", "cloth/flaot"},
		{"a family", "cloth"},
		{"two", "cloth/float,cloth/other"},
		{"the first of two", "cloth/float,"},
		{"like nothing", "loom/width"},
	} {
		t.Run(test.name, func(t *testing.T) {
			r := &run{set: set, doc: &schema.Document{Draft: &schema.Draft{}}}
			found := r.unused(newIgnores(slices.Repeat([]schema.Ignore{{Rule: test.rule}}, mostUnused+2), set.byID))
			if len(found) != mostUnused {
				t.Fatalf("%d findings", len(found))
			}
			golden.Words(t, found[0].Message)
			golden.Words(t, found[mostUnused-1].Message)
		})
	}
}

// TestCorrectIgnore checks that the suggestion for a comment with two slips names an existing
// rule.
func TestCorrectIgnore(t *testing.T) {
	l, err := New([]Rule{{ID: "cloth/float", Default: schema.Note}, {ID: schema.FileUnknownKey, Default: schema.Note}}, Selection{})
	if err != nil {
		t.Fatal(err)
	}
	for rule, want := range map[string]string{"cloth/flaot": "cloth/float", "cloth/float": "cloth/float", "RULE": "RULE"} {
		found := schema.MisspeltIgnore{Comment: "; fetle: ignore " + rule, Rule: rule, Rest: " - meant so"}.Finding(schema.Span{Start: 3, End: 5})
		doc := &schema.Document{Findings: []schema.Finding{found, {Rule: schema.FileUnknownKey, Message: "another"}}}
		r := &run{set: l.newSet(nil), doc: doc}
		r.fromReader()
		line := schema.IgnoreComment + want + " - meant so"
		if got := r.findings[0]; got.Ignore.Rule != want || got.Data.Get("suggestion") != line || !strings.Contains(got.Message, line) || got.Span != found.Span {
			t.Errorf("%s: got %+v", rule, got)
		}
		if doc.Findings[0].Ignore.Rule != rule || r.findings[1].Message != "another" {
			t.Error("what the reader found was changed")
		}
	}
}
