package sheet

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/corpus/golden"
	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/measure"
)

func TestLiftsByShaftOnALoomWithoutTreadles(t *testing.T) {
	d, s := towel()
	s.Given["loom.treadles"] = schema.Origin{}
	changes(t, textOf(t, d, s, dressing.Options{}, Options{}))
}

func TestLongLiftsAreWords(t *testing.T) {
	d, s := towel()
	d.LiftPlan = schema.RowsOf([]int32{1, 25}, []int32{}, []int32{2, 3})
	text := textOf(t, d, s, dressing.Options{}, Options{})
	if want := "  [ ]     1  1+25\n  [ ]     2  -\n  [ ]     3  2+3\n  [ ]     4  -\n"; !strings.Contains(text, want) {
		t.Errorf("no %q in:\n%s", want, text)
	}
}

// Twenty-four shafts get a column each, and the line fits the text sheet.
func TestLiftsOnTwentyFourShafts(t *testing.T) {
	d, s := towel()
	d.LiftPlan = schema.RowsOf([]int32{1, 24}, []int32{2})
	d.Weft.Colors = []int32{2, 1}
	text := textOf(t, d, s, dressing.Options{}, Options{})
	for _, want := range []string{"\n  >          indigo\n  [ ]     1  1 . . . . . . . .  .  .  .  .  .  .  .  .  .  .  .  .  .  . 24\n", "\n  >          natural\n  [ ]     2  . 2 . . . . . . .  .  ."} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in:\n%s", want, text)
		}
	}
}

// Each repeat of a part has its own box, also when the picks around it repeat.
func TestRounds(t *testing.T) {
	for _, row := range []struct {
		part, around dressing.Block
		want         string
	}{
		{dressing.Block{From: 1, To: 4, Times: 3}, dressing.Block{From: 1, To: 4, Times: 1}, "4 8 12"},
		{dressing.Block{From: 3, To: 4, Times: 2}, dressing.Block{From: 1, To: 10, Times: 3}, "4 6 14 16 24 26"},
		{dressing.Block{From: 7, To: 10, Times: 1}, dressing.Block{From: 1, To: 10, Times: 2}, "10 20"},
		{dressing.Block{From: 1, To: 4, Times: 1}, dressing.Block{From: 1, To: 4, Times: 1}, ""},
	} {
		labels, each := rounds(row.part, row.around)
		if got := strings.Join(labels, " "); got != row.want || each != 1 {
			t.Errorf("%+v: %q, %d a box, want %q", row.part, got, each, row.want)
		}
	}
}

// More than 120 repeats share boxes. The last box is the last pick of all.
func TestManyRoundsShareBoxes(t *testing.T) {
	for _, row := range []struct {
		part, around      dressing.Block
		each, boxes       int
		first, next, last string
	}{
		{dressing.Block{From: 1, To: 4, Times: 120}, dressing.Block{From: 1, To: 4, Times: 1}, 1, 120, "4", "8", "480"},
		{dressing.Block{From: 1, To: 4, Times: 121}, dressing.Block{From: 1, To: 4, Times: 1}, 2, 61, "8", "16", "484"},
		{dressing.Block{From: 5, To: 8, Times: 1000}, dressing.Block{From: 1, To: 4004, Times: 1}, 10, 100, "44", "84", "4004"},
		{dressing.Block{From: 3, To: 4, Times: 40}, dressing.Block{From: 1, To: 100, Times: 10}, 5, 80, "12", "22", "982"},
	} {
		labels, each := rounds(row.part, row.around)
		if each != row.each || len(labels) != row.boxes || labels[0] != row.first || labels[1] != row.next || labels[len(labels)-1] != row.last {
			t.Errorf("%+v: %d a box, %q; want %+v", row.part, each, labels, row)
		}
	}
	// The sheet says so.
	d, s := towel()
	d.Treadling, d.LiftPlan = schema.Rows{}, schema.Rows{}
	for pick := range int32(600) {
		d.Treadling.Append(pick%4 + 1)
	}
	if text := textOf(t, d, s, dressing.Options{}, Options{}); !strings.Contains(text, "every 2 times") {
		t.Errorf("no shared boxes in:\n%s", text)
	}
}

