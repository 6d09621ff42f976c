package wif

import (
	"slices"
	"testing"

	"fettle/schema"
)

// everyPart is a draft with every part, some of them in unusual forms.
const everyPart = `[WIF]
Version=1.1
[CONTENTS]
[COLOR PALETTE]
Entries=2
[TEXT]
Title=Café
Author=Ada
Address=Quay 1
EMail=a@b
Telephone=1
FAX=2
[WEAVING]
Shafts=4
Treadles=4
Rising Shed=true
Profile=no
[WARP]
Threads=4
Colour=1
Units=Inches
Spacing=0.1
Thickness=0.05
[WEFT]
threads = 3
Color=2
[NOTES]
1=note
[TIEUP]
1=1,2
[COLOR TABLE]
2=0,0,0
[THREADING]
1=1
3=3
2=2
[WARP THICKNESS]
1=1
[WARP SPACING]
1=2
[WARP COLORS]
4=1
[TREADLING]
1=1
[LIFTPLAN]
2=1,3
[WEFT THICKNESS]
3=1
[WEFT SPACING]
3=2
[WEFT COLORS]
1=2
[THREADING]
3=9
4=4
`

func TestLocate(t *testing.T) {
	doc := Read(&schema.Source{Text: []byte(everyPart)})
	for _, c := range []struct {
		name  string
		place schema.Place
		want  string
	}{
		{"the file", schema.Place{}, "[WIF]"},
		{"texts", schema.Place{Part: schema.PartText}, "[TEXT]"},
		{"title", schema.Place{Part: schema.PartText, Field: schema.FieldTitle}, "Title=Café"},
		{"author", schema.Place{Part: schema.PartText, Field: schema.FieldAuthor}, "Author=Ada"},
		{"address", schema.Place{Part: schema.PartText, Field: schema.FieldAddress}, "Address=Quay 1"},
		{"mail", schema.Place{Part: schema.PartText, Field: schema.FieldEMail}, "EMail=a@b"},
		{"telephone", schema.Place{Part: schema.PartText, Field: schema.FieldTelephone}, "Telephone=1"},
		{"fax", schema.Place{Part: schema.PartText, Field: schema.FieldFax}, "FAX=2"},
		{"note", schema.Place{Part: schema.PartNotes, Row: 1}, "1=note"},
		{"missing note", schema.Place{Part: schema.PartNotes, Row: 2}, "[NOTES]"},
		{"weaving", schema.Place{Part: schema.PartWeaving}, "[WEAVING]"},
		{"shafts", schema.Place{Part: schema.PartWeaving, Field: schema.FieldShafts}, "Shafts=4"},
		{"treadles", schema.Place{Part: schema.PartWeaving, Field: schema.FieldTreadles}, "Treadles=4"},
		{"shed", schema.Place{Part: schema.PartWeaving, Field: schema.FieldShed}, "Rising Shed=true"},
		{"profile", schema.Place{Part: schema.PartWeaving, Field: schema.FieldProfile}, "Profile=no"},
		{"palette", schema.Place{Part: schema.PartPalette}, "[COLOR PALETTE]"},
		{"a color", schema.Place{Part: schema.PartPalette, Row: 2}, "2=0,0,0"},
		{"missing color", schema.Place{Part: schema.PartPalette, Row: 1}, "[COLOR TABLE]"},
		{"an end", schema.EndPlace(1), "1=1"},
		{"an end out of order", schema.EndPlace(2), "2=2"},
		{"a duplicate end", schema.EndPlace(3), "3=3"},
		{"an end in the second section", schema.EndPlace(4), "4=4"},
		{"missing end", schema.EndPlace(5), "[THREADING]"},
		{"end 0", schema.EndPlace(0), "[THREADING]"},
		{"a treadle", schema.Place{Part: schema.PartTieup, Row: 1}, "1=1,2"},
		{"a pick's treadle", schema.Place{Part: schema.PartTreadling, Row: 1}, "1=1"},
		{"a pick's lift", schema.Place{Part: schema.PartLiftPlan, Row: 2}, "2=1,3"},
		{"warp", schema.Place{Part: schema.PartWarp}, "[WARP]"},
		{"declared ends", schema.Place{Part: schema.PartWarp, Field: schema.FieldThreads}, "Threads=4"},
		{"misspelt warp color", schema.Place{Part: schema.PartWarp, Field: schema.FieldColor}, "Colour=1"},
		{"warp unit", schema.Place{Part: schema.PartWarp, Field: schema.FieldUnit}, "Units=Inches"},
		{"warp spacing", schema.Place{Part: schema.PartWarp, Field: schema.FieldSpacing}, "Spacing=0.1"},
		{"warp thickness", schema.Place{Part: schema.PartWarp, Field: schema.FieldThickness}, "Thickness=0.05"},
		{"weft", schema.Place{Part: schema.PartWeft}, "[WEFT]"},
		{"declared picks", schema.Place{Part: schema.PartWeft, Field: schema.FieldThreads}, "threads = 3"},
		{"weft color", schema.Place{Part: schema.PartWeft, Field: schema.FieldColor}, "Color=2"},
		{"missing weft spacing", schema.Place{Part: schema.PartWeft, Field: schema.FieldSpacing}, "threads = 3"},
		{"an end's color", schema.Place{Part: schema.PartWarpColors, Row: 4}, "4=1"},
		{"a pick's color", schema.Place{Part: schema.PartWeftColors, Row: 1}, "1=2"},
		{"an end's spacing", schema.Place{Part: schema.PartWarpSpacings, Row: 1}, "1=2"},
		{"a pick's spacing", schema.Place{Part: schema.PartWeftSpacings, Row: 3}, "3=2"},
		{"an end's thickness", schema.Place{Part: schema.PartWarpThicknesses, Row: 1}, "1=1"},
		{"a pick's thickness", schema.Place{Part: schema.PartWeftThicknesses, Row: 3}, "3=1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			at, pointer := doc.Locator.Locate(c.place)
			if got := everyPart[at.Start:at.End]; got != c.want || pointer != "" {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}

func TestLocateMissingPlace(t *testing.T) {
	warp := schema.Place{Part: schema.PartWarpColors, Row: 3}
	for _, c := range []struct {
		name, text string
		place      schema.Place
		want       string
	}{
		{"colors of ends", "[WIF]\n[WARP]\n", warp, "[WARP]"},
		{"colors of ends without WARP", "[WIF]\n[THREADING]\n", warp, "[THREADING]"},
		{"colors of ends without either", "[WIF]\n[TEXT]\n", warp, "[WIF]"},
		{"lift plan", "[WIF]\n[WEFT]\n", schema.Place{Part: schema.PartLiftPlan, Row: 1}, "[WEFT]"},
		{"palette", "[WIF]\n[TEXT]\n", schema.Place{Part: schema.PartPalette, Row: 1}, "[WIF]"},
		{"a color without COLOR TABLE", "[WIF]\n[COLOR PALETTE]\n", schema.Place{Part: schema.PartPalette, Row: 1}, "[COLOR PALETTE]"},
		{"misspelt section", "[WIF]\n[THREDING]\n1=2\n", schema.EndPlace(1), "1=2"},
		{"no sections", "; nothing\n", schema.EndPlace(1), ""},
		{"a row number that is far too high", "[WIF]\n[THREADING]\n999999999=2\n", schema.EndPlace(999999999), "[THREADING]"},
	} {
		t.Run(c.name, func(t *testing.T) {
			at, _ := Read(&schema.Source{Text: []byte(c.text)}).Locator.Locate(c.place)
			if got := c.text[at.Start:at.End]; got != c.want {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}

// edited returns a text with edits.
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
		{"a value before a comment", "[WEAVING]\nShafts=3,; x\n", func(e schema.Editor) []schema.Edit { return e.Set(shafts, "4") }, "[WEAVING]\nShafts=4,; x\n"},
		{"a value under a misspelt key", "[WEAVING]\nShaft=3\n", func(e schema.Editor) []schema.Edit { return e.Set(shafts, "4") }, "[WEAVING]\nShaft=4\n"},
		{"the first of two sections", "[WEAVING]\nShafts=3\n[WEAVING]\nShafts=5\n", func(e schema.Editor) []schema.Edit { return e.Set(shafts, "4") }, "[WEAVING]\nShafts=4\n[WEAVING]\nShafts=5\n"},
		{"a missing key", "[WEAVING]\r\nShafts=3\r\n\r\n[WARP]\r\n", func(e schema.Editor) []schema.Edit { return e.Set(shed, "rising") }, "[WEAVING]\r\nShafts=3\r\nRising Shed=true\r\n\r\n[WARP]\r\n"},
		{"a missing key of an empty last section", "[WARP]\n[WEAVING]", func(e schema.Editor) []schema.Edit { return e.Set(shed, "sinking") }, "[WARP]\n[WEAVING]\nRising Shed=false"},
		{"a missing section", "[TEXT]\r\nTitle=x\r\n  [WARP]\r\n", func(e schema.Editor) []schema.Edit { return e.Set(shed, "rising") }, "[TEXT]\r\nTitle=x\r\n[WEAVING]\r\nRising Shed=true\r\n\r\n  [WARP]\r\n"},
		{"a missing section, with none after it", "[TEXT]\n", func(e schema.Editor) []schema.Edit { return e.Set(shed, "rising") }, "[TEXT]\n"},
		{"the threads of the weft", "[WARP]\nThreads=1\n[WEFT]\nThreads=2\n", func(e schema.Editor) []schema.Edit {
			return e.Set(schema.Place{Part: schema.PartWeft, Field: schema.FieldThreads}, "9")
		}, "[WARP]\nThreads=1\n[WEFT]\nThreads=9\n"},
		{"a row", "[TIEUP]\n1=1,2 ; x\n", func(e schema.Editor) []schema.Edit { return e.SetRow(tie(1), []int32{2, 3}) }, "[TIEUP]\n1=2,3 ; x\n"},
		{"an empty row", "[TIEUP]\n1=1,2\n", func(e schema.Editor) []schema.Edit { return e.SetRow(tie(1), nil) }, "[TIEUP]\n1=0\n"},
		{"a missing row", "[TIEUP]\n1=1,2\n", func(e schema.Editor) []schema.Edit { return e.SetRow(tie(2), nil) }, "[TIEUP]\n1=1,2\n"},
		{"a row's number", "[TIEUP]\n 5 = 1,2\n", func(e schema.Editor) []schema.Edit { return e.Renumber(tie(5), 4) }, "[TIEUP]\n 4 = 1,2\n"},
		{"delete a row", "[TIEUP]\n1=1\n  2=2\n3=3\n", func(e schema.Editor) []schema.Edit { return e.Drop(tie(2)) }, "[TIEUP]\n1=1\n3=3\n"},
		{"delete the last row, without a line break", "[TIEUP]\n1=1\n2=2", func(e schema.Editor) []schema.Edit { return e.Drop(tie(2)) }, "[TIEUP]\n1=1\n"},
		{"delete a part, but not its comments", "[WARP]\n [TIEUP]\n1=1\n; so\n2=2\n\nstray\n[TREADLING]\n1=1\n[TIEUP]\n3=1\n",
			func(e schema.Editor) []schema.Edit { return e.Drop(schema.Place{Part: schema.PartTieup}) }, "[WARP]\n; so\nstray\n[TREADLING]\n1=1\n"},
		{"delete a missing part", "[WARP]\n", func(e schema.Editor) []schema.Edit { return e.Drop(schema.Place{Part: schema.PartTieup}) }, "[WARP]\n"},
		{"the whole file can't be deleted", "[WIF]\n", func(e schema.Editor) []schema.Edit { return e.Drop(schema.Place{}) }, "[WIF]\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			doc := Read(&schema.Source{Text: []byte(c.text)})
			e, ok := doc.Locator.(schema.Editor)
			if !ok {
				t.Fatal("the locator isn't an editor")
			}
			if got := edited(c.text, c.edits(e)); got != c.want {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}
