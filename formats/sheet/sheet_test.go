package sheet

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/measure"
)

func TestOrderOfWork(t *testing.T) {
	front := []string{"Yarn to have", "1. Wind the warp", "2. Sley the reed", "3. Thread the heddles", "4. Beam the warp", "5. Tie on", "6. Weave", "What the figures rest on"}
	back := []string{"Yarn to have", "1. Wind the warp", "2. Spread the warp in the raddle", "3. Beam the warp", "4. Thread the heddles", "5. Sley the reed", "6. Tie on", "7. Weave", "What the figures rest on"}
	d, s := towel()
	if got := stepsOf(textOf(t, d, s, dressing.Options{}, Options{})); !slices.Equal(got, front) {
		t.Errorf("front to back: %q", got)
	}
	s.Project.BackToFront = true
	if got := stepsOf(textOf(t, d, s, dressing.Options{}, Options{})); !slices.Equal(got, back) {
		t.Errorf("back to front: %q", got)
	}
}

// Figures worked out by hand from the formulas: 400 ends of 3 m; 50 cm in the
// reed; 2.4 m at 7 picks; 100 heddles a shaft of which 90 are there; 1200 m of a
// 150 tex yarn of which two packages of 50 g make 666 m.
func TestFiguresOfTheTowel(t *testing.T) {
	d, s := towel()
	text := textOf(t, d, s, dressing.Options{}, Options{})
	for _, want := range []string{
		"Ends               400: the draft's 8, 50 times over\n",
		"Width in the reed  50 cm\n",
		"Wind 400 ends, each 3 m long: 1200 m of yarn.\n",
		"  [ ]     4  301-400    100  100 natural\n",
		"Reed with 40 dents to 10 cm. It gives the sett asked for, 8/cm.\n",
		"50 cm wide: 25 cm to each side of the centre.\n",
		"  to the right     200-1    2\n  to the left      201-400  2\n",
		"400 ends in 200 dents of the reed's 400.\n",
		"      4      100          50         50            90     10              364\n",
		"The whole warp: 100 each on 1-4. In all 400 heddles, as counted out.\n",
		"  100 x  1-400  1 2 3 4\n                = 1 each on 1-4\n",
		"[ ] 396  [ ] 400\n",
		"If you lash on, cut about 160 cm of cord; three times the width and some for the\nknots is a rule of thumb.\n",
		"        4  1, 4\n",
		"Weave 1680 picks at 7/cm: 240 cm, measured",
		"The cloth begins at pick 1 of the draft's 4 picks: all of them 420 times.\n",
		"    1-4  1 2 3 4\n",
		"  natural      1200 m   180 g  666 m, 2 packages  534 m, 2 packages\n",
		// 533⅓ m short over 400 ends is 1⅓ m off each; the warp is as long as the cloth and 60 cm.
		"See to this first: the work takes 1200 m of yarn 'natural' and there are 666 m,\n534 m short; an item 134 cm shorter would do.\n",
		// k 0.9: 0.9·√(496054.648 ÷ 150) ÷ 2.54 · ⅔ = 13.584.
		"natural                    10.2/cm         10.9/cm  13.6/cm  8/cm: 59 %\n",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in:\n%s", want, text)
		}
	}
	if strings.Contains(text, "Not known") {
		t.Errorf("all is known, but the sheet says:\n%s", text)
	}
}

// Each value that is missing is named, and where it would stand.
func TestMissingIsNamed(t *testing.T) {
	for _, row := range []struct {
		key    string
		unset  func(*schema.Setup)
		phrase string
	}{
		{"[project] sett", func(s *schema.Setup) { s.Project.Sett = 0 }, "How the reed is sleyed is not known: state [project] sett."},
		{"[reed] dents", func(s *schema.Setup) { s.Reeds = nil }, "How the reed is sleyed is not known: state [reed] dents."},
		{"[heddles] each", func(s *schema.Setup) { s.Heddles = schema.Heddles{} }, "Whether the heddles are enough is not known: state [heddles] each."},
		{"[project] finished length", func(s *schema.Setup) { s.Project.FinishedLength = 0 }, "Wind 400 ends. How long is not known: state [project] finished length."},
		{"[project] picks", func(s *schema.Setup) { s.Project.Picks = 0 }, "How many picks is not known: state [project] picks."},
		{"[yarn] grist", func(s *schema.Setup) { s.Yarns = nil }, ""},
		{"[yarn indigo] grist", func(s *schema.Setup) { s.Yarns[1].Grist = measure.Grist{} }, ""},
	} {
		t.Run(row.key, func(t *testing.T) {
			d, s := towel()
			row.unset(s)
			text := textOf(t, d, s, dressing.Options{}, Options{})
			if !strings.Contains(text, "Not known\n---------\n") || !strings.Contains(text, "\n  "+row.key+"  ") || !strings.Contains(text, row.phrase) {
				t.Errorf("%s is not named, or %q not said:\n%s", row.key, row.phrase, text)
			}
		})
	}
}

