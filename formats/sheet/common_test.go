package sheet

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"pgregory.net/rapid"

	"fettle/formats"
	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/dressing"
	"fettle/schema/settings"
)

// planned is a draft of the corpus with its plan.
type planned struct {
	draft *schema.Draft
	setup *schema.Setup
	plan  *dressing.Plan
}

// fromCorpus plans a draft of the corpus with the settings beside it.
func fromCorpus(t testing.TB, path string, o dressing.Options, flags ...schema.Setting) planned {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("../../corpus", path))
	if err != nil {
		t.Fatal(err)
	}
	doc := formats.Read(path, raw)
	if doc.Draft == nil {
		t.Fatalf("%s: %s", path, doc.Findings[0].Message)
	}
	s, err := settings.NewFinder(settings.Options{Flags: flags}).For(filepath.Join("../../corpus", path), doc.Draft.Settings)
	if err != nil {
		t.Fatal(err)
	}
	o.Path, o.WeaveValue = path, cloth.Of(doc.Draft).WeaveValue()
	return planned{doc.Draft, &s.Setup, planOf(t, doc.Draft, &s.Setup, o)}
}

func planOf(t rapid.TB, d *schema.Draft, s *schema.Setup, o dressing.Options) *dressing.Plan {
	t.Helper()
	p, err := dressing.For(d, s, o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// corpusDrafts are the paths of every draft of the corpus.
func corpusDrafts(t testing.TB) []string {
	t.Helper()
	var list []string
	for _, folder := range []string{"guild", "faulty"} {
		found, err := filepath.Glob(filepath.Join("../../corpus", folder, "*.wif"))
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range found {
			list = append(list, folder+"/"+filepath.Base(path))
		}
	}
	if len(list) < 40 {
		t.Fatalf("only %d drafts are in the corpus", len(list))
	}
	return list
}

// towel is a draft and a setup that leave nothing unknown: eight ends on four
// shafts, 50 times over, 8 to the centimetre.
func towel() (*schema.Draft, *schema.Setup) {
	d := &schema.Draft{
		Texts:     schema.Texts{Title: "Towel"},
		Shed:      schema.Rising,
		Palette:   []schema.Color{schema.RGB(0xf2, 0xea, 0xd8), schema.RGB(0x22, 0x31, 0x3f)},
		Threading: schema.Singles(1, 2, 3, 4, 1, 2, 3, 4),
		Tieup:     schema.RowsOf([]int32{1, 2}, []int32{2, 3}, []int32{3, 4}, []int32{1, 4}),
		Treadling: schema.Singles(1, 2, 3, 4),
		Warp:      schema.System{Color: 1},
		Weft:      schema.System{Color: 2},
	}
	given := map[string]schema.Origin{}
	for _, key := range []string{"take-up", "shrinkage warp", "shrinkage weft", "weft take-up", "draw-in", "loom waste"} {
		given["project."+key] = schema.Origin{}
	}
	return d, &schema.Setup{
		Reeds:   []schema.Reed{{Dents: 4, Width: 1000}},
		Heddles: schema.Heddles{Known: true, Each: 90},
		Project: schema.Project{
			Sett: 8, Picks: 7, FinishedLength: 2400, Repeats: 50, LoomWaste: 600, Bout: 100,
		},
		Yarns: []schema.Yarn{
			{Name: "natural", Palette: []int{1}, Grist: schema.Grist{Tex: 150}, Stock: schema.Stock{Packages: 2, Grams: 50}},
			{Name: "indigo", Grist: schema.Grist{Tex: 150}},
		},
		Given: given,
	}
}

// textOf is the text sheet of a draft and a setup.
func textOf(t rapid.TB, d *schema.Draft, s *schema.Setup, plan dressing.Options, o Options) string {
	t.Helper()
	o.Draft, o.Setup, o.Start = d, s, plan.Start
	return string(Text(planOf(t, d, s, plan), o))
}

// section is a step of a text sheet, by its title, with its heading.
func section(t rapid.TB, text, title string) string {
	t.Helper()
	from := bytes.Index([]byte(text), []byte(title+"\n"))
	if from < 0 {
		t.Fatalf("no %q in:\n%s", title, text)
	}
	rest := text[from:]
	if to := bytes.Index([]byte(rest[len(title):]), []byte("\n---")); to >= 0 {
		if next := bytes.Index([]byte(rest[len(title)+to+4:]), []byte("\n---")); next >= 0 {
			return rest[:len(title)+to+4+next]
		}
	}
	return rest
}
