package dressing

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"fettle/schema"
	"fettle/schema/measure"
)

// towel returns a draft and a setup that leave nothing unknown.
func towel() (*schema.Draft, *schema.Setup) {
	d := straight(8, 4)
	d.Texts.Title = "Towel"
	d.Palette = []schema.Color{schema.RGB(0xf2, 0xea, 0xd8), schema.RGB(0x22, 0x31, 0x3f)}
	d.Tieup = schema.RowsOf([]int32{1, 2}, []int32{2, 3}, []int32{3, 4}, []int32{1, 4})
	d.Treadling = schema.Singles(1, 2, 3, 4)
	d.Warp.Color, d.Weft.Color = 1, 2
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
	}
}

func TestPlanAsJSON(t *testing.T) {
	d, s := towel()
	p, err := Of(d, s).Plan(Options{Path: "a.wif", Group: []int{200}}, kindNames)
	if err != nil {
		t.Fatal(err)
	}
	p.Cautions = p.Cautions[:0]
	p.Sley.Tens = DentTens{p.Sley.Tens.FirstHalf[:1], p.Sley.Tens.SecondHalf[:1]}
	for i := range p.Groups {
		p.Groups[i].Shafts = p.Groups[i].Shafts[:2]
	}
	got, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	want := `{"fettle":1,"path":"a.wif","title":"Towel",
	"warp":{"ends":400,"sett_per_cm":8,"width_cm":50,"length_m":3,"metres":1200,
		"by_color":[{"color":1,"hex":"#f2ead8","yarn":"natural","ends":400,"metres":1200,"grams":180}],
		"draft_ends":8,"repeats":50,"balance":0,"half":200},
	"weft":{"picks_per_cm":7,"picks":1680,"metres":840,
		"by_color":[{"color":2,"hex":"#22313f","yarn":"indigo","picks":1680,"metres":840,"grams":126}],
		"repeat":4,"repeat_cm":0.571429},
	"sley":{"dents_per_cm":4,"order":[2],"sett_per_cm":8,"off_percent":0,"dents":200,
		"from_centre":{"first_half":[2],"second_half":[2]},
		"tens":{"first_half":[{"dents":10,"from":200,"to":181,"ends":[2,2,2,2,2,2,2,2,2,2]}],
			"second_half":[{"dents":10,"from":201,"to":220,"ends":[2,2,2,2,2,2,2,2,2,2]}]},
		"wanted_per_cm":8,"width_error_cm":0,"fullest":2,"dents_available":400},
	"heddles":[
		{"shaft":1,"needed":100,"first_half":50,"second_half":50,"available":90,"short":10,"per_cm":2,"runs_out":361},
		{"shaft":2,"needed":100,"first_half":50,"second_half":50,"available":90,"short":10,"per_cm":2,"runs_out":362},
		{"shaft":3,"needed":100,"first_half":50,"second_half":50,"available":90,"short":10,"per_cm":2,"runs_out":363},
		{"shaft":4,"needed":100,"first_half":50,"second_half":50,"available":90,"short":10,"per_cm":2,"runs_out":364}],
	"groups":[
		{"from":1,"to":200,"shafts":[[1],[2]],"tally":{"1":50,"2":50,"3":50,"4":50}},
		{"from":201,"to":400,"shafts":[[1],[2]],"tally":{"1":50,"2":50,"3":50,"4":50}}],
	"winding":{"bouts":[
		{"from":1,"to":100,"ends":100,"colors":[{"color":1,"ends":100}],"blocks":[{"from":1,"to":1,"times":1}]},
		{"from":101,"to":200,"ends":100,"colors":[{"color":1,"ends":100}],"blocks":[{"from":1,"to":1,"times":1}]},
		{"from":201,"to":300,"ends":100,"colors":[{"color":1,"ends":100}],"blocks":[{"from":1,"to":1,"times":1}]},
		{"from":301,"to":400,"ends":100,"colors":[{"color":1,"ends":100}],"blocks":[{"from":1,"to":1,"times":1}]}]},
	"warps":[{"name":"main","ends":400,"length_m":3,"bouts":[
		{"from":1,"to":100,"ends":100,"colors":[{"color":1,"ends":100}],"blocks":[{"from":1,"to":1,"times":1}]},
		{"from":101,"to":200,"ends":100,"colors":[{"color":1,"ends":100}],"blocks":[{"from":1,"to":1,"times":1}]},
		{"from":201,"to":300,"ends":100,"colors":[{"color":1,"ends":100}],"blocks":[{"from":1,"to":1,"times":1}]},
		{"from":301,"to":400,"ends":100,"colors":[{"color":1,"ends":100}],"blocks":[{"from":1,"to":1,"times":1}]}]}],
	"lashing_cord_cm":160,
	"raddle":{"spaces_per_cm":1,"order":[8]},
	"lifts":[{"from":1,"to":4,"times":1,"treadles":[[1],[2],[3],[4]],"moved":[[1,2],[2,3],[3,4],[1,4]]}],
	"length_unit":"cm","shafts_go":"up",
	"tieup":[[1,2],[2,3],[3,4],[1,4]],
	"reed":{"name":"","why":"dressing.ReedChoice","empty_right":100,"empty_left":100},
	"selvedge":{"turns":3,"misses_from_left":0,"misses_from_right":3},
	"steps": [], "stretches":[{"item":1,"part":"cloth","length_cm":240,"picks":1680,"weave":"draft","from_draft_pick":1,"woven_cm":240,"tape_cm":240,"up_to_pick":1680}],
	"yarns":[
		{"yarn":"natural","metres":1200,"grams":180,"stock_m":666.666667,"short_m":533.333333,"packages":4,"stock_packages":2,"buy_packages":2,"shorten_cm":133.333333,
			"max_sett_per_cm":13.584281,
			"working_setts":[{"percent":75,"sett_per_cm":10.188211},{"percent":80,"sett_per_cm":10.867425},{"percent":100,"sett_per_cm":13.584281}]},
		{"yarn":"indigo","metres":840,"grams":126}],
	"unassigned":[],"kept_by_use":[],
	"finished_width_cm":50,"woven_length_m":2.4,
	"missing":[],"faults":[],"cautions":[],
	"lacks":[
		{"step":"yarn","text":"dressing.YarnShort"},
		{"step":"thread","text":"dressing.HeddlesShort"}],
	"unstated":["[project] take-up","[project] shrinkage warp","[project] shrinkage weft","[project] weft take-up","[project] draw-in","[project] loom waste"],
	"without":{"warp":["take-up","shrinkage","loom waste"],"woven_length":["shrinkage"],"weft":["weft take-up","shrinkage"],"width":["draw-in","shrinkage"]}}`
	if diff := cmp.Diff(decoded(t, []byte(want)), decoded(t, got)); diff != "" {
		t.Errorf("unlike what was wanted (-) it has (+):\n%s", diff)
	}
}