// With end 1 at the left everything that has a side changes sides, and the ends
// keep their numbers.
func TestEnd1Left(t *testing.T) {
	d, s := towel()
	for _, row := range []struct {
		name string
		left bool
		from dressing.Start
		want []string
	}{
		{"right", false, dressing.FromRight, []string{"End 1              at the right edge", "to the right     200-1", "right half  left half", "Begin at the right edge, with end 1."}},
		{"left", true, dressing.FromRight, []string{"End 1              at the left edge", "to the left      200-1", "left half  right half", "Begin at the left edge, with end 1."}},
		{"right, from the last end", false, dressing.FromLeft, []string{"Begin at the left edge, with the last end.", "400-1  4 3 2 1"}},
		{"left, from the last end", true, dressing.FromLeft, []string{"Begin at the right edge, with the last end.", "400-1  4 3 2 1"}},
		{"left, from the centre", true, dressing.FromCentre, []string{"thread to the left edge, then from the centre to the\nright.", "200-1  4 3 2 1", "201-400  1 2 3 4"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			text := textOf(t, d, s, dressing.Options{Start: row.from}, Options{End1Left: row.left})
			for _, want := range row.want {
				if !strings.Contains(text, want) {
					t.Errorf("no %q in:\n%s", want, text)
				}
			}
		})
	}
}

func TestSleyingInWords(t *testing.T) {
	for _, row := range []struct {
		name  string
		sett  measure.Density
		units measure.Units
		want  []string
	}{
		{"uneven", 6, measure.Metric, []string{"  to the right     200-1    2-1\n", "  to the left      201-400  1-2\n"}},
		{"an empty dent", 2, measure.Metric, []string{"  200-1    1-0 (0: leave the dent empty)\n"}},
		{"off", 8.1, measure.Metric, []string{"It gives a sett of 8/cm where 8.1/cm was asked for,\n1.23 % less: the warp lies 6.2 mm wider."}},
		{"off by less than anybody sees", 8.004, measure.Metric, []string{"It gives the sett asked for, 8/cm."}},
		{"off the other way", 7.9, measure.Metric, []string{"1.27 % more: the warp lies 6.3 mm narrower."}},
		{"inches", 8, measure.Imperial, []string{"Reed with 10.16 dents to the inch. It gives the sett asked for, 20.32/in."}},
		{"too long for the reed", 2, measure.Metric, []string{"400 ends in 800 dents of the reed's 400.",
			"See to this first: the warp of 400 ends takes 800 dents and the reed has 400,\n400 short; take a longer reed"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, s := towel()
			s.Project.Sett, s.Units = row.sett, row.units
			text := textOf(t, d, s, dressing.Options{}, Options{})
			for _, want := range row.want {
				if !strings.Contains(text, want) {
					t.Errorf("no %q in:\n%s", want, text)
				}
			}
		})
	}
}

