package diagram_test

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"fettle/formats/diagram"
	"fettle/schema"
	"fettle/schema/cloth"
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

// spot is the pixel in the middle of a cell, counted from the left upper one.
func spot(at diagram.Placed, column, row int) (x, y int) {
	return (at.X+column)*at.Cell + at.Cell/2, (at.Y+row)*at.Cell + at.Cell/2
}

func isDark(c color.Color) bool { return color.GrayModel.Convert(c).(color.Gray).Y < 0x60 }

// TestClothReadBackFromPNG reads the cloth of every draft of the corpus back
// from the pixels, however it lies, and compares it with what is computed.
func TestClothReadBackFromPNG(t *testing.T) {
	for name, d := range corpus(t) {
		t.Run(name, func(t *testing.T) {
			if testing.Short() && d.Ends()*d.Picks() > 2000 {
				t.Skip("large, and time is short")
			}
			for _, pixels := range []int{1, 4, 9} {
				if pixels > 1 && d.Ends()*d.Picks() > 15_000 {
					continue
				}
				readBack(t, d, diagram.Options{Cell: schema.Length(float64(pixels) * 25.4 / 96), DPI: 96}, pixels)
			}
			readBack(t, d, diagram.Options{Cell: 25.4 * 2 / 96, DPI: 96, End1: diagram.Left, Pick1: diagram.Bottom}, 2)
			readBack(t, d, diagram.Options{Cell: 25.4 * 2 / 96, DPI: 96, Back: true, Pick1: diagram.Bottom}, 2)
		})
	}
}

func readBack(t *testing.T, d *schema.Draft, o diagram.Options, pixels int) {
	t.Helper()
	at, err := diagram.PlaceInPNG(d, o, pixels)
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
			at, err := diagram.PlaceInPNG(d, o, 3)
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

// TestClothReadBackFromPDF has poppler draw the page and reads the cloth back.
func TestClothReadBackFromPDF(t *testing.T) {
	for _, name := range []string{"goose-eye-towel", "honeycomb-cushion", "tideline-blanket"} {
		t.Run(name, func(t *testing.T) {
			d := guild(t, name)
			o := diagram.Options{Page: diagram.OnePage, Cell: 2.54}
			x0, y0, cell, err := diagram.PlaceOnPage(d, o)
			if err != nil {
				t.Fatal(err)
			}
			stem := filepath.Join(t.TempDir(), "page")
			const dpi = 60 // six pixels a cell
			output(t, "pdftoppm", "-r", "60", "-png", "-singlefile", pdfOf(t, d, o), stem)
			f, err := os.Open(stem + ".png")
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			picture, err := png.Decode(f)
			if err != nil {
				t.Fatal(err)
			}
			pixel := func(mm float64) int { return int(mm / 25.4 * dpi) }
			for pick, row := range cloth.Of(d).Rows() {
				for i := range row {
					column := len(row) - 1 - i
					c := picture.At(pixel(x0+(float64(column)+0.5)*cell), pixel(y0+(float64(pick)-0.5)*cell))
					if isDark(c) != (row[i] == '1') {
						t.Fatalf("end %d, pick %d is %v", i+1, pick, c)
					}
				}
			}
		})
	}
}