func decoded(t rapid.TB, text []byte) any {
	t.Helper()
	var v any
	if err := json.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// A plan without stated values has the counts and leaves out the rest.
func TestPlanOfNothingStated(t *testing.T) {
	p, err := Of(threaded(1, 2), &schema.Setup{}).Plan(Options{}, kindNames)
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"null", "NaN", "sett_per_cm", "width_cm", "length_m", "metres", "sley", "available", "short", "lashing_cord_cm", "picks", "raddle"} {
		if bytes.Contains(text, []byte(`"`+key+`"`)) || key == "null" && bytes.Contains(text, []byte(key)) {
			t.Errorf("%s stands in %s", key, text)
		}
	}
	for _, key := range []string{`"ends":2`, `"needed":1`, `"unassigned":[]`, `"yarns":[]`} {
		if !bytes.Contains(text, []byte(key)) {
			t.Errorf("%s does not stand in %s", key, text)
		}
	}
}

func TestMissing(t *testing.T) {
	keys := func(d *schema.Draft, s *schema.Setup) []string {
		var list []string
		for _, m := range Of(d, s).missing() {
			list = append(list, m.Key)
		}
		return list
	}
	d, s := towel()
	if got := keys(d, s); got != nil {
		t.Errorf("%v missing of nothing", got)
	}
	want := []string{"[project] sett", "[reed] dents", "[heddles] each", "[project] finished length", "[project] picks", "[yarn] grist"}
	if got := keys(d, &schema.Setup{}); !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	s.Yarns[1].Grist = measure.Grist{}
	if got := keys(d, s); !slices.Equal(got, []string{"[yarn indigo] grist"}) {
		t.Errorf("%v", got)
	}
}