func TestOtherReedIsNamed(t *testing.T) {
	for _, row := range []struct {
		name  string
		sett  measure.Density
		other schema.Reed
		want  string
	}{
		{"none is needed", 8, schema.Reed{Name: "fine", Dents: 8}, ""},
		{"exact", 8.1, schema.Reed{Name: "fine", Dents: 8.1},
			"Your reed 'fine', with 81 dents to 10 cm, comes nearer: 1 in each dent, over and\nover, give the sett asked for."},
		{"near, without a name", 8.1, schema.Reed{Dents: 8.08},
			"Your other reed, with 80.8 dents to 10 cm, comes nearer: 1 in each dent, over\nand over, give 0.25 % less than was asked for."},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, s := towel()
			s.Project.Sett = row.sett
			s.Reeds = append(s.Reeds, row.other)
			text := textOf(t, d, s, dressing.Options{}, Options{})
			if !strings.Contains(text, row.want) || strings.Contains(text, "comes nearer") != (row.want != "") {
				t.Errorf("no %q in:\n%s", row.want, text)
			}
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
			bouts := dressing.Of(d, &schema.Setup{}).Bouts() // one to a half
			if got := colorOrder(bouts[0], map[int]string{1: "red", 2: "blue"}); got != row.want {
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

// A figure that a loss was left out of says so where it stands, and the step
// where the warp is wound stops the weaver.
func TestLossesNotStatedAreSaidAtTheFigure(t *testing.T) {
	const stop = "Do not wind yet: that length is without "
	for _, row := range []struct {
		name     string
		unstated []string
		want     []string
		not      []string
	}{
		{"all are stated", nil, []string{"Warp length        3 m\n"}, []string{"not stated", "Do not wind"}},
		{"none is", []string{"take-up", "shrinkage warp", "shrinkage weft", "weft take-up", "draw-in", "loom waste"}, []string{
			"Warp length        3 m, without take-up, shrinkage and loom waste: not stated\n",
			"Woven length       240 cm, without shrinkage: not stated\n",
			"Finished width     50 cm, without draw-in and shrinkage: not stated\n",
			"The yarn for the warp is without take-up, shrinkage and loom waste, which you\nhave not stated",
			"The yarn for the weft is without weft take-up and shrinkage, which you have not\nstated",
			stop + "take-up, shrinkage and loom waste,",
			"That is without shrinkage, which is not stated",
		}, nil},
		{"one way of shrinking", []string{"shrinkage warp"}, []string{"Warp length        3 m, without shrinkage warp: not stated\n", stop + "shrinkage warp,"},
			[]string{"Finished width     50 cm,"}},
		{"the weft's take-up", []string{"weft take-up"}, []string{"The yarn for the weft is without weft take-up,"}, []string{stop, "The yarn for the warp is without"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, s := towel()
			for _, key := range row.unstated {
				delete(s.Given, "project."+key)
			}
			text := textOf(t, d, s, dressing.Options{}, Options{})
			for _, want := range row.want {
				if !strings.Contains(text, want) {
					t.Errorf("no %q in:\n%s", want, text)
				}
			}
			for _, not := range row.not {
				if strings.Contains(text, not) {
					t.Errorf("%q in:\n%s", not, text)
				}
			}
		})
	}
}

// No draft of the guild is one that cannot be woven.
func TestGuildCanBeWoven(t *testing.T) {
	for _, path := range corpusDrafts(t) {
		if faults := fromCorpus(t, path, dressing.Options{}).plan.Faults; strings.HasPrefix(path, "guild/") && len(faults) > 0 {
			t.Errorf("%s: %+v", path, faults)
		}
	}
}

// Signs are explained where they are used, and only there.
func TestSignsAreExplainedWhereUsed(t *testing.T) {
	const (
		heddles, noHeddle = "An end with a + between them", "A - is an end in no heddle."
		feet, noFoot      = "With a + between them they are pressed together.", "A - is a pick without a treadle."
	)
	for _, row := range []struct {
		name   string
		change func(*schema.Draft)
		want   []string
	}{
		{"none", func(*schema.Draft) {}, nil},
		{"an end on two shafts", func(d *schema.Draft) { d.Threading.Append(1, 2) }, []string{heddles}},
		{"an end on none", func(d *schema.Draft) { d.Threading.Append() }, []string{noHeddle}},
		{"two treadles at once", func(d *schema.Draft) { d.Treadling.Append(1, 2) }, []string{feet}},
		{"a pick without a treadle", func(d *schema.Draft) { d.Treadling.Append() }, []string{noFoot}},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, s := towel()
			row.change(d)
			text := strings.ReplaceAll(textOf(t, d, s, dressing.Options{}, Options{}), "\n", " ")
			for _, sign := range []string{heddles, noHeddle, feet, noFoot} {
				if strings.Contains(text, sign) != slices.Contains(row.want, sign) {
					t.Errorf("%q, which should be there: %v, in:\n%s", sign, slices.Contains(row.want, sign), text)
				}
			}
		})
	}
}

// Floating selvedges that the draft has not are still to be wound.
func TestFloatingSelvedges(t *testing.T) {
	for _, row := range []struct {
		name      string
		threading []int32
		asked     bool
		want      string
	}{
		{"not asked for", []int32{1, 2, 3, 4}, false, ""},
		{"both", []int32{0, 1, 2, 0}, true, "The floating selvedges go through the reed with the rest, but through no heddle."},
		{"none", []int32{1, 2, 3, 4}, true, "The draft has no floating selvedges: wind one end more for each side, and sley it beside the last, through no heddle. They are not in these figures."},
		{"one", []int32{0, 1, 2, 3}, true, "The floating selvedge at the right goes through the reed with the rest, but through no heddle. The draft has none at the left: wind one end more for it"},
		{"the other", []int32{1, 2, 3, 0}, true, "The floating selvedge at the left goes through the reed with the rest, but through no heddle. The draft has none at the right: wind one end more for it"},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, s := towel()
			d.Threading, s.Project.FloatingSelvedge, s.Project.Repeats = schema.Singles(row.threading...), row.asked, 1
			var said []string
			w := workOf(planOf(t, d, s, dressing.Options{}), Options{})
			step := w.sley()
			for _, p := range step.parts {
				if strings.Contains(p.say, "floating selvedge") {
					said = append(said, p.say)
				}
			}
			if got := strings.Join(said, "|"); !strings.HasPrefix(got, row.want) || (got != "") != row.asked {
				t.Errorf("%q, want %q", got, row.want)
			}
		})
	}
}

