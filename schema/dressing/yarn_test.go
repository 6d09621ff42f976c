package dressing

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
	"fettle/schema/measure"
)

func TestYarnStock(t *testing.T) {
	white, blue := schema.RGB(255, 255, 255), schema.RGB(0, 0, 255)
	d := &schema.Draft{Palette: []schema.Color{white, blue, {}, blue}}
	byColor := schema.Yarn{Name: "by color", Colors: []schema.Color{blue}}
	byNumber := schema.Yarn{Name: "by number", Palette: []int{2, 9}}
	plain := schema.Yarn{Name: "plain"}
	warpOnly := schema.Yarn{Name: "warp only", ForWarp: true}
	both := schema.Yarn{Name: "both", ForWarp: true, ForWeft: true}
	for _, row := range []struct {
		name   string
		yarns  []schema.Yarn
		system schema.SystemName
		color  int
		want   int
	}{
		{"by color", []schema.Yarn{plain, byColor}, schema.Warp, 4, 1},
		{"by number", []schema.Yarn{plain, byNumber}, schema.Warp, 2, 1},
		{"a number beyond the palette", []schema.Yarn{byNumber}, schema.Warp, 9, 0},
		{"the first of two that name it, by color", []schema.Yarn{byColor, byNumber}, schema.Warp, 2, 0},
		{"the first of two that name it, by number", []schema.Yarn{byNumber, byColor}, schema.Warp, 2, 0},
		{"what no other names", []schema.Yarn{byColor, plain}, schema.Weft, 1, 1},
		{"no color", []schema.Yarn{byColor, plain}, schema.Weft, 0, 1},
		{"none", []schema.Yarn{byColor, byNumber}, schema.Weft, 1, -1},
		{"a palette entry left out", []schema.Yarn{{Colors: []schema.Color{{}}}}, schema.Warp, 3, -1},
		{"for the warp", []schema.Yarn{warpOnly}, schema.Warp, 1, 0},
		{"not for the weft", []schema.Yarn{warpOnly}, schema.Weft, 1, -1},
		{"for both", []schema.Yarn{both}, schema.Weft, 1, 0},
		{"no yarn", nil, schema.Warp, 1, -1},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := Of(d, &schema.Setup{Yarns: row.yarns}).YarnOf(row.system, row.color); got != row.want {
				t.Errorf("yarn %d, want %d", got, row.want)
			}
		})
	}
}

func TestUnassigned(t *testing.T) {
	d := straight(4, 4)
	d.Treadling = schema.Singles(1, 2)
	d.Warp.Colors, d.Weft.Color = []int32{3, 1, 3, 2}, 5
	for _, row := range []struct {
		name  string
		yarns []schema.Yarn
		want  []int
	}{
		{"no yarn at all", nil, nil},
		{"some", []schema.Yarn{{Palette: []int{1}}}, []int{2, 3, 5}},
		{"not in the weft", []schema.Yarn{{ForWarp: true}}, []int{5}},
		{"all", []schema.Yarn{{}}, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := unassigned(d, &schema.Setup{Yarns: row.yarns}); !slices.Equal(got, row.want) {
				t.Errorf("%v, want %v", got, row.want)
			}
		})
	}
}

