package diagram_test

import (
	"bytes"
	"flag"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fettle/formats"
	"fettle/formats/diagram"
	"fettle/schema"
)

var long = flag.Bool("long", false, "draw every draft of the corpus in every way")

// byTurns calls draw for each draft of the corpus, with one of n ways to draw it in turn.
// With -long, it calls draw for all n ways.
func byTurns(t *testing.T, n int, draw func(t *testing.T, d *schema.Draft, way int)) {
	t.Helper()
	list := corpus(t)
	for i, name := range slices.Sorted(maps.Keys(list)) {
		if testing.Short() && i%n != i/n%n {
			continue // a few drafts, each in a different way
		}
		for way := range n {
			if *long || way == i%n {
				t.Run(fmt.Sprintf("%s/%d", name, way), func(t *testing.T) { draw(t, list[name], way) })
			}
		}
	}
}

// corpus returns all drafts of the corpus that have cloth, by name.
func corpus(t testing.TB) map[string]*schema.Draft {
	t.Helper()
	list := map[string]*schema.Draft{}
	for _, folder := range []string{"guild", "faulty", "wild"} {
		paths, err := filepath.Glob("../../corpus/" + folder + "/*.wif")
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range paths {
			if d := read(t, path); d != nil && d.Ends() > 0 && d.Picks() > 0 {
				list[filepath.Base(path)] = d
			}
		}
	}
	if len(list) < 60 {
		t.Fatalf("only %d drafts of the corpus have cloth", len(list))
	}
	return list
}

func read(t testing.TB, path string) *schema.Draft {
	t.Helper()
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return formats.Read(path, raw).Draft
}

func guild(t testing.TB, name string) *schema.Draft {
	return read(t, "../../corpus/guild/"+name+".wif")
}

// twill returns a 2/2 twill with eight ends and four picks in two colors.
func twill() *schema.Draft {
	return &schema.Draft{
		Texts: schema.Texts{Title: "Twill"}, Shafts: 4, Treadles: 4,
		Palette:   []schema.Color{schema.RGB(0xf2, 0xea, 0xd8), schema.RGB(0x22, 0x31, 0x3f)},
		Threading: schema.Singles(1, 2, 3, 4, 1, 2, 3, 4),
		Tieup:     schema.RowsOf([]int32{1, 2}, []int32{2, 3}, []int32{3, 4}, []int32{1, 4}),
		Treadling: schema.Singles(1, 2, 3, 4),
		Warp:      schema.System{Color: 1}, Weft: schema.System{Color: 2},
	}
}

func svgOf(t testing.TB, d *schema.Draft, o diagram.Options) string {
	t.Helper()
	var b bytes.Buffer
	if err := diagram.SVG(&b, d, o, ""); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// pdfOf writes a draft as PDF and returns the path.
func pdfOf(t testing.TB, d *schema.Draft, o diagram.Options) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "draft.pdf")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := diagram.PDF(f, d, o); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	return path
}

// output runs a program of poppler, which CI must have.
func output(t testing.TB, name string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("%s is missing: install poppler-utils", name)
		}
		t.Skipf("%s is missing", name)
	}
	out, err := exec.Command(name, args...).Output()
	if err != nil {
		t.Fatalf("%s %s: %v", name, strings.Join(args, " "), err)
	}
	return string(out)
}