// The head says which width was asked for where whole repeats give another.
func TestFinishedWidthAskedFor(t *testing.T) {
	d, s := towel()
	s.Project.Repeats, s.Project.FinishedWidth = 0, 505
	if text, want := textOf(t, d, s, dressing.Options{}, Options{}), "Finished width     51 cm with the draft taken 51 times; 50.5 cm was asked for\n"; !strings.Contains(text, want) {
		t.Errorf("no %q in:\n%s", want, text)
	}
	s.Project.FinishedWidth = 510
	if text := textOf(t, d, s, dressing.Options{}, Options{}); strings.Contains(text, "was asked for\n") {
		t.Errorf("that is what was asked for:\n%s", text)
	}
}

// Where the loom moves the shafts the other way, the sheet says so beside them.
func TestShedOfTheLoom(t *testing.T) {
	for _, row := range []struct {
		draft, loom schema.Shed
		want        string
	}{
		{schema.Rising, schema.Rising, "The shafts named go up.\n"},
		{schema.Sinking, schema.Sinking, "The shafts named go down.\n"},
		{schema.Sinking, schema.ShedUnstated, "The shafts named go down.\n"},
		{schema.Sinking, schema.Rising, "The shafts named go down in the draft, and up on this loom.\n"},
		{schema.Rising, schema.Sinking, "The shafts named go up in the draft, and down on this loom.\n"},
	} {
		d, s := towel()
		d.Shed, s.Loom.Shed = row.draft, row.loom
		if text := textOf(t, d, s, dressing.Options{}, Options{}); !strings.Contains(text, row.want) {
			t.Errorf("no %q in:\n%s", row.want, text)
		}
	}
}

// What a loss that was stated is a part of, and how it is reckoned with.
func TestLossesAreExplained(t *testing.T) {
	d, s := towel()
	s.Project.TakeUp, s.Project.WeftTakeUp = 0.1, 0.05
	text := textOf(t, d, s, dressing.Options{}, Options{})
	for _, want := range []string{
		"  [project] take-up       10 % of the warp that is woven up: what is woven ÷ 0.9\n",
		"  [project] loom waste    60 cm more for the whole warp\n",
		"  [project] weft take-up  5 % of the width in the reed, more for each pick: that\n                          width × 1.05\n",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in:\n%s", want, text)
		}
	}
	if strings.Contains(text, "[project] draw-in") {
		t.Error("a draw-in of 0 is explained")
	}
}

func TestYarnIsKeptByItsUse(t *testing.T) {
	d, s := towel()
	s.Yarns = s.Yarns[:1]
	s.Yarns[0].ForWarp = true
	s.Yarns[0].Palette = []int{1, 2}
	want := "No yarn stands for color 2 in the weft: yarn 'natural' would, but its use is warp; write use = warp, weft there,"
	if text := strings.ReplaceAll(textOf(t, d, s, dressing.Options{}, Options{}), "\n", " "); !strings.Contains(text, want) || strings.Contains(text, "No yarn is named for") {
		t.Errorf("no %q in:\n%s", want, text)
	}
}

func TestBoutsThatWereNotStated(t *testing.T) {
	d, s := towel()
	const want = "Each half of the warp is one bout here. If you wind fewer ends at once, state how many in [project] bout."
	if text := textOf(t, d, s, dressing.Options{}, Options{}); strings.Contains(text, "one bout here") {
		t.Errorf("it was stated, but:\n%s", text)
	}
	s.Project.Bout = 0
	if text := strings.ReplaceAll(textOf(t, d, s, dressing.Options{}, Options{}), "\n", " "); !strings.Contains(text, want) {
		t.Errorf("no %q in:\n%s", want, text)
	}
}