// One yarn is the warp in two colors and the weft in one of them; another is the rest of
// the weft.
func TestYarnUsesByHand(t *testing.T) {
	d := straight(100, 4)
	d.Treadling = schema.Singles(1, 2, 3, 4)
	d.Warp.Color = 1
	d.Warp.Colors = []int32{2, 2, 2, 2, 2, 2, 2, 2, 2, 2}
	d.Weft.Colors = []int32{1, 3, 3, 3}
	s := &schema.Setup{
		Project: schema.Project{Sett: 10, Picks: 8, FinishedLength: 2000, LoomWaste: 500},
		Yarns: []schema.Yarn{
			{Name: "ground", Palette: []int{1, 2}, Grist: measure.Grist{Tex: 200}, Stock: measure.Stock{Packages: 2, Metres: 130}},
			{Name: "pattern", Grist: measure.Grist{Tex: 100}, Stock: measure.Stock{Packages: 3, Grams: 5}},
			{Name: "left on the shelf", Palette: []int{7}},
		},
	}
	warp := Of(d, s).WarpUse()
	weft := Of(d, s).WeftUse()
	uses := Of(d, s).YarnUses()
	if len(warp) != 2 || len(weft) != 2 || len(uses) != 2 {
		t.Fatalf("%v, %v, %v", warp, weft, uses)
	}
	for _, row := range []struct {
		name      string
		got       Figure
		want      float64
		precision float64
	}{
		{"warp ends of color 1", warp[0].Threads, 90, 0},
		{"warp metres of color 1", warp[0].Metres, 225, 1e-12},
		{"warp grams of color 1", warp[0].Grams, 45, 1e-12},
		{"warp metres of color 2", warp[1].Metres, 25, 1e-12},
		{"picks of color 1", weft[0].Threads, 400, 0},
		{"picks of color 3", weft[1].Threads, 1200, 0},
		{"weft metres of color 3", weft[1].Metres, 120, 1e-12},
		{"weft grams of color 3", weft[1].Grams, 12, 1e-12},
		{"ground metres", uses[0].Metres, 290, 1e-12},
		{"ground grams", uses[0].Grams, 58, 1e-12},
		{"ground stock", uses[0].Stock, 260, 1e-12},
		{"ground short", uses[0].Short, 30, 1e-9},
		{"ground packages", uses[0].Packages, 3, 0},
		// 100 m per metre for the warp and 20 for the weft.
		{"ground shorter by", uses[0].Shorten, 1000 * 30 / 120, 1e-9},
		{"pattern metres", uses[1].Metres, 120, 1e-12},
		{"pattern stock", uses[1].Stock, 150, 1e-12},
		{"pattern short", uses[1].Short, 0, 0},
		{"pattern packages", uses[1].Packages, 3, 0},
	} {
		if !row.got.Known || !near(row.got.Value, row.want, row.precision) {
			t.Errorf("%s: %v, want %v", row.name, row.got, row.want)
		}
	}
	if uses[1].Shorten.Known {
		t.Error("what is enough needs no shortening")
	}
}

func TestYarnUnknowns(t *testing.T) {
	d := straight(100, 4)
	d.Treadling = schema.Singles(1, 2)
	project := schema.Project{Sett: 10, FinishedLength: 1000}
	stock := measure.Stock{Packages: 1, Grams: 100}
	for _, row := range []struct {
		name                        string
		yarn                        schema.Yarn
		metres, grams, stock, short bool
	}{
		{"weft unknown", schema.Yarn{Grist: measure.Grist{Tex: 100}, Stock: stock}, false, false, true, false},
		{"warp only", schema.Yarn{Grist: measure.Grist{Tex: 100}, Stock: stock, ForWarp: true}, true, true, true, true},
		{"grist unknown", schema.Yarn{Stock: stock, ForWarp: true}, true, false, false, false},
		{"stock unknown", schema.Yarn{Grist: measure.Grist{Tex: 100}, ForWarp: true}, true, true, false, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			uses := Of(d, &schema.Setup{Project: project, Yarns: []schema.Yarn{row.yarn}}).YarnUses()
			if len(uses) != 1 {
				t.Fatal(uses)
			}
			u := uses[0]
			if u.Metres.Known != row.metres || u.Grams.Known != row.grams || u.Stock.Known != row.stock ||
				u.Short.Known != row.short || u.Packages.Known != row.short {
				t.Errorf("%+v", u)
			}
		})
	}
}

