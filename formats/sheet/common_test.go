package sheet

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/corpus/golden"
	"fettle/formats"
	"fettle/lint/rules"
	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/measure"
	"fettle/schema/settings"
)

// planned is a draft of the corpus with its plan.
type planned struct {
	draft *schema.Draft
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
	o.Path = path
	return planned{doc.Draft, planOf(t, doc.Draft, &s.Setup, o)}
}

func planOf(t rapid.TB, d *schema.Draft, s *schema.Setup, o dressing.Options) *dressing.Plan {
	t.Helper()
	p, err := dressing.Of(d, s).Plan(o, rules.Words)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// corpusDrafts lists the paths of all drafts in the corpus that have a plan.
func corpusDrafts(t testing.TB) []string {
	t.Helper()
	var list []string
	for _, folder := range []string{"guild", "faulty"} {
		found, err := filepath.Glob(filepath.Join("../../corpus", folder, "*.wif"))
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range found {
			if filepath.Base(path) == "too-many-ends.wif" {
				continue
			}
			list = append(list, folder+"/"+filepath.Base(path))
		}
	}
	if len(list) < 40 {
		t.Fatalf("only %d drafts are in the corpus", len(list))
	}
	return list
}

// towel returns a draft and a setup that leave nothing unknown: eight ends on four
// shafts, 50 repeats, 8 ends per cm.
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
			{Name: "natural", Palette: []int{1}, Grist: measure.Grist{Tex: 150}, Stock: measure.Stock{Packages: 2, Grams: 50}},
			{Name: "indigo", Grist: measure.Grist{Tex: 150}},
		},
		Given: given,
	}
}

// textOf returns the text sheet for a draft and a setup.
func textOf(t rapid.TB, d *schema.Draft, s *schema.Setup, plan dressing.Options, o Options) string {
	t.Helper()
	return string(Text(planOf(t, d, s, plan), o))
}

// changes holds the lines in which a sheet differs from the plain towel's: + for added
// lines, - for missing ones. They go to testdata/words.golden.
func changes(t *testing.T, text string) {
	t.Helper()
	d, s := towel()
	plain := strings.Split(textOf(t, d, s, dressing.Options{}, Options{}), "\n")
	lines := strings.Split(text, "\n")
	var list []string
	for _, side := range []struct {
		mark         string
		these, those []string
	}{{"-", plain, lines}, {"+", lines, plain}} {
		for _, line := range side.these {
			if !slices.Contains(side.those, line) {
				list = append(list, side.mark+line)
			}
		}
	}
	golden.Words(t, strings.Join(list, "\n"))
}

func TestMain(m *testing.M) { os.Exit(golden.M{M: m}.Run()) }

// stepsOf returns the titles of the steps in a text sheet.
func stepsOf(text string) []string {
	var titles []string
	lines := strings.Split(text, "\n")
	for i := 1; i < len(lines); i++ {
		if lines[i] != "" && strings.Trim(lines[i], "-") == "" {
			titles = append(titles, lines[i-1])
		}
	}
	return titles
}

// anyName generates names as hostile files may have them.
func anyName(t *rapid.T, label string) string {
	return rapid.StringOfN(rapid.SampledFrom([]rune("a b\u00e9\u4e16\u202e\u200b\x1b\n\r\t%s|[]-=")), 0, 90, -1).Draw(t, label)
}

func anyRows(t *rapid.T, label string, most int32) schema.Rows {
	rows := rapid.SliceOfN(rapid.SliceOfN(rapid.Int32Range(0, most), 0, 4), 0, 40).Draw(t, label)
	return schema.RowsOf(rows...)
}

// anyDraft generates drafts with any kind of mistake.
func anyDraft(t *rapid.T) *schema.Draft {
	most := rapid.SampledFrom([]int32{2, 8, 24, 3000}).Draw(t, "shafts")
	d := &schema.Draft{
		Texts:     schema.Texts{Title: anyName(t, "title")},
		Shed:      rapid.SampledFrom([]schema.Shed{schema.ShedUnstated, schema.Rising, schema.Sinking}).Draw(t, "shed"),
		Palette:   []schema.Color{schema.RGB(1, 2, 3), {}, schema.RGB(1, 2, 3)},
		Threading: anyRows(t, "threading", most),
		Tieup:     anyRows(t, "tie-up", most),
		Treadling: anyRows(t, "treadling", 12),
	}
	d.Warp = schema.System{Threads: rapid.IntRange(0, 60).Draw(t, "ends"), Color: 1, Spacing: 20,
		Colors: rapid.SliceOfN(rapid.Int32Range(0, 4), 0, 40).Draw(t, "warp colors")}
	d.Weft = schema.System{Threads: rapid.IntRange(0, 60).Draw(t, "picks"), Spacing: 20,
		Colors: rapid.SliceOfN(rapid.Int32Range(0, 4), 0, 40).Draw(t, "weft colors")}
	if rapid.Bool().Draw(t, "by lift plan") {
		d.LiftPlan = anyRows(t, "lift plan", most)
	}
	return d
}

// anySetup generates setups with any values known or unknown.
func anySetup(t *rapid.T) *schema.Setup {
	s := &schema.Setup{Given: map[string]schema.Origin{}}
	maybe := func(label string) bool { return rapid.Bool().Draw(t, label) }
	if maybe("imperial") {
		s.Units = measure.Imperial
	}
	if maybe("loom") {
		s.Loom = schema.Loom{Name: anyName(t, "loom"), Shafts: 4, WeavingWidth: 100}
		s.Given["loom.treadles"] = schema.Origin{}
	}
	if maybe("reed") {
		s.Reeds = []schema.Reed{{Name: anyName(t, "reed"), Dents: 4, Width: 50}, {Name: anyName(t, "other reed"), Dents: 5}}
	}
	if maybe("heddles") {
		s.Heddles = schema.Heddles{Known: true, Each: rapid.IntRange(1, 20).Draw(t, "heddles each")}
	}
	if maybe("length") {
		s.Project.FinishedLength, s.Project.Hem, s.Project.Sample = 900, 10, 20
	}
	if maybe("sett") {
		s.Project.Sett = measure.Density(rapid.Float64Range(0.2, 40).Draw(t, "sett"))
	}
	s.Project.BackToFront = maybe("back to front")
	s.Project.ContinueDraft, s.Project.PlainHems = maybe("continue"), maybe("plain hems")
	s.Project.FloatingSelvedge = maybe("floating")
	s.Project.Repeats = rapid.IntRange(0, 3).Draw(t, "repeats")
	s.Project.Balance = rapid.IntRange(0, 5).Draw(t, "balance")
	s.Project.Bout = rapid.IntRange(0, 9).Draw(t, "bout")
	if maybe("yarn") {
		s.Yarns = []schema.Yarn{
			{Name: anyName(t, "yarn"), Palette: []int{1, 3}, Grist: measure.Grist{Tex: 150}, Stock: measure.Stock{Packages: 1, Grams: 5}},
			{Palette: []int{2}},
		}
	}
	return s
}
