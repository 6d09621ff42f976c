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

// sameContent compares drafts without what they carry and the places of ignores.
var sameContent = cmp.Options{cmpopts.EquateEmpty(), cmpopts.IgnoreFields(schema.Draft{}, "Carried", "Ignores")}

// FuzzRead reads any text. Findings and places must be within the text, a second
// reading must return the same, and no certain fix may change the draft.
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
				t.Errorf("%s has the message %q", x.Rule, x.Message)
			}
			for _, fix := range x.Fixes {
				result := fixed(t, text, x.Rule, fix)
				if !small || fix.Risky {
					continue
				}
				if diff := cmp.Diff(doc.Draft, read(result).Draft, sameContent); diff != "" {
					t.Errorf("%s (%s) changes the draft:\n%s\n%q\n%q", x.Rule, fix.Title, diff, text, result)
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
			t.Error("a second reading returns something else")
		}
	})
}

func checkSpan(t *testing.T, text, what string, at schema.Span) {
	t.Helper()
	if at.Start < 0 || at.End < at.Start || at.End > len(text) {
		t.Errorf("%s is at %v of %d bytes", what, at, len(text))
	}
}

// fixed returns a text with a fix.
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

// smallEnough reports whether a draft can be compared often. A single high index can
// make a million rows.
func smallEnough(d *schema.Draft) bool {
	tables := d.Ends() + d.Picks() + d.Tieup.Len() + len(d.Palette) + len(d.Notes)
	return tables < 5_000
}
