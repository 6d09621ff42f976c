package sheet

import (
	"fmt"
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
		{dressing.Block{From: 1, To: 4, Times: 121}, dressing.Block{From: 1, To: 4, Times: 1}, ""},
	} {
		if got := strings.Join(rounds(row.part, row.around), " "); got != row.want {
			t.Errorf("%+v: %q, want %q", row.part, got, row.want)
		}
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
				if want := join(l.plan.PickRow(pick)); word != want {
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