func TestTimesThroughTheDraft(t *testing.T) {
	for _, row := range []struct{ picks, n int }{{1680, 4}, {7, 4}, {3, 4}, {2, 1}} {
		t.Run(fmt.Sprintf("%d of %d", row.picks, row.n), func(t *testing.T) {
			golden.Words(t, times(row.picks, row.n))
		})
	}
}

// The blocks, written out, give the picks of the draft.
func TestShownLiftsUnfold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		part := rapid.SliceOfN(rapid.Int32Range(1, 3), 1, 12).Draw(t, "part")
		var picks []int32
		for range rapid.IntRange(1, 5).Draw(t, "times") {
			picks = append(picks, part...)
		}
		picks = append(picks, rapid.SliceOfN(rapid.Int32Range(1, 3), 0, 30).Draw(t, "rest")...)
		if rapid.Bool().Draw(t, "twice") {
			picks = append(picks, picks...)
		}
		d := &schema.Draft{Treadling: schema.Singles(picks...)}
		plan := planOf(t, d, &schema.Setup{}, dressing.Options{})
		l := liftsOf(workOf(plan, Options{}))
		var shown []int32
		for _, outer := range worthwhile(blocksOf(plan.Lifts)) {
			if outer.From != len(shown)+1 {
				t.Fatalf("%+v after pick %d", outer, len(shown))
			}
			for range outer.Times {
				parts := l.within(outer)
				if len(parts) < 2 {
					parts = []dressing.Block{{From: outer.From, To: outer.To, Times: 1}}
				}
				for _, b := range parts {
					for range b.Times {
						shown = append(shown, picks[b.From-1:b.To]...)
					}
				}
			}
		}
		if !slices.Equal(shown, picks) {
			t.Fatalf("%v is shown as %v", picks, shown)
		}
	})
}

// The lines of a block, read back, give the lifts of its picks: by treadle, and by shaft
// in columns or in words.
func TestLiftLinesHoldTheLifts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s := anyDraft(t), anySetup(t)
		l := liftsOf(workOf(planOf(t, d, s, dressing.Options{}), Options{}))
		if l == nil {
			t.Skip("no picks")
		}
		n := d.Picks()
		pick := 1
		shuttle := ""
		for _, row := range l.block(dressing.Block{From: 1, To: n, Times: 1}).rows {
			if row[0] == ">" {
				shuttle = row[3]
				continue
			}
			if l.columns > mostBesideWeft {
				row[2] = shuttle
			}
			for _, word := range liftWords(row[3], l.columns) {
				if want := join(l.plan.Figures.PickRow(pick)); word != want {
					t.Fatalf("pick %d is %s, want %s", pick, word, want)
				}
				if name, want := strings.TrimPrefix(row[2], "> "), l.names[d.Weft.ColorOf(pick)]; name != want {
					t.Fatalf("pick %d is in %q, want %q", pick, name, want)
				}
				pick++
			}
			if !strings.HasSuffix("-"+row[1], fmt.Sprintf("-%d", pick-1)) {
				t.Fatalf("the line %q ends with pick %d", row, pick-1)
			}
		}
		if pick != n+1 {
			t.Fatalf("%d picks, want %d", pick-1, n)
		}
	})
}

// liftWords reads a line of picks. A line of shafts in columns is one pick.
func liftWords(line string, columns int) []string {
	if columns == 0 {
		return strings.Fields(line)
	}
	shafts := slices.DeleteFunc(strings.Fields(line), func(w string) bool { return w == "." })
	return []string{strings.Join(shafts, "+")}
}

// The sheet says which side to start from, as seen at the loom, if it matters.
func TestSelvedgeAdvice(t *testing.T) {
	for _, row := range []struct {
		name string
		plan *dressing.SelvedgePlan
		left bool
	}{
		{"several shuttles", nil, false},
		{"caught from either side", &dressing.SelvedgePlan{Turns: 3}, false},
		{"from the left", &dressing.SelvedgePlan{Turns: 3, MissesFromRight: 2}, false},
		{"from the left, mirrored", &dressing.SelvedgePlan{Turns: 3, MissesFromRight: 2}, true},
		{"fewer from the right", &dressing.SelvedgePlan{Turns: 9, MissesFromLeft: 4, MissesFromRight: 3}, false},
		{"alike", &dressing.SelvedgePlan{Turns: 9, MissesFromLeft: 4, MissesFromRight: 4}, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, s := towel()
			p := planOf(t, d, s, dressing.Options{})
			p.Selvedge = row.plan
			changes(t, string(Text(p, Options{End1Left: row.left})))
		})
	}
}