// The colors add up to the whole, counted end by end and pick by pick.
func TestColorsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s := anyDraft(t), anySetup(t)
		w, l := warpOf(t, d, s), Of(d, s).Lengths()
		ends := map[int]float64{}
		for end := 1; end <= w.All; end++ {
			ends[d.Warp.ColorOf(w.DraftEnd(end))]++
		}
		warp := Of(d, s).WarpUse()
		if len(warp) != len(ends) {
			t.Fatal(warp)
		}
		metres := 0.0
		for _, u := range warp {
			metres += u.Metres.Value
			if u.Threads.Value != ends[u.Color] {
				t.Fatalf("%v ends of color %d, want %v", u.Threads, u.Color, ends[u.Color])
			}
		}
		if !near(metres, l.WarpYarn.Value, 1e-9) {
			t.Fatalf("warp %v m, want %v", metres, l.WarpYarn)
		}
		if d.Picks() == 0 {
			return
		}
		woven := map[int]float64{}
		for _, x := range Of(d, s).Stretches() {
			for n := 1; n <= int(x.Picks.Value); n++ {
				woven[d.Weft.ColorOf(Of(d, s).draftPick(x, n))]++
			}
		}
		metres, picks := 0.0, 0.0
		for _, u := range Of(d, s).WeftUse() {
			metres += u.Metres.Value
			picks += u.Threads.Value
			if u.Threads.Value != woven[u.Color] || !near(u.Share, woven[u.Color]/l.PicksWoven.Value, 1e-9) {
				t.Fatalf("%v picks of color %d, a share of %v, want %v", u.Threads, u.Color, u.Share, woven[u.Color])
			}
		}
		if !near(metres, l.WeftYarn.Value, 1e-9) || picks != l.PicksWoven.Value {
			t.Fatalf("weft %v m in %v picks, want %v in %v", metres, picks, l.WeftYarn, l.PicksWoven)
		}
	})
}

// 200 picks in red and then 200 in blue, of which the first 240 are woven; each pick
// takes 10 cm of weft.
func TestWeftThatEndsWithinTheDraft(t *testing.T) {
	d := straight(80, 4)
	for pick := range int32(400) {
		d.Treadling.Append(pick%4 + 1)
		d.Weft.Colors = append(d.Weft.Colors, 1+pick/200)
	}
	d.Weft.Colors[399] = 3
	for _, row := range []struct {
		name      string
		length    measure.Length
		picks     []float64 // by color
		red       float64   // metres in stock
		shorterBy float64   // 0: too little would be left
	}{
		{"within the first pass", 300, []float64{200, 40, 0}, 20, 0},
		{"the last reds must go, and all of the blue", 300, []float64{200, 40, 0}, 14, 300 - 175},
		{"three reds in four are not there", 300, []float64{200, 40, 0}, 4, 0},
		{"a whole pass", 500, []float64{200, 199, 1}, 20, 0},
		{"one pass and a half", 750, []float64{400, 199, 1}, 40, 0},
		{"the second pass must end sooner", 750, []float64{400, 199, 1}, 30, 750 - 625},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := &schema.Setup{
				Project: schema.Project{Sett: 8, Picks: 8, FinishedLength: row.length},
				Yarns: []schema.Yarn{
					{Name: "red", Palette: []int{1}, Stock: measure.Stock{Packages: 1, Metres: row.red}},
					{Name: "others"},
				},
			}
			var picks []float64
			for _, u := range Of(d, s).WeftUse() {
				picks = append(picks, u.Threads.Value)
				if !near(u.Metres.Value, u.Threads.Value/10, 1e-9) {
					t.Errorf("%v m for %v picks", u.Metres.Value, u.Threads.Value)
				}
			}
			if !slices.Equal(picks, row.picks) {
				t.Errorf("picks %v, want %v", picks, row.picks)
			}
			uses := Of(d, s).YarnUses()
			if len(uses) != 2 {
				t.Fatal(uses)
			}
			by := uses[0].Shorten
			if short := max(row.picks[0]/10-row.red, 0); !near(uses[0].Short.Value, short, 1e-9) {
				t.Errorf("short by %v m, want %v", uses[0].Short.Value, short)
			}
			if by.Known != (row.shorterBy > 0) || !near(by.Value, row.shorterBy, 1e-7) {
				t.Errorf("shorter by %v, want %v", by, row.shorterBy)
			}
		})
	}
}

// With items shorter by the reported length the stock is enough; with slightly longer
// ones it isn't.
func TestShortenedFitsTheStock(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s := anyDraft(t), anySetup(t)
		s.Yarns = []schema.Yarn{{Stock: measure.Stock{Packages: 1, Metres: rapid.Float64Range(1, 2000).Draw(t, "stock")}}}
		if d.Picks() == 0 {
			d.Treadling = schema.Singles(1)
		}
		uses := Of(d, s).YarnUses()
		if !uses[0].Shorten.Known {
			return
		}
		shortened := func(by float64) float64 {
			c := *s
			c.Project.FinishedLength -= measure.Length(by)
			u := Of(d, &c).YarnUses()
			return u[0].Short.Value
		}
		by := uses[0].Shorten.Value
		if short := shortened(by); short > 1e-6 {
			t.Fatalf("still short by %v m", short)
		}
		if less := by - 1e-3; less > 0 && shortened(less) <= 0 {
			t.Fatalf("%v mm would do, not %v", less, by)
		}
	})
}

