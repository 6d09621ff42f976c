package formats

import (
	"strings"

	"pgregory.net/rapid"

	"fettle/schema"
)

// anyDraft generates drafts of every shape: sparse and full tables, several shafts an
// end, both tie-up and lift plan, colors in any range, texts in any script.
func anyDraft() *rapid.Generator[*schema.Draft] {
	return rapid.Custom(func(t *rapid.T) *schema.Draft {
		shafts := rapid.IntRange(1, 24).Draw(t, "shafts")
		treadles := rapid.IntRange(0, 12).Draw(t, "treadles")
		d := &schema.Draft{
			Texts: schema.Texts{
				Title: anyText(t, "title"), Author: anyText(t, "author"), Address: anyText(t, "address"),
				EMail: anyText(t, "email"), Telephone: anyText(t, "telephone"), Fax: anyText(t, "fax"),
			},
			Shafts:   rapid.SampledFrom([]int{0, shafts, shafts + 3}).Draw(t, "declared"),
			Treadles: rapid.SampledFrom([]int{0, treadles}).Draw(t, "declared treadles"),
			Shed:     rapid.SampledFrom([]schema.Shed{schema.ShedUnstated, schema.Rising, schema.Sinking}).Draw(t, "shed"),
			Profile:  rapid.SampledFrom([]schema.Answer{schema.Unsaid, schema.Yes, schema.No}).Draw(t, "profile"),
		}
		for range rapid.IntRange(0, 3).Draw(t, "notes") {
			d.Notes = append(d.Notes, anyText(t, "note"))
		}
		for range rapid.IntRange(0, 5).Draw(t, "colors") {
			d.Palette = append(d.Palette, anyColor(t))
		}
		d.Threading = anyRows(t, "threading", 40, shafts)
		d.Tieup = anyRows(t, "tieup", treadles, shafts)
		if treadles > 0 {
			d.Treadling = anyRows(t, "treadling", 40, treadles)
		}
		if rapid.Bool().Draw(t, "lift plan") {
			d.LiftPlan = anyRows(t, "lifts", 40, shafts)
		}
		d.Warp = anySystem(t, "warp", d.Threading.Len())
		d.Weft = anySystem(t, "weft", max(d.Treadling.Len(), d.LiftPlan.Len()))
		d.Carried = anyCarried(t)
		return d
	})
}

// anyText generates a line of text without white space at its ends.
func anyText(t *rapid.T, label string) string {
	s := rapid.StringOf(rapid.RuneFrom([]rune("abc XYZ 123 =;#[]\"'`\\/<>&,.éÅжש漢😀")))
	return strings.TrimSpace(s.Draw(t, label))
}

func anyColor(t *rapid.T) schema.Color {
	if rapid.IntRange(0, 5).Draw(t, "unset") == 0 {
		return schema.Color{}
	}
	b := rapid.Byte()
	return schema.RGB(b.Draw(t, "red"), b.Draw(t, "green"), b.Draw(t, "blue"))
}

func anyRows(t *rapid.T, label string, most, highest int) schema.Rows {
	var rows schema.Rows
	for range rapid.IntRange(0, most).Draw(t, label) {
		count := rapid.SampledFrom([]int{1, 1, 1, 1, 0, 2, 3}).Draw(t, "numbers")
		row := make([]int32, count)
		for i := range row {
			row[i] = int32(rapid.IntRange(1, highest).Draw(t, "number"))
		}
		rows.Append(row...)
	}
	return rows
}

func anySystem(t *rapid.T, label string, listed int) schema.System {
	s := schema.System{
		Threads:   rapid.SampledFrom([]int{0, listed, listed + 5, listed / 2}).Draw(t, label),
		Color:     rapid.IntRange(0, 5).Draw(t, "color"),
		Unit:      rapid.SampledFrom([]schema.Unit{schema.UnitUnstated, schema.Decipoints, schema.Inches, schema.Centimetres}).Draw(t, "unit"),
		Spacing:   anyMeasure(t),
		Thickness: anyMeasure(t),
	}
	threads := max(s.Threads, listed)
	for range rapid.IntRange(0, threads).Draw(t, "colors") {
		s.Colors = append(s.Colors, int32(rapid.IntRange(0, 5).Draw(t, "color")))
	}
	for range rapid.IntRange(0, min(threads, 5)).Draw(t, "spacings") {
		s.Spacings = append(s.Spacings, anyMeasure(t))
	}
	for range rapid.IntRange(0, min(threads, 5)).Draw(t, "thicknesses") {
		s.Thicknesses = append(s.Thicknesses, anyMeasure(t))
	}
	s.Trim()
	return s
}

func anyMeasure(t *rapid.T) float64 {
	return rapid.SampledFrom([]float64{0, 0.127, 1.0 / 3, 2, 0.0001, 1234.5, 17.25}).Draw(t, "measure")
}

func anyCarried(t *rapid.T) schema.Carried {
	var c schema.Carried
	if rapid.Bool().Draw(t, "nothing carried") {
		return c
	}
	c.Comments = []schema.Comment{{Text: "; " + anyText(t, "comment") + "."}}
	c.Values = []schema.Setting{{Section: "WEFT", Key: "Symbol", Value: anyText(t, "symbol")}}
	lines := []string{"1=" + anyText(t, "line") + ".", "; a comment", "", "loose words"}
	c.Sections = []schema.TextSection{
		{Name: "WARP SYMBOLS", Lines: nil},
		{Name: "TRANSLATIONS", Lines: lines},
		{Name: "PRIVATE loom room", Lines: lines[:rapid.IntRange(0, 2).Draw(t, "lines")]},
	}
	return c
}
