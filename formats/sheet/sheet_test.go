package sheet

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fettle/corpus/golden"
	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/measure"
)

func TestOrderOfWork(t *testing.T) {
	front := []string{"Yarn to have", "1. Count the heddles", "2. Wind the warp", "3. Tie the cross", "4. Chain the bouts", "5. Put in the lease sticks",
		"6. Cut the loops", "7. Sley the reed", "8. Thread the heddles", "9. Check the threading", "10. Tie to the back rod", "11. Beam the warp",
		"12. Tie to the front rod", "13. Even the tension", "14. Tie up the treadles", "15. Weave a heading", "16. Check the sheds", "17. Weave", "What the figures rest on", "The draft"}
	back := []string{"Yarn to have", "1. Count the heddles", "2. Wind the warp", "3. Tie the cross", "4. Chain the bouts", "5. Tie to the back rod",
		"6. Put in the lease sticks", "7. Spread the warp in the raddle", "8. Beam the warp", "9. Cut the loops", "10. Thread the heddles", "11. Check the threading",
		"12. Sley the reed", "13. Tie to the front rod", "14. Even the tension", "15. Tie up the treadles", "16. Weave a heading", "17. Check the sheds", "18. Weave", "What the figures rest on", "The draft"}
	d, s := towel()
	if got := stepsOf(textOf(t, d, s, dressing.Options{}, Options{})); !slices.Equal(got, front) {
		t.Errorf("front to back: %q", got)
	}
	s.Project.BackToFront = true
	if got := stepsOf(textOf(t, d, s, dressing.Options{}, Options{})); !slices.Equal(got, back) {
		t.Errorf("back to front: %q", got)
	}
}

// Figures worked out by hand from the formulas: 400 ends of 3 m; 50 cm in the reed; 2.4 m
// at 7 picks per cm; 100 heddles a shaft, of which there are 90; 1200 m of 150 tex yarn,
// of which two packages of 50 g give 666 m.
func TestFiguresOfTheTowel(t *testing.T) {
	d, s := towel()
	text := textOf(t, d, s, dressing.Options{}, Options{})
	for _, want := range []string{
		"400:", "50 times", "50 cm", " 3 m", "1200 m", "301-400    100     3 m  left 2", "40 dents", "8/cm", "25 cm", "200-1    2\n", "201-400  2\n", "200 dents",
		"      4      100          50         50     90     10         364\n",
		"  16 x  1-192  1 2 3 4   1 2 3 4   1 2 3 4\n", "  [ ]  393-400  1 2 3 4   1 2 3 4\n", "160 cm", "        4  1, 4\n", "1680", "240 cm", "420 times", "  [ ]     1  1 . . .\n  [ ]     2  . 2 . .\n", "180 g", "666 m", "534 m",
		// 533⅓ m too little for 400 ends is 1⅓ m less each; the warp is the cloth plus 60
		// cm.
		"134 cm",
		// k 0.9: 0.9·√(496054.648 ÷ 150) ÷ 2.54 · ⅔ = 13.584.
		"10.2/cm          10.9/cm  13.6/cm  8/cm: 59 %\n",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in:\n%s", want, text)
		}
	}
	golden.Words(t, text)
	if strings.Contains(text, "Not known") {
		t.Errorf("all is known, but the sheet says:\n%s", text)
	}
}

// The sheet names each missing setting at the figure that needs it.
func TestMissingIsNamed(t *testing.T) {
	for _, row := range []struct {
		key   string
		unset func(*schema.Setup)
	}{
		{"[project] sett", func(s *schema.Setup) { s.Project.Sett = 0 }},
		{"[reed] dents", func(s *schema.Setup) { s.Reeds = nil }},
		{"[heddles] each", func(s *schema.Setup) { s.Heddles = schema.Heddles{} }},
		{"[project] finished length", func(s *schema.Setup) { s.Project.FinishedLength = 0 }},
		{"[project] picks", func(s *schema.Setup) { s.Project.Picks = 0 }},
		{"[yarn] grist", func(s *schema.Setup) { s.Yarns = nil }},
		{"[yarn indigo] grist", func(s *schema.Setup) { s.Yarns[1].Grist = measure.Grist{} }},
	} {
		t.Run(row.key, func(t *testing.T) {
			d, s := towel()
			row.unset(s)
			text := textOf(t, d, s, dressing.Options{}, Options{})
			if !strings.Contains(text, "\n  "+row.key+"  ") {
				t.Errorf("%s is not named:\n%s", row.key, text)
			}
			changes(t, text)
		})
	}
}