// The yarn of each thread depends on what the yarns name and on their use.
func TestUseDecides(t *testing.T) {
	white, blue := schema.RGB(255, 255, 255), schema.RGB(0, 0, 255)
	yarn := func(use string, colors ...schema.Color) schema.Yarn {
		return schema.Yarn{Name: use, Colors: colors, ForWarp: use == "warp", ForWeft: use == "weft"}
	}
	plainDraft := schema.Draft{Threading: schema.Singles(1, 2), Treadling: schema.Singles(1, 2)}
	white1 := plainDraft
	white1.Palette, white1.Warp.Color, white1.Weft.Color = []schema.Color{white}, 1, 1
	for _, row := range []struct {
		name       string
		draft      schema.Draft
		yarns      []schema.Yarn
		warp, weft int
		kept       KeptByUse
	}{
		{"no colors: one for all", plainDraft, []schema.Yarn{yarn("")}, 0, 0, KeptByUse{}},
		{"no colors: the weft's own", plainDraft, []schema.Yarn{yarn(""), yarn("weft")}, 0, 1, KeptByUse{}},
		{"no colors: the warp's own, after one for both", plainDraft, []schema.Yarn{yarn(""), yarn("warp")}, 1, 0, KeptByUse{}},
		{"no colors: one each", plainDraft, []schema.Yarn{yarn("weft"), yarn("warp")}, 1, 0, KeptByUse{}},
		{"no colors: one each, that name colors", plainDraft, []schema.Yarn{yarn("warp", white), yarn("weft", blue)}, 0, 1, KeptByUse{}},
		{"no colors: two for the weft that name colors", plainDraft, []schema.Yarn{yarn("warp"), yarn("weft", white), yarn("weft", blue)}, 0, -1,
			KeptByUse{0, schema.Weft, "warp"}},
		{"no colors: yarns that name some", plainDraft, []schema.Yarn{yarn("", white)}, -1, -1, KeptByUse{}},
		{"a color nobody names: the weft's own", white1, []schema.Yarn{yarn(""), yarn("weft")}, 0, 1, KeptByUse{}},
		{"a color nobody names: not the weft's that names another", white1, []schema.Yarn{yarn(""), yarn("weft", blue)}, 0, 0, KeptByUse{}},
		{"a color that is named goes before", white1, []schema.Yarn{yarn("weft"), yarn("", white)}, 1, 1, KeptByUse{}},
		{"named by the warp's alone", white1, []schema.Yarn{yarn("warp", white), yarn("weft", blue)}, 0, -1,
			KeptByUse{1, schema.Weft, "warp"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := &schema.Setup{Yarns: row.yarns}
			warp := Of(&row.draft, s).YarnOf(schema.Warp, row.draft.Warp.Color)
			weft := Of(&row.draft, s).YarnOf(schema.Weft, row.draft.Weft.Color)
			if warp != row.warp || weft != row.weft {
				t.Errorf("warp %d and weft %d, want %d and %d", warp, weft, row.warp, row.weft)
			}
			f, kept := Of(&row.draft, s), KeptByUse{}
			for _, n := range f.NoYarns() {
				kept, _ = f.KeptByUse(n)
			}
			if kept != row.kept {
				t.Errorf("%+v, want %+v", kept, row.kept)
			}
			if lacks := row.warp < 0 || row.weft < 0; lacks != (len(f.NoYarns()) == 1) {
				t.Errorf("unassigned %v", f.NoYarns())
			}
		})
	}
}

func unassigned(d *schema.Draft, s *schema.Setup) []int {
	var list []int
	for _, n := range Of(d, s).NoYarns() {
		list = append(list, n.Color)
	}
	return list
}