// If there are several items, the sheet lists the weaving item by item.
func TestListOfStretches(t *testing.T) {
	for name, change := range map[string]func(*schema.Project){
		"two":                            func(p *schema.Project) { p.Items = 2 },
		"one with a hem, after a sample": func(p *schema.Project) { p.Hem, p.Sample = 40, 200 },
		"a fringe":                       func(p *schema.Project) { p.Items, p.Fringe = 2, 120 },
	} {
		t.Run(name, func(t *testing.T) {
			d, s := towel()
			change(&s.Project)
			changes(t, textOf(t, d, s, dressing.Options{}, Options{}))
		})
	}
}

// Items that begin at different picks aren't alike, and the sheet says how to make them
// so. It ignores repeats too short to see.
func TestItemsAlike(t *testing.T) {
	for _, row := range []struct {
		name   string
		picks  int // of the draft, one of which differs
		items  int
		length measure.Length
	}{
		{"not alike", 120, 3, 500},
		{"alike, in whole repeats", 35, 3, 500},
		{"a repeat that does not show", 3, 3, 500},
		{"one item", 120, 1, 500},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, s := towel()
			d.Treadling = schema.Singles(slices.Repeat([]int32{1, 2}, row.picks)[:row.picks-1]...)
			d.Treadling.Append(4)
			s.Project.Items, s.Project.FinishedLength, s.Project.ContinueDraft = row.items, row.length, true
			changes(t, textOf(t, d, s, dressing.Options{}, Options{}))
		})
	}
}

// Each pass through the draft has a box if there aren't too many.
func TestPassesHaveBoxes(t *testing.T) {
	for _, row := range []struct {
		name  string
		picks int // of the draft
	}{
		{"some", 700},
		{"whole ones", 840},
		{"not even one", 1680},
		{"as many as there may be", 35},
		{"too many", 34},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, s := towel()
			d.Weft.Threads = row.picks
			changes(t, textOf(t, d, s, dressing.Options{}, Options{}))
		})
	}
}

// A plain hem of 60 mm is 21 picks at each end of an item: a box for every ten picks, and
// one at its end.
func TestPlainHemsHaveBoxes(t *testing.T) {
	d, s := towel()
	s.Project.PlainHems, s.Project.Hem, s.Project.Items = true, 60, 2
	text := textOf(t, d, s, dressing.Options{}, Options{})
	for _, want := range []string{"in plain hems after every 10\npicks", "Item 1, hem:\n\n  [ ] 10  [ ] 20  [ ] 21\n", "Item 2, hem:\n\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in:\n%s", want, text)
		}
	}
	s.Project.Hem = 20 // 7 picks: the box of the part is enough
	if text := textOf(t, d, s, dressing.Options{}, Options{}); strings.Contains(text, "hem:\n\n") || strings.Contains(text, "in plain hems after") {
		t.Errorf("boxes for a hem of 7 picks:\n%s", text)
	}
}

// The color of a pick without a yarn has a swatch at a change of shuttle too.
func TestSwatchesAtChanges(t *testing.T) {
	d, s := towel()
	s.Yarns = nil
	d.Weft.Colors = []int32{1, 1, 2, 2}
	raw, err := os.ReadFile(htmlOf(t, planned{d, planOf(t, d, s, dressing.Options{})}))
	if err != nil {
		t.Fatal(err)
	}
	for _, hex := range []string{"#f2ead8", "#22313f"} {
		for _, mark := range []string{"&gt; ", ""} {
			want := `<td class="color">` + mark + `<span class="swatch" style="background:` + hex + `"></span>` + hex + `</td>`
			if !strings.Contains(string(raw), want) {
				t.Errorf("no %s", want)
			}
		}
	}
}

// A part of more than mostPasses passes keeps its boxes, one for several passes.
func TestPassesPerBox(t *testing.T) {
	for _, row := range []struct{ passes, want int }{{1, 1}, {48, 1}, {49, 2}, {96, 2}, {97, 5}, {241, 10}, {481, 20}} {
		if got := perBox(row.passes, mostPasses); got != row.want {
			t.Errorf("%d passes: %d, want %d", row.passes, got, row.want)
		}
	}
}

