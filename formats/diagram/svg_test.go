package diagram_test

import (
	"bytes"
	"encoding/xml"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fettle/corpus/golden"
	"fettle/formats/diagram"
	"fettle/schema"
)

func TestGolden(t *testing.T) {
	sinking := twill()
	sinking.Shed, sinking.Texts.Title = schema.Sinking, "<b>Żółty & Лён</b>"
	for _, row := range []struct {
		name  string
		draft *schema.Draft
		o     diagram.Options
	}{
		{"twill.svg", twill(), diagram.Options{}},
		{"twill-yarn-left-bottom.svg", twill(), diagram.Options{Show: diagram.Yarn, End1: diagram.Left, Pick1: diagram.Bottom, Every: 5}},
		{"sinking-back-sleyed.svg", sinking, diagram.Options{Back: true, Sley: []int{1, 2, 0}, Cell: 2.5}},
		{"floats-marks.svg", guild(t, "honeycomb-cushion"), diagram.Options{Repeat: true, Floats: 2, Marks: []diagram.Mark{
			{System: schema.Warp, Threads: []int{1, 2, 5}, Number: 1}, {System: schema.Weft, Threads: []int{3}, Number: 2}}}},
		{"coverlet-repeat.svg", guild(t, "tideline-blanket"), diagram.Options{Repeat: true, Bare: true}},
	} {
		t.Run(row.name, func(t *testing.T) {
			compared(t, row.name, svgOf(t, row.draft, row.o))
		})
	}
	for name, o := range map[string]diagram.Options{"twill.txt": {}, "twill-back-left-bottom.txt": {Back: true, End1: diagram.Left, Pick1: diagram.Bottom}} {
		t.Run(name, func(t *testing.T) {
			var b bytes.Buffer
			if err := diagram.Text(&b, twill(), o); err != nil {
				t.Fatal(err)
			}
			compared(t, name, b.String())
		})
	}
}

func compared(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *golden.Update {
		if err := golden.WriteFile(path, []byte(got)); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("the drawing (+) differs from %s (-); if this is right, run go test -update:\n%s", path, diff)
	}
}

// TestSVGIsSound reads every drawing of the corpus as XML. References must exist, and the
// title must be text.
func TestSVGIsSound(t *testing.T) {
	for name, d := range corpus(t) {
		t.Run(name, func(t *testing.T) {
			for _, o := range []diagram.Options{{}, {Show: diagram.Yarn, Floats: 3}} {
				ids, uses, text := parts(t, svgOf(t, d, o))
				for use := range uses {
					if !ids[strings.TrimPrefix(use, "#")] {
						t.Errorf("%s is used but doesn't exist", use)
					}
				}
				if title := diagram.Legible(strings.TrimSpace(d.Texts.Title), 200); !strings.Contains(text, strings.Join(strings.Fields(title), " ")) && len(title) < 40 {
					t.Errorf("the SVG lacks the title %q", title)
				}
			}
		})
	}
}

func parts(t *testing.T, svg string) (ids, uses map[string]bool, text string) {
	ids, uses = map[string]bool{}, map[string]bool{}
	for r := xml.NewDecoder(strings.NewReader(svg)); ; {
		token, err := r.Token()
		if err == io.EOF {
			return ids, uses, text
		}
		if err != nil {
			t.Fatal(err)
		}
		switch x := token.(type) {
		case xml.StartElement:
			for _, a := range x.Attr {
				switch a.Name.Local {
				case "id":
					ids[a.Value] = true
				case "href":
					uses[a.Value] = true
				}
			}
		case xml.CharData:
			text += string(x)
		}
	}
}

// TestMarkupInTitles draws a title that could end its text element.
func TestMarkupInTitles(t *testing.T) {
	d := twill()
	d.Texts.Title = `</text><script>alert(1)</script>"&`
	svg := svgOf(t, d, diagram.Options{})
	if strings.Contains(svg, "<script") {
		t.Error("the title is read as markup")
	}
	if _, _, text := parts(t, svg); !strings.Contains(strings.ReplaceAll(text, "\n", ""), "<script>alert(1)</script>") {
		t.Errorf("the title has changed: %q", text)
	}
}

// TestSizeOfSVG checks that any cloth of 400 by 400 takes less than 300 kB.
func TestSizeOfSVG(t *testing.T) {
	for name, row := range map[string]struct {
		draft *schema.Draft
		most  int
	}{
		"twill":           {lifted(400, func(shaft, pick int) bool { return (shaft+pick)%4 < 2 }), 80_000},
		"without pattern": {lifted(400, noise(1)), 300_000},
	} {
		t.Run(name, func(t *testing.T) {
			if n := len(svgOf(t, row.draft, diagram.Options{})); n > row.most {
				t.Errorf("%d bytes, more than %d", n, row.most)
			}
		})
	}
}

func noise(seed uint64) func(int, int) bool {
	r := rand.New(rand.NewPCG(seed, seed))
	return func(int, int) bool { return r.IntN(2) == 0 }
}

// lifted returns a draft with n ends and picks on 24 shafts, with a random threading and
// the given lifts.
func lifted(n int, up func(shaft, pick int) bool) *schema.Draft {
	d := &schema.Draft{Shafts: 24}
	for i := range n {
		d.Threading.Append(int32(i*i*i%97%24 + 1))
		var lift []int32
		for shaft := range 24 {
			if up(shaft, i) {
				lift = append(lift, int32(shaft+1))
			}
		}
		d.LiftPlan.Append(lift...)
	}
	return d
}

func TestDrawingsAreDeterministic(t *testing.T) {
	d := guild(t, "log-cabin-mat")
	o := diagram.Options{Show: diagram.Yarn, Sley: []int{2}}
	for name, draw := range map[string]func(io.Writer) error{
		"svg": func(w io.Writer) error { return diagram.SVG(w, d, o, "") },
		"png": func(w io.Writer) error { return diagram.PNG(w, d, o) },
		"pdf": func(w io.Writer) error { return diagram.PDF(w, d, o) },
		"txt": func(w io.Writer) error { return diagram.Text(w, d, o) },
	} {
		t.Run(name, func(t *testing.T) {
			var a, b bytes.Buffer
			if err := draw(&a); err != nil {
				t.Fatal(err)
			}
			if err := draw(&b); err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(a.Bytes(), b.Bytes()) {
				t.Error("drawing again gives a different result")
			}
		})
	}
}
