package diagram_test

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"fettle/formats/diagram"
	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/measure"
)

func pngOf(t testing.TB, d *schema.Draft, o diagram.Options) image.Image {
	t.Helper()
	var b bytes.Buffer
	if err := diagram.PNG(&b, d, o); err != nil {
		t.Fatal(err)
	}
	picture, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	return picture
}

// spot returns the pixel in the middle of a cell, counted from the top left one.
func spot(at diagram.Placed, column, row int) (x, y int) {
	return at.X + column*at.Cell + at.Cell/2, at.Y + row*at.Cell + at.Cell/2
}

func isDark(c color.Color) bool { return color.GrayModel.Convert(c).(color.Gray).Y < 0x60 }

// TestClothReadBackFromPNG reads the cloth of every draft of the corpus from the pixels.
func TestClothReadBackFromPNG(t *testing.T) {
	ways := []struct {
		pixels int // of a cell
		o      diagram.Options
	}{
		{pixels: 1}, {pixels: 4}, {pixels: 9},
		{2, diagram.Options{End1: diagram.Left, Pick1: diagram.Bottom}},
		{2, diagram.Options{Back: true, Pick1: diagram.Bottom}},
	}
	byTurns(t, len(ways), func(t *testing.T, d *schema.Draft, way int) {
		pixels, o := ways[way].pixels, ways[way].o
		if d.Ends()*d.Picks() > 4_000 && !*long {
			pixels = min(pixels, 2)
		}
		o.Cell, o.DPI = measure.Length(float64(pixels)*25.4/96), 96
		readBack(t, d, o, pixels)
	})
}

func readBack(t *testing.T, d *schema.Draft, o diagram.Options, pixels int) {
	t.Helper()
	at, err := diagram.PlaceInPNG(d, o, diagram.PartCloth, pixels)
	if err != nil {
		t.Fatal(err)
	}
	picture := pngOf(t, d, o)
	for pick, row := range cloth.Of(d).Rows() {
		for i := range row {
			column, line := i, pick-1
			if (o.End1 == diagram.Right) != o.Back {
				column = len(row) - 1 - i
			}
			if o.Pick1 == diagram.Bottom {
				line = d.Picks() - pick
			}
			x, y := spot(at, column, line)
			if want := (row[i] == '1') != o.Back; isDark(picture.At(x, y)) != want {
				t.Fatalf("%+v: end %d, pick %d: filled is %v, want %v", o, i+1, pick, !want, want)
			}
		}
	}
}

func TestYarnColorsInPNG(t *testing.T) {
	for _, name := range []string{"tideline-blanket", "log-cabin-mat", "fete-ribbon"} {
		t.Run(name, func(t *testing.T) {
			d := guild(t, name)
			o := diagram.Options{Show: diagram.Yarn, DPI: 96, Cell: 25.4 * 3 / 96}
			at, err := diagram.PlaceInPNG(d, o, diagram.PartCloth, 3)
			if err != nil {
				t.Fatal(err)
			}
			picture := pngOf(t, d, o)
			for pick, row := range cloth.Of(d).Rows() {
				for i := range row {
					n := d.Weft.ColorOf(pick)
					if row[i] == '1' {
						n = d.Warp.ColorOf(i + 1)
					}
					want := d.Palette[n-1]
					x, y := spot(at, len(row)-1-i, pick-1)
					if got := picture.At(x, y); got != (color.RGBA{want.R, want.G, want.B, 0xff}) {
						t.Fatalf("end %d, pick %d is %v, want %v", i+1, pick, got, want)
					}
				}
			}
		})
	}
}

// TestClothReadBackFromPDF draws the page with poppler and reads the cloth from it, both
// from areas and from the picture of a large cloth.
func TestClothReadBackFromPDF(t *testing.T) {
	large := &schema.Draft{Shafts: 16}
	for i := range int32(1200) {
		large.Threading.Append(i*i%16 + 1)
	}
	for i := range int32(900) {
		large.LiftPlan.Append(i%16+1, i*i%16+1, (i+i/7)%16+1)
	}
	for _, row := range []struct {
		name   string
		draft  *schema.Draft
		o      diagram.Options
		dpi    float64 // six pixels a cell
		bottom bool
	}{
		{"goose-eye-towel", guild(t, "goose-eye-towel"), diagram.Options{Cell: 2.54}, 60, false},
		{"honeycomb-cushion", guild(t, "honeycomb-cushion"), diagram.Options{Cell: 2.54}, 60, false},
		{"tideline-blanket", guild(t, "tideline-blanket"), diagram.Options{Cell: 2.54}, 60, false},
		{"large", large, diagram.Options{Cell: 0.762}, 200, false},
		{"large, pick 1 at the bottom", large, diagram.Options{Cell: 0.762, Pick1: diagram.Bottom}, 200, true},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, o := row.draft, row.o
			o.Page = diagram.OnePage
			x0, y0, cell, err := diagram.PlaceOnPage(d, o, diagram.PartCloth)
			if err != nil {
				t.Fatal(err)
			}
			stem := filepath.Join(t.TempDir(), "page")
			output(t, "pdftoppm", "-r", strconv.Itoa(int(row.dpi)), "-W", "1100", "-H", "1100", "-png", "-singlefile", pdfOf(t, d, o), stem)
			f, err := os.Open(stem + ".png")
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			picture, err := png.Decode(f)
			if err != nil {
				t.Fatal(err)
			}
			pixel := func(mm float64) int { return int(mm / 25.4 * row.dpi) }
			compared := 0
			for pick, up := range cloth.Of(d).Rows() {
				line := pick - 1
				if row.bottom {
					line = d.Picks() - pick
				}
				for i := range up {
					column := len(up) - 1 - i
					at := image.Pt(pixel(x0+(float64(column)+0.5)*cell), pixel(y0+(float64(line)+0.5)*cell))
					if !at.In(picture.Bounds()) { // the top left corner of the page
						continue
					}
					compared++
					if c := picture.At(at.X, at.Y); isDark(c) != (up[i] == '1') {
						t.Fatalf("end %d, pick %d is %v", i+1, pick, c)
					}
				}
			}
			if compared < min(d.Ends()*d.Picks(), 20_000) {
				t.Errorf("only %d cells were in the picture", compared)
			}
		})
	}
}