// 2400 mm at 7 picks to the centimetre are 1680 picks, 420 passes of four: a box for
// every ten, and one at the end of the second item too.
func TestManyPassesShareBoxes(t *testing.T) {
	d, s := towel()
	s.Project.Items, s.Project.Hem = 2, 40 // 14 picks a hem
	text := textOf(t, d, s, dressing.Options{}, Options{})
	for _, want := range []string{"Item 1, cloth, a box for every 10 passes, 40 picks:", "[ ] 54 ", "[ ] 1694", "Item 2, cloth, a box for every 10 passes, 40 picks:", "[ ] 1762 ", "[ ] 3402", "Item 2, hem:"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in:\n%s", want, text)
		}
	}
}

// A weaver in inches reads no metres.
func TestWordsForLengthsFollowTheUnits(t *testing.T) {
	d, s := towel()
	s.Units = measure.Imperial
	inches := textOf(t, d, s, dressing.Options{}, Options{})
	if strings.Contains(inches, "metre") {
		t.Errorf("metres in:\n%s", inches)
	}
	s.Units = measure.Metric
	if metric := textOf(t, d, s, dressing.Options{}, Options{}); strings.Contains(metric, "inch") || strings.Contains(metric, "yard") {
		t.Errorf("inches in:\n%s", metric)
	}
}

// The threading is checked before the step that makes it hard to correct.
func TestCheckThreadingNamesTheNextStep(t *testing.T) {
	d, s := towel()
	for _, row := range []struct {
		backToFront bool
		want        string
	}{{false, "tie the warp to the back rod."}, {true, "sley the reed."}} {
		s.Project.BackToFront = row.backToFront
		w := &work{plan: planOf(t, d, s, dressing.Options{})}
		if text := w.checkThreading().parts[0].say; !strings.HasSuffix(text, row.want) {
			t.Errorf("%q", text)
		}
	}
}

// One item with a fringe has nothing to cut it from.
func TestFringeOfOneItem(t *testing.T) {
	d, s := towel()
	s.Project.Fringe = 200
	for items, want := range map[int]bool{1: false, 2: true} {
		s.Project.Items = items
		if got := strings.Contains(textOf(t, d, s, dressing.Options{}, Options{}), "cut between"); got != want {
			t.Errorf("%d items: %v", items, got)
		}
	}
}

// Floating selvedges must be wound with the warp, so the winding says when they help.
func TestFloatingSelvedgesAtTheWinding(t *testing.T) {
	d, s := towel()
	for _, row := range []struct {
		name      string
		treadling schema.Rows
		want      bool
	}{
		{"straight twill from its better side", schema.Singles(1, 2, 3, 4), false},
		{"two picks in each shed", schema.Singles(1, 1, 3, 3), true},
	} {
		d.Treadling = row.treadling
		p := planOf(t, d, s, dressing.Options{})
		w := &work{plan: p}
		var said bool
		for _, part := range w.wind().parts {
			said = said || strings.Contains(part.say, "floating selvedges")
		}
		if said != row.want {
			t.Errorf("%s: %v, selvedge %+v", row.name, said, p.Selvedge)
		}
	}
}

// A warp's own losses are explained beside those of the project.
func TestLossesOfAnotherWarp(t *testing.T) {
	d, s := towel()
	s.Warps = []schema.ExtraWarp{{Name: "pile", Ends: []schema.Steps{{From: 1, To: 9, Step: 1}}, TakeUp: 0.02, LoomWaste: 700}}
	s.Given["warp pile.take-up"], s.Given["warp pile.loom waste"] = schema.Origin{}, schema.Origin{}
	text := textOf(t, d, s, dressing.Options{}, Options{})
	for _, want := range []string{"[warp pile] take-up", "÷ 0.98", "[warp pile] loom waste", "70 cm more"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in:\n%s", want, text)
		}
	}
}