// With end 1 at the left all sides change, and the ends keep their numbers.
func TestEnd1Left(t *testing.T) {
	d, s := towel()
	for _, row := range []struct {
		name string
		left bool
		from dressing.Start
	}{
		{"right", false, dressing.FromRight},
		{"left", true, dressing.FromRight},
		{"right, from the last end", false, dressing.FromLeft},
		{"left, from the last end", true, dressing.FromLeft},
		{"left, from the centre", true, dressing.FromCentre},
	} {
		t.Run(row.name, func(t *testing.T) {
			text := textOf(t, d, s, dressing.Options{Start: row.from}, Options{End1Left: row.left})
			changes(t, text)
		})
	}
}

func TestSleyingInWords(t *testing.T) {
	for _, row := range []struct {
		name  string
		sett  measure.Density
		units measure.Units
	}{
		{"uneven", 6, measure.Metric},
		{"an empty dent", 2, measure.Metric},
		{"off", 8.1, measure.Metric},
		{"off by less than anybody sees", 8.004, measure.Metric},
		{"off the other way", 7.9, measure.Metric},
		{"inches", 8, measure.Imperial},
		{"too long for the reed", 2, measure.Metric},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, s := towel()
			s.Project.Sett, s.Units = row.sett, row.units
			text := textOf(t, d, s, dressing.Options{}, Options{})
			changes(t, text)
		})
	}
}

func TestOtherReedIsNamed(t *testing.T) {
	for _, row := range []struct {
		name  string
		sett  measure.Density
		other schema.Reed
	}{
		{"none is needed", 8, schema.Reed{Name: "fine", Dents: 8}},
		{"exact", 8.1, schema.Reed{Name: "fine", Dents: 8.1}},
		{"near, without a name", 8.1, schema.Reed{Dents: 8.08}},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, s := towel()
			s.Project.Sett = row.sett
			s.Reeds = append(s.Reeds, row.other)
			text := textOf(t, d, s, dressing.Options{}, Options{})
			changes(t, text)
		})
	}
}

func TestColorOrder(t *testing.T) {
	for _, row := range []struct {
		name   string
		colors []int32
		want   string
	}{
		{"one", []int32{1, 1, 1}, "3 red"},
		{"two", []int32{1, 1, 2}, "2 red, 1 blue"},
		{"by turns", []int32{1, 1, 2, 1, 1, 2, 1, 1}, "2 times (2 red, 1 blue), then 2 red"},
	} {
		t.Run(row.name, func(t *testing.T) {
			d := &schema.Draft{Warp: schema.System{Threads: 2 * len(row.colors), Colors: slices.Concat(row.colors, row.colors)}}
			figures := dressing.Of(d, &schema.Setup{})
			bouts := figures.Bouts(&figures.Warps()[0]) // one in each half
			if got := colorOrder(bouts[0].Colors, bouts[0].Blocks, map[int]string{1: "red", 2: "blue"}); got != row.want {
				t.Errorf("%q, want %q", got, row.want)
			}
		})
	}
}

