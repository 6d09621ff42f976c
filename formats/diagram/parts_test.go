package diagram_test

import (
	"bytes"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fettle/formats/diagram"
	"fettle/schema"
	"fettle/schema/cloth"
)

// marked reports whether a cell of a part is filled. Rows count from the top, columns from the
// left, with end 1 at the right and pick 1 at the top.
func marked(d *schema.Draft, part diagram.Parts, at diagram.Placed, column, row int) bool {
	switch part {
	case diagram.PartThreading:
		return slices.Contains(d.Threading.Row(at.W-column), int32(at.H-row))
	case diagram.PartTieup:
		return slices.Contains(d.Tieup.Row(column+1), int32(at.H-row))
	case diagram.PartTreadling:
		if d.LiftPlan.Len() > 0 {
			return slices.Contains(d.LiftPlan.Row(row+1), int32(column+1))
		}
		return slices.Contains(d.Treadling.Row(row+1), int32(column+1))
	}
	return cloth.Of(d).Up(at.W-column, row+1)
}

// partsToRead returns the drafts and options of the read-back tests.
func partsToRead(t *testing.T) map[string]struct {
	draft *schema.Draft
	o     diagram.Options
	parts []diagram.Parts
} {
	type row = struct {
		draft *schema.Draft
		o     diagram.Options
		parts []diagram.Parts
	}
	all := []diagram.Parts{diagram.PartThreading, diagram.PartTieup, diagram.PartTreadling, diagram.PartCloth}
	most := diagram.PartThreading | diagram.PartTieup | diagram.PartTreadling
	return map[string]row{
		"whole":            {twill(), diagram.Options{}, all},
		"tie-up three":     {twill(), diagram.Options{Scales: diagram.Scales{Tieup: 3}}, all},
		"all scales":       {twill(), diagram.Options{Scales: diagram.Scales{Threading: 2, Tieup: 4, Treadling: 3}}, all},
		"large":            {twill(), diagram.Options{Large: true, Scales: diagram.Scales{Tieup: 2}}, all},
		"reed":             {twill(), diagram.Options{Sley: []int{2}, Scales: diagram.Scales{Threading: 2}}, all},
		"threading alone":  {twill(), diagram.Options{Parts: diagram.PartThreading}, all[:1]},
		"tie-up alone":     {twill(), diagram.Options{Parts: diagram.PartTieup}, all[1:2]},
		"treadling alone":  {twill(), diagram.Options{Parts: diagram.PartTreadling}, all[2:3]},
		"cloth alone":      {twill(), diagram.Options{Parts: diagram.PartCloth}, all[3:]},
		"without cloth":    {twill(), diagram.Options{Parts: most, Scales: diagram.Scales{Tieup: 2}}, all[:3]},
		"lift plan":        {guild(t, "tideline-blanket"), diagram.Options{Parts: diagram.PartTreadling}, all[2:3]},
		"threading, cloth": {guild(t, "goose-eye-towel"), diagram.Options{Parts: diagram.PartThreading | diagram.PartCloth, Scales: diagram.Scales{Threading: 2}}, []diagram.Parts{diagram.PartThreading, diagram.PartCloth}},
	}
}

// TestPartsReadBackFromPNG reads each cell of each part from the pixels.
func TestPartsReadBackFromPNG(t *testing.T) {
	const pixels = 4
	for name, row := range partsToRead(t) {
		t.Run(name, func(t *testing.T) {
			o := row.o
			o.DPI = 96
			o.Cell = 25.4 * pixels / 96
			if o.Parts != 0 && o.Parts&diagram.PartCloth == 0 {
				o.Cell *= 4
			}
			picture := pngOf(t, row.draft, o)
			for _, part := range row.parts {
				at, err := diagram.PlaceInPNG(row.draft, o, part, pixels)
				if err != nil {
					t.Fatal(err)
				}
				comparePart(t, row.draft, part, at, func(column, line int) image.Point {
					x, y := spot(at, column, line)
					return image.Pt(x, y)
				}, picture)
			}
		})
	}
}