// A countermarch tie-up with treadles pressed together leaves shafts to other treadles.
func TestTreadlesPressedTogetherOnCountermarch(t *testing.T) {
	d, s := towel()
	d.Tieup = schema.RowsOf([]int32{1}, []int32{2}, []int32{3}, []int32{4})
	d.Treadling = schema.RowsOf([]int32{1, 3}, []int32{1, 4}, []int32{2, 3}, []int32{2, 4})
	s.Loom = schema.Loom{Treadles: 3, AtOnce: 2, Shed: schema.Countermarch}
	if text := textOf(t, d, s, dressing.Options{}, Options{}); strings.Contains(text, "Tie each treadle both ways") || !strings.Contains(strings.Join(strings.Fields(text), " "), "See to this first: the draft presses treadles together") {
		t.Errorf("a tie-up that can't be used:\n%s", text)
	}
	d.Threading = schema.Singles(1, 2, 3, 4, 5, 1, 2, 3)
	d.Tieup = schema.RowsOf([]int32{1}, []int32{2}, []int32{3}, []int32{4}, []int32{5})
	d.Treadling = schema.RowsOf([]int32{1, 3}, []int32{2, 4}, []int32{1, 5}, []int32{2, 3}, []int32{1, 4}, []int32{2, 5})
	s.Loom.Treadles = 5
	text := textOf(t, d, s, dressing.Options{}, Options{})
	for _, want := range []string{"        3  3   4, 5\n", "leave a shaft", "Press several on a line together"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in:\n%s", want, text)
		}
	}
}

// A plain hem lists its treadles with the tie-up, and the yarn of its picks.
func TestPlainHemOnTheSheet(t *testing.T) {
	d, s := towel()
	d.Weft.Colors = []int32{2, 2, 1, 2}
	s.Project.Hem, s.Project.PlainHems, s.Project.Items = 12, true, 2 // a hem of 6 mm is 5 picks
	for name, row := range map[string]struct {
		shed      schema.Shed
		continues bool
		want      []string
	}{
		"rising": {schema.Rising, false, []string{"        5  1, 3            plain hems\n        6  2, 4            plain hems\n",
			"beginning with treadle 5 and then treadle 6", "The weft of each hem: 2 indigo, 1 natural, 2 indigo."}},
		"countermarch": {schema.Countermarch, false, []string{"        5  1, 3  2, 4  plain hems\n        6  2, 4  1, 3  plain hems\n"}},
		// The cloth is 1680 picks, so the second hem begins at pick 2 of the draft.
		"the draft runs on": {schema.Rising, true, []string{"item 1, hem        5  2 indigo, 1 natural, 2 indigo\n", "item 1, hem     1690  1 indigo, 1 natural, 3 indigo\n"}},
	} {
		t.Run(name, func(t *testing.T) {
			s.Loom.Shed, s.Project.ContinueDraft = row.shed, row.continues
			text := textOf(t, d, s, dressing.Options{}, Options{})
			for _, want := range row.want {
				if !strings.Contains(text, want) {
					t.Errorf("no %q in:\n%s", want, text)
				}
			}
		})
	}
}

// Where the sheet has no tie-up, it says what the weaver's own loom can do.
func TestLiftsWithoutATieup(t *testing.T) {
	for name, row := range map[string]struct {
		treadles int
		stated   bool
		want     string
		not      string
	}{
		"too few treadles":   {3, true, "Run fettle fit", "computer"},
		"no treadles":        {0, true, "For a loom with a computer", "fettle fit"},
		"unknown treadles":   {0, false, "state how many under [loom]", "fettle fit"},
		"enough for a tieup": {4, true, "one treadle for each different lift", "computer"},
	} {
		t.Run(name, func(t *testing.T) {
			d, s := towel()
			d.LiftPlan = schema.RowsOf([]int32{1, 2}, []int32{2, 3}, []int32{3, 4}, []int32{1, 4})
			d.Tieup, d.Treadling = schema.Rows{}, schema.Rows{}
			if s.Loom.Treadles = row.treadles; row.stated {
				s.Given["loom.treadles"] = schema.Origin{}
			}
			w := workOf(planOf(t, d, s, dressing.Options{}), Options{})
			said := ""
			for _, p := range w.tieUp().parts {
				said += p.say + " "
			}
			if !strings.Contains(said, row.want) || strings.Contains(said, row.not) {
				t.Errorf("%s", said)
			}
		})
	}
}