func TestColorNames(t *testing.T) {
	got := colorNames([]dressing.ColorRow{
		{Color: 0}, {Color: 1, Hex: "#010101", Yarn: "wool"}, {Color: 2, Hex: "#020202", Yarn: "wool"}, {Color: 3, Hex: "#030303"}, {Color: 4},
	})
	want := map[int]string{0: "without a color", 1: "wool #010101", 2: "wool #020202", 3: "#030303", 4: "color 4"}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// A figure that leaves out a loss says so beside it, and the winding step tells the
// weaver to stop.
func TestFiguresNameUnstatedLosses(t *testing.T) {
	for name, unstated := range map[string][]string{
		"all are stated":       nil,
		"none is":              {"take-up", "shrinkage warp", "shrinkage weft", "weft take-up", "draw-in", "loom waste"},
		"one way of shrinking": {"shrinkage warp"},
		"the weft's take-up":   {"weft take-up"},
	} {
		t.Run(name, func(t *testing.T) {
			d, s := towel()
			for _, key := range unstated {
				delete(s.Given, "project."+key)
			}
			changes(t, textOf(t, d, s, dressing.Options{}, Options{}))
		})
	}
}

// All drafts of the guild are weavable.
func TestGuildCanBeWoven(t *testing.T) {
	for _, path := range corpusDrafts(t) {
		if faults := fromCorpus(t, path, dressing.Options{}).plan.Faults; strings.HasPrefix(path, "guild/") && len(faults) > 0 {
			t.Errorf("%s: %+v", path, faults)
		}
	}
}

// The sheet explains only the signs that it uses.
func TestSignsAreExplainedWhereUsed(t *testing.T) {
	for name, change := range map[string]func(*schema.Draft){
		"an end on two shafts":     func(d *schema.Draft) { d.Threading.Append(1, 2) },
		"an end on none":           func(d *schema.Draft) { d.Threading.Append() },
		"two treadles at once":     func(d *schema.Draft) { d.Treadling.Append(1, 2) },
		"a pick without a treadle": func(d *schema.Draft) { d.Treadling.Append() },
	} {
		t.Run(name, func(t *testing.T) {
			d, s := towel()
			change(d)
			changes(t, textOf(t, d, s, dressing.Options{}, Options{}))
		})
	}
}

// You still wind floating selvedges that aren't in the draft.
func TestFloatingSelvedges(t *testing.T) {
	for _, row := range []struct {
		name      string
		threading []int32
		asked     bool
	}{
		{"not asked for", []int32{1, 2, 3, 4}, false},
		{"both", []int32{0, 1, 2, 0}, true},
		{"none", []int32{1, 2, 3, 4}, true},
		{"one", []int32{0, 1, 2, 3}, true},
		{"the other", []int32{1, 2, 3, 0}, true},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, s := towel()
			d.Threading, s.Project.FloatingSelvedge, s.Project.Repeats = schema.Singles(row.threading...), row.asked, 1
			changes(t, textOf(t, d, s, dressing.Options{}, Options{}))
		})
	}
}

// The head gives the requested width if whole repeats give another.
func TestFinishedWidthAskedFor(t *testing.T) {
	for name, width := range map[string]measure.Length{"another": 505, "that one": 510} {
		t.Run(name, func(t *testing.T) {
			d, s := towel()
			s.Project.Repeats, s.Project.FinishedWidth = 0, width
			changes(t, textOf(t, d, s, dressing.Options{}, Options{}))
		})
	}
}

// If the loom moves the shafts the other way, the sheet says so at each list.
func TestShedOfTheLoom(t *testing.T) {
	for _, row := range []struct {
		name        string
		draft, loom schema.Shed
	}{
		{"both rising", schema.Rising, schema.Rising},
		{"both sinking", schema.Sinking, schema.Sinking},
		{"the loom unknown", schema.Sinking, schema.ShedUnstated},
		{"a rising loom", schema.Sinking, schema.Rising},
		{"a sinking loom", schema.Rising, schema.Sinking},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, s := towel()
			d.Shed, s.Loom.Shed = row.draft, row.loom
			changes(t, textOf(t, d, s, dressing.Options{}, Options{}))
		})
	}
}

// The sheet says what a stated loss is a percentage of, and how the figures allow for it.
func TestLossesAreExplained(t *testing.T) {
	d, s := towel()
	s.Project.TakeUp, s.Project.WeftTakeUp = 0.1, 0.05
	text := textOf(t, d, s, dressing.Options{}, Options{})
	if strings.Contains(text, "[project] draw-in") {
		t.Error("a draw-in of 0 is explained")
	}
	changes(t, text)
}

func TestKeptByUse(t *testing.T) {
	d, s := towel()
	s.Yarns = s.Yarns[:1]
	s.Yarns[0].ForWarp = true
	s.Yarns[0].Palette = []int{1, 2}
	changes(t, textOf(t, d, s, dressing.Options{}, Options{}))
}

func TestUnstatedBouts(t *testing.T) {
	d, s := towel()
	s.Project.Bout = 0
	changes(t, textOf(t, d, s, dressing.Options{}, Options{}))
}