// comparePart compares the cells of a part with the draft.
func comparePart(t *testing.T, d *schema.Draft, part diagram.Parts, at diagram.Placed, place func(column, row int) image.Point, picture image.Image) {
	t.Helper()
	if at.W*at.H == 0 {
		t.Fatalf("part %d has no cells", part)
	}
	for row := range min(at.H, 60) {
		for column := range min(at.W, 60) {
			p := place(column, row)
			if want := marked(d, part, at, column, row); isDark(picture.At(p.X, p.Y)) != want {
				t.Fatalf("part %d, column %d, row %d: filled is %v, want %v", part, column, row, !want, want)
			}
		}
	}
}

// TestPartsReadBackFromPDF draws a page with poppler, reads each cell of each part from it, and
// the numbers and letters from its text.
func TestPartsReadBackFromPDF(t *testing.T) {
	const dpi = 100
	for name, row := range partsToRead(t) {
		if testing.Short() || !*long && !slices.Contains([]string{"all scales", "tie-up alone"}, name) {
			continue
		}
		t.Run(name, func(t *testing.T) {
			o := row.o
			o.Page = diagram.OnePage
			path := pdfOf(t, row.draft, o)
			stem := filepath.Join(t.TempDir(), "page")
			output(t, "pdftoppm", "-gray", "-r", strconv.Itoa(dpi), "-png", "-singlefile", path, stem)
			raw, err := os.ReadFile(stem + ".png")
			if err != nil {
				t.Fatal(err)
			}
			picture, err := png.Decode(bytes.NewReader(raw))
			if err != nil {
				t.Fatal(err)
			}
			for _, part := range row.parts {
				at, err := diagram.PlaceInPNG(row.draft, o, part, 1)
				if err != nil {
					t.Fatal(err)
				}
				x, y, cell, err := diagram.PlaceOnPage(row.draft, o, part)
				if err != nil {
					t.Fatal(err)
				}
				comparePart(t, row.draft, part, at, func(column, line int) image.Point {
					return image.Pt(int((x+(float64(column)+0.5)*cell)/25.4*dpi), int((y+(float64(line)+0.5)*cell)/25.4*dpi))
				}, picture)
			}
			text := output(t, "pdftotext", "-layout", path, "-")
			for _, want := range []string{diagram.Title(row.draft), "1", "4"} {
				if !strings.Contains(text, want) {
					t.Errorf("the text of the page lacks %q: %s", want, text)
				}
			}
			if letters := strings.Contains(text, "A: color"); letters != (name != "tie-up alone") {
				t.Errorf("colors explained: %v", letters)
			}
		})
	}
}

// TestMissingParts asks for parts that a draft lacks.
func TestMissingParts(t *testing.T) {
	planned := &schema.Draft{Threading: schema.Singles(1, 2), LiftPlan: schema.Singles(1, 2)}
	bare := &schema.Draft{Tieup: schema.Singles(1, 2)}
	for _, row := range []struct {
		name  string
		draft *schema.Draft
		part  diagram.Parts
		says  string
	}{
		{"tie-up", planned, diagram.PartTieup, "--lifts tieup"},
		{"threading", bare, diagram.PartThreading, "no threading"},
		{"treadling", bare, diagram.PartTreadling, "no treadling"},
		{"cloth", bare, diagram.PartCloth, "no cloth"},
		{"no tie-up at all", &schema.Draft{Threading: schema.Singles(1)}, diagram.PartTieup, "no tie-up"},
	} {
		t.Run(row.name, func(t *testing.T) {
			var b bytes.Buffer
			for _, err := range []error{diagram.SVG(&b, row.draft, diagram.Options{Parts: row.part}, ""), diagram.Text(&b, row.draft, diagram.Options{Parts: row.part})} {
				if err == nil || !strings.Contains(err.Error(), row.says) {
					t.Errorf("got %v", err)
				}
			}
		})
	}
	var b bytes.Buffer
	if err := diagram.SVG(&b, bare, diagram.Options{Parts: diagram.PartTieup}, ""); err != nil {
		t.Errorf("a tie-up alone: %v", err)
	}
}
