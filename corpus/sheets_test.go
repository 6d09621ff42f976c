package corpus

import (
	"bytes"
	"errors"
	"fmt"
	"image/color"
	"image/png"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"fettle/corpus/golden"
	"fettle/formats"
	"fettle/formats/diagram"
	"fettle/formats/sheet"
	"fettle/lint/rules"
	"fettle/schema/dressing"
	"fettle/schema/settings"
)

// TestSheets compares the dressing sheets in the folder sheets with those that fettle
// writes. A sheet written again in the same process has the same bytes.
func TestSheets(t *testing.T) {
	for _, name := range []string{"goose-eye-towel", "tideline-blanket", "aurora-coverlet"} {
		for form, write := range map[string]func(io.Writer, *dressing.Plan, sheet.Options) error{".html": sheet.HTML, ".pdf": writePDF} {
			t.Run(name+form, func(t *testing.T) {
				plan, o := planned(t, "guild/"+name+".wif")
				var b, again bytes.Buffer
				if err := errors.Join(write(&b, plan, o), write(&again, plan, o)); err != nil {
					t.Fatal(err)
				}
				compareFile(t, filepath.Join("sheets", name+form), b.Bytes())
				if !bytes.Equal(b.Bytes(), again.Bytes()) {
					t.Error("the second sheet has different bytes")
				}
			})
		}
	}
}

// writePDF writes a sheet. It fails if the PDF lacks a letter.
func writePDF(w io.Writer, p *dressing.Plan, o sheet.Options) error {
	unset, err := sheet.PDF(w, p, o)
	if err == nil && len(unset) > 0 {
		err = fmt.Errorf("the PDF can't show %q", string(unset))
	}
	return err
}

// planned returns the plan of a draft with the settings beside it.
func planned(t *testing.T, path string) (*dressing.Plan, sheet.Options) {
	t.Helper()
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	d := formats.Read(path, raw).Draft
	s, err := settings.NewFinder(settings.Options{}).For(path, d.Settings)
	if err != nil {
		t.Fatal(err)
	}
	plan, err := dressing.Of(d, &s.Setup).Plan(dressing.Options{Path: path}, rules.Words)
	if err != nil {
		t.Fatal(err)
	}
	return plan, sheet.Options{}
}

// TestPictures compares the drawings that documents show: a towel, and overshot with its
// long floats outlined.
func TestPictures(t *testing.T) {
	for path, o := range map[string]diagram.Options{
		"guild/goose-eye-towel":     {Repeat: true},
		"inbox/gannet-rock-cushion": {Repeat: true, Floats: 10},
	} {
		raw, err := os.ReadFile(path + ".wif")
		if err != nil {
			t.Fatal(err)
		}
		text, _, err := formats.Write("svg", formats.Read("", raw).Draft, formats.Options{Drawing: o})
		if err != nil {
			t.Fatal(err)
		}
		compareFile(t, filepath.Join("sheets", filepath.Base(path)+".svg"), text)
	}
}

// TestSheetPicture compares the picture of a printed sheet: the threading page of the PDF,
// drawn by poppler. Versions of poppler draw the edges of letters slightly differently.
func TestSheetPicture(t *testing.T) {
	if _, err := exec.LookPath("pdftoppm"); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("poppler is missing")
		}
		t.Skip("poppler is missing")
	}
	const threading = "3"
	drawn := filepath.Join(t.TempDir(), "page")
	command := exec.Command("pdftoppm", "-png", "-r", "60", "-f", threading, "-l", threading, "-singlefile", "sheets/goose-eye-towel.pdf", drawn)
	if out, err := command.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	want, err := os.ReadFile(drawn + ".png")
	if err != nil {
		t.Fatal(err)
	}
	const picture = "sheets/goose-eye-towel-sheet.png"
	got, err := os.ReadFile(picture)
	if *golden.Update && (err != nil || !alike(t, got, want)) {
		compareFile(t, picture, want)
		return
	}
	if err != nil || !alike(t, got, want) {
		t.Errorf("%s differs; if this is right, run go test ./corpus -run SheetPicture -update", picture)
	}
}

// alike reports whether two pictures differ by less than 1 in 255 on average. A different
// layout differs by several.
func alike(t *testing.T, a, b []byte) bool {
	t.Helper()
	m, err := png.Decode(bytes.NewReader(a))
	if err != nil {
		t.Fatal(err)
	}
	n, err := png.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	if m.Bounds() != n.Bounds() {
		return false
	}
	sum, box := 0, m.Bounds()
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			v, w := color.GrayModel.Convert(m.At(x, y)).(color.Gray).Y, color.GrayModel.Convert(n.At(x, y)).(color.Gray).Y
			sum += max(int(v)-int(w), int(w)-int(v))
		}
	}
	return sum < box.Dx()*box.Dy()
}
