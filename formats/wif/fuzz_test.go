package wif

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fettle/corpus"
	"fettle/schema"
)

// said compares what two drafts say of the cloth and in words, not what is
// carried along and where ignores stand.
var said = cmp.Options{cmpopts.EquateEmpty(), cmpopts.IgnoreFields(schema.Draft{}, "Carried", "Ignores")}

// FuzzRead reads anything: findings stand within the text, places are found in
// it, reading again finds the same, and no certain fix makes another draft.
func FuzzRead(f *testing.F) {
	f.Add(canonical)
	f.Add(everyPart)
	for seed := range uint64(12) {
		raw, _ := corpus.Dirty(seed)
		f.Add(string(raw[:min(len(raw), 2000)]))
	}
	for _, h := range hostile() {
		f.Add(h.text(3))
	}
	f.Fuzz(func(t *testing.T, text string) {
		text = strings.ToValidUTF8(text, "?")
		doc := read(text)
		small := smallEnough(doc.Draft)
		for _, x := range doc.Findings {
			checkSpan(t, text, x.Rule, x.Span)
			if x.Message == "" || strings.ContainsAny(x.Message, "\r\n") {
				t.Errorf("%s says %q", x.Rule, x.Message)
			}
			for _, fix := range x.Fixes {
				mended := fixed(t, text, x.Rule, fix)
				if !small || fix.Risky {
					continue
				}
				if diff := cmp.Diff(doc.Draft, read(mended).Draft, said); diff != "" {
					t.Errorf("%s (%s) makes another draft:\n%s\n%q\n%q", x.Rule, fix.Title, diff, text, mended)
				}
			}
		}
		for part := schema.PartFile; part <= schema.PartWeftThicknesses; part++ {
			for row := range 4 {
				at, _ := doc.Locator.Locate(schema.Place{Part: part, Row: row, Field: schema.Field(row)})
				checkSpan(t, text, "a place", at)
			}
		}
		if again := read(text); small && !cmp.Equal(doc.Findings, again.Findings) || !cmp.Equal(doc.Draft, again.Draft) {
			t.Error("reading again gives something else")
		}
	})
}

func checkSpan(t *testing.T, text, what string, at schema.Span) {
	t.Helper()
	if at.Start < 0 || at.End < at.Start || at.End > len(text) {
		t.Errorf("%s stands at %v of %d bytes", what, at, len(text))
	}
}

// fixed is a text with a fix made.
func fixed(t *testing.T, text, rule string, fix schema.Fix) string {
	t.Helper()
	edits := slices.Clone(fix.Edits)
	slices.SortStableFunc(edits, func(a, b schema.Edit) int { return a.Span.Start - b.Span.Start })
	var b strings.Builder
	at := 0
	for _, e := range edits {
		checkSpan(t, text, rule, e.Span)
		if e.Span.Start < at {
			t.Fatalf("%s: edits overlap at %d", rule, at)
		}
		b.WriteString(text[at:e.Span.Start] + e.New)
		at = e.Span.End
	}
	return b.String() + text[at:]
}

// smallEnough says whether a draft can be compared over and over: an index that
// is just believed makes a million rows.
func smallEnough(d *schema.Draft) bool {
	tables := d.Ends() + d.Picks() + d.Tieup.Len() + len(d.Palette) + len(d.Notes)
	return tables < 5_000
}
