package wif

import (
	"slices"
	"testing"

	"fettle/schema"
)

// edited makes edits in a text, from the last to the first.
func edited(text string, edits []schema.Edit) string {
	slices.SortStableFunc(edits, func(a, b schema.Edit) int { return b.Span.Start - a.Span.Start })
	for _, e := range edits {
		text = text[:e.Span.Start] + e.New + text[e.Span.End:]
	}
	return text
}

func TestEditor(t *testing.T) {
	shafts := schema.Place{Part: schema.PartWeaving, Field: schema.FieldShafts}
	shed := schema.Place{Part: schema.PartWeaving, Field: schema.FieldShed}
	tie := func(row int) schema.Place { return schema.Place{Part: schema.PartTieup, Row: row} }
	for _, c := range []struct {
		name, text string
		edits      func(schema.Editor) []schema.Edit
		want       string
	}{
		{"a value", "[WEAVING]\r\n Shafts = 3 \r\n", func(e schema.Editor) []schema.Edit { return e.Set(shafts, "4") }, "[WEAVING]\r\n Shafts = 4 \r\n"},
		{"a value with a comment behind", "[WEAVING]\nShafts=3,; x\n", func(e schema.Editor) []schema.Edit { return e.Set(shafts, "4") }, "[WEAVING]\nShafts=4,; x\n"},
		{"a value under a misspelt key", "[WEAVING]\nShaft=3\n", func(e schema.Editor) []schema.Edit { return e.Set(shafts, "4") }, "[WEAVING]\nShaft=4\n"},
		{"the first of two", "[WEAVING]\nShafts=3\n[WEAVING]\nShafts=5\n", func(e schema.Editor) []schema.Edit { return e.Set(shafts, "4") }, "[WEAVING]\nShafts=4\n[WEAVING]\nShafts=5\n"},
		{"a key that is not there", "[WEAVING]\r\nShafts=3\r\n\r\n[WARP]\r\n", func(e schema.Editor) []schema.Edit { return e.Set(shed, "rising") }, "[WEAVING]\r\nShafts=3\r\nRising Shed=true\r\n\r\n[WARP]\r\n"},
		{"a key of an empty section at the end", "[WARP]\n[WEAVING]", func(e schema.Editor) []schema.Edit { return e.Set(shed, "sinking") }, "[WARP]\n[WEAVING]\nRising Shed=false"},
		{"a value without its section", "[TEXT]\r\nTitle=x\r\n  [WARP]\r\n", func(e schema.Editor) []schema.Edit { return e.Set(shed, "rising") }, "[TEXT]\r\nTitle=x\r\n[WEAVING]\r\nRising Shed=true\r\n\r\n  [WARP]\r\n"},
		{"a value without its section, at the end", "[TEXT]\n", func(e schema.Editor) []schema.Edit { return e.Set(shed, "rising") }, "[TEXT]\n"},
		{"the threads of the weft", "[WARP]\nThreads=1\n[WEFT]\nThreads=2\n", func(e schema.Editor) []schema.Edit {
			return e.Set(schema.Place{Part: schema.PartWeft, Field: schema.FieldThreads}, "9")
		}, "[WARP]\nThreads=1\n[WEFT]\nThreads=9\n"},
		{"a row", "[TIEUP]\n1=1,2 ; x\n", func(e schema.Editor) []schema.Edit { return e.SetRow(tie(1), []int32{2, 3}) }, "[TIEUP]\n1=2,3 ; x\n"},
		{"a row of nothing", "[TIEUP]\n1=1,2\n", func(e schema.Editor) []schema.Edit { return e.SetRow(tie(1), nil) }, "[TIEUP]\n1=0\n"},
		{"a row that is not listed", "[TIEUP]\n1=1,2\n", func(e schema.Editor) []schema.Edit { return e.SetRow(tie(2), nil) }, "[TIEUP]\n1=1,2\n"},
		{"a row's number", "[TIEUP]\n 5 = 1,2\n", func(e schema.Editor) []schema.Edit { return e.Renumber(tie(5), 4) }, "[TIEUP]\n 4 = 1,2\n"},
		{"a row gone", "[TIEUP]\n1=1\n  2=2\n3=3\n", func(e schema.Editor) []schema.Edit { return e.Drop(tie(2)) }, "[TIEUP]\n1=1\n3=3\n"},
		{"the last row gone, without a break", "[TIEUP]\n1=1\n2=2", func(e schema.Editor) []schema.Edit { return e.Drop(tie(2)) }, "[TIEUP]\n1=1\n"},
		{"a part gone, comments stay", "[WARP]\n [TIEUP]\n1=1\n; so\n2=2\n\nstray\n[TREADLING]\n1=1\n[TIEUP]\n3=1\n",
			func(e schema.Editor) []schema.Edit { return e.Drop(schema.Place{Part: schema.PartTieup}) }, "[WARP]\n; so\nstray\n[TREADLING]\n1=1\n"},
		{"a part that is not there", "[WARP]\n", func(e schema.Editor) []schema.Edit { return e.Drop(schema.Place{Part: schema.PartTieup}) }, "[WARP]\n"},
		{"the file as a whole stays", "[WIF]\n", func(e schema.Editor) []schema.Edit { return e.Drop(schema.Place{}) }, "[WIF]\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			doc := Read(&schema.Source{Text: []byte(c.text)})
			e, ok := doc.Locator.(schema.Editor)
			if !ok {
				t.Fatal("the locator is no editor")
			}
			if got := edited(c.text, c.edits(e)); got != c.want {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}