func TestCautions(t *testing.T) {
	given := map[string]schema.Origin{}
	for _, name := range []string{"take-up", "shrinkage warp", "shrinkage weft", "weft take-up", "draw-in", "loom waste"} {
		given["project."+name] = schema.Origin{}
	}
	uneven := straight(4, 4)
	uneven.Warp = schema.System{Unit: schema.Centimetres, Spacings: []float64{0.1, 0.1, 0.3, 0.3}}
	uneven.Treadling, uneven.Weft = uneven.Threading, uneven.Warp
	odd := straight(4, 4)
	odd.Warp, odd.Weft = schema.System{Unit: schema.Centimetres, Spacing: 8}, schema.System{Unit: schema.Centimetres, Spacing: 500}
	floating := threaded(0, 1, 2, 0)
	for _, row := range []struct {
		name  string
		draft *schema.Draft
		setup schema.Setup
		want  []Caution
	}{
		{"all stated", straight(4, 4), schema.Setup{Given: given}, nil},
		{"none stated", straight(4, 4), schema.Setup{}, []Caution{
			{"[project] take-up", UnstatedLoss{Loss: "take-up"}}, {"[project] shrinkage warp", UnstatedLoss{Loss: "shrinkage warp"}},
			{"[project] shrinkage weft", UnstatedLoss{Loss: "shrinkage weft"}}, {"[project] weft take-up", UnstatedLoss{Loss: "weft take-up"}},
			{"[project] draw-in", UnstatedLoss{Loss: "draw-in"}}, {"[project] loom waste", UnstatedLoss{Loss: "loom waste"}}}},
		{"uneven spacing", uneven, schema.Setup{Given: given}, []Caution{
			{"[project] sett", UnevenSpacing{schema.Warp, 5}}, {"[project] picks", UnevenSpacing{schema.Weft, 5}}}},
		{"odd spacing", odd, schema.Setup{Given: given}, []Caution{
			{"[project] sett", OddSpacing{schema.Warp, 8, 80, []Reading{{"8 to the centimetre", 1.25}}}}, {"[project] picks", OddSpacing{schema.Weft, 500, 5000, nil}}}},
		{"odd spacing, and the project's own", odd, schema.Setup{Given: given, Project: schema.Project{Sett: 8, Picks: 8}}, nil},
		{"repeats from the width", straight(4, 4), schema.Setup{Given: given, Project: schema.Project{Sett: 8, FinishedWidth: 510}}, []Caution{
			{"[project] repeats", RepeatsByWidth{102, 510, 510}}}},
		{"floating selvedges repeated, of which the draft has none", straight(4, 4), schema.Setup{Given: given, Project: schema.Project{Repeats: 2, FloatingSelvedge: true}}, nil},
		{"floating selvedges repeated", floating, schema.Setup{Given: given, Project: schema.Project{Repeats: 2, FloatingSelvedge: true}}, []Caution{
			{"[project] floating selvedges", SelvedgesRepeated{}}}},
		{"floating selvedges", floating, schema.Setup{Given: given, Project: schema.Project{FloatingSelvedge: true}}, nil},
		{"too many ends", straight(4, 4), schema.Setup{Given: given, Project: schema.Project{Repeats: 1_000_000}}, []Caution{
			{"[project] repeats", TooManyEnds{4_000_000, "[project] repeats"}}}},
	} {
		t.Run(row.name, func(t *testing.T) {
			if diff := cmp.Diff(row.want, Of(row.draft, &row.setup).cautions(), cmpopts.EquateApprox(1e-9, 0)); diff != "" {
				t.Errorf("unlike what was wanted (-) it has (+):\n%s", diff)
			}
		})
	}
}

// For any draft and setup, a plan has only finite numbers, is the same each time and
// changes neither.
func TestPlansAreDeterministic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s := anyDraft(t), anySetup(t)
		s.Yarns = []schema.Yarn{{Name: "one", Palette: []int{1}, Grist: measure.Grist{Tex: 100}}, {Name: "rest"}}
		before := *s
		rows := d.Threading.Clone()
		o := Options{Group: []int{rapid.IntRange(0, 9).Draw(t, "group")}}
		var texts [2][]byte
		for i := range texts {
			p, err := Of(d, s).Plan(o, kindNames)
			if err != nil {
				t.Fatal(err)
			}
			if texts[i], err = json.Marshal(p); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(texts[0], texts[1]) {
			t.Fatalf("%s, then %s", texts[0], texts[1])
		}
		if diff := cmp.Diff(before, *s); diff != "" || !rows.Equal(d.Threading) {
			t.Fatalf("the setup or the draft has changed:\n%s", diff)
		}
	})
}

func TestFigure(t *testing.T) {
	for _, row := range []struct {
		figure Figure
		json   string
	}{
		{Figure{}, "null"},
		{known(0), "0"},
		{known(1900), "1900"},
		{known(1.0 / 3), "0.333333"},
		{known(-0.1), "-0.1"},
		{known(math.NaN()), "null"},
		{known(math.Inf(1)), "null"},
		{known(1e308).scaled(1e308), "null"},
	} {
		got, err := json.Marshal(row.figure)
		if err != nil || string(got) != row.json {
			t.Errorf("%v is %s (%v), want %s", row.figure, got, err, row.json)
		}
	}
	if known(1).plus(Figure{}).Known || known(1).times(Figure{}).Known || (Figure{}).scaled(2).Known {
		t.Error("something known of something unknown")
	}
}

func BenchmarkWidth(b *testing.B) {
	d, s := towel()
	b.ReportAllocs()
	for b.Loop() {
		Of(d, s).Width()
	}
}

func BenchmarkHeddles(b *testing.B) {
	_, s := towel()
	d := straight(8000, 16)
	b.ReportAllocs()
	for b.Loop() {
		Of(d, s).Heddles()
	}
}

// BenchmarkLiftsWithoutRepeat folds picks in which every short block almost repeats,
// which is the worst case.
func BenchmarkLiftsWithoutRepeat(b *testing.B) {
	d := &schema.Draft{}
	for i := range 8000 {
		d.Treadling.Append(int32(1 + i%33/32 + i/33))
	}
	b.ReportAllocs()
	for b.Loop() {
		fold(Of(d, &schema.Setup{}).numberedPicks())
	}
}
