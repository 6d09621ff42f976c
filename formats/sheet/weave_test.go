package sheet

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/measure"
)

func TestLiftsByShaftOnALoomWithoutTreadles(t *testing.T) {
	d, s := towel()
	s.Given["loom.treadles"] = schema.Origin{}
	text := textOf(t, d, s, dressing.Options{}, Options{})
	for _, want := range []string{"  [ ]     1  1 2 . .\n  [ ]     2  . 2 3 .\n  [ ]     3  . . 3 4\n  [ ]     4  1 . . 4\n", "The shafts named go up."} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in:\n%s", want, text)
		}
	}
	if strings.Contains(text, "treadle") {
		t.Errorf("the loom has no treadles, but:\n%s", text)
	}
}

func TestLongLiftsAreWords(t *testing.T) {
	d, s := towel()
	d.LiftPlan = schema.RowsOf([]int32{1, 21}, []int32{}, []int32{2, 3})
	text := textOf(t, d, s, dressing.Options{}, Options{})
	if want := "  [ ]    1-4  1+21    -  2+3    -\n"; !strings.Contains(text, want) {
		t.Errorf("no %q in:\n%s", want, text)
	}
}

func TestTimesThroughTheDraft(t *testing.T) {
	for _, row := range []struct {
		picks, n int
		want     string
	}{
		{1680, 4, "all of them 420 times"},
		{7, 4, "all of them once, and then the first 3"},
		{3, 4, "its first 3"},
		{2, 1, "all of them 2 times"},
	} {
		if got := times(row.picks, row.n); got != row.want {
			t.Errorf("%q, want %q", got, row.want)
		}
	}
}

// The blocks as they are shown unfold to the picks of the draft.
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

// What the lines of a block hold, read back, is the lifts of its picks: by
// treadle, and by shaft in columns or in words.
func TestLiftLinesHoldTheLifts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s := anyDraft(t), anySetup(t)
		l := liftsOf(workOf(planOf(t, d, s, dressing.Options{}), Options{}))
		if l == nil {
			t.Skip("no picks")
		}
		n := d.Picks()
		pick := 1
		for _, row := range l.block(dressing.Block{From: 1, To: n, Times: 1}).rows {
			for _, word := range liftWords(row[3], l.shafts) {
				if want := join(l.plan.PickRow(pick)); word != want {
					t.Fatalf("pick %d is %s, want %s", pick, word, want)
				}
				if name, want := row[2], l.names[d.Weft.ColorOf(pick)]; name != want {
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

// liftWords reads a line of picks; of shafts in columns it is one pick.
func liftWords(line string, columns int) []string {
	if columns == 0 {
		return strings.Fields(line)
	}
	shafts := slices.DeleteFunc(strings.Fields(line), func(w string) bool { return w == "." })
	return []string{strings.Join(shafts, "+")}
}

// The side to start from is that of the loom, and is said where it matters.
func TestSelvedgeAdvice(t *testing.T) {
	for _, row := range []struct {
		name string
		plan *dressing.SelvedgePlan
		left bool
		want string
	}{
		{"several shuttles", nil, false, ""},
		{"caught from either side", &dressing.SelvedgePlan{Turns: 3}, false, ""},
		{"from the left", &dressing.SelvedgePlan{Turns: 3, MissesFromRight: 2}, false, "Start the first pick from the left: one shuttle then catches both edges at every turn. From the other side it misses 2 of 3."},
		{"from the left, mirrored", &dressing.SelvedgePlan{Turns: 3, MissesFromRight: 2}, true, "Start the first pick from the right: one"},
		{"fewer from the right", &dressing.SelvedgePlan{Turns: 9, MissesFromLeft: 4, MissesFromRight: 3}, false, "Start the first pick from the right: one shuttle then misses the edge at 3 of the draft's 9 turns, from the other side at 4. Floating selvedges catch it there."},
		{"alike", &dressing.SelvedgePlan{Turns: 9, MissesFromLeft: 4, MissesFromRight: 4}, false, "From either side one shuttle misses the edge at 4 of the draft's 9 turns: hang floating selvedges,"},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, s := towel()
			p := planOf(t, d, s, dressing.Options{})
			p.Selvedge = row.plan
			text := strings.ReplaceAll(string(Text(p, Options{End1Left: row.left})), "\n", " ")
			if !strings.Contains(text, row.want) || strings.Contains(text, "one shuttle") != (row.want != "") {
				t.Errorf("no %q in:\n%s", row.want, text)
			}
		})
	}
}

// What is woven is listed item by item where there is more than one thing.
func TestStretchesAreListed(t *testing.T) {
	for _, row := range []struct {
		name   string
		change func(*schema.Project)
		want   []string
	}{
		{"one item", func(*schema.Project) {}, nil},
		{"two", func(p *schema.Project) { p.Items = 2 }, []string{
			"  [ ]  item 1         240 cm   1680        240 cm        1680\n",
			"  [ ]  item 2         240 cm   1680        480 cm        3360\n"}},
		{"one with a hem, after a sample", func(p *schema.Project) { p.Hem, p.Sample = 40, 200 }, []string{
			"One item", "The sample comes first: wash it",
			"  [ ]  sample          20 cm    140         20 cm         140\n",
			"  [ ]  hem              2 cm     14         22 cm         154\n",
			"  [ ]  cloth          240 cm   1680        262 cm        1834\n",
			"  [ ]  hem              2 cm     14        264 cm        1848\n"}[1:]},
		{"a fringe", func(p *schema.Project) { p.Items, p.Fringe = 2, 120 }, []string{
			"Leave the fringes without picks, half at either end of an item,",
			"  [ ]  item 1, fringe    6 cm                6 cm\n",
			"  [ ]  item 1, cloth   240 cm   1680       246 cm        1680\n"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, s := towel()
			row.change(&s.Project)
			text := textOf(t, d, s, dressing.Options{}, Options{})
			for _, want := range row.want {
				if !strings.Contains(text, want) {
					t.Errorf("no %q in:\n%s", want, text)
				}
			}
			if strings.Contains(text, "in this order") != (len(row.want) > 0) {
				t.Errorf("listed, or not:\n%s", text)
			}
		})
	}
}

// Items that begin at different picks of the draft are not alike, and the sheet
// says how to have them so; a repeat too short to show is not told of.
func TestItemsAlike(t *testing.T) {
	for _, row := range []struct {
		name   string
		picks  int // of the draft, with one that differs
		items  int
		length measure.Length
		want   string
	}{
		{"not alike", 120, 3, 500, "so the items differ. To have them alike, state each item = restart"},
		{"alike, in whole repeats", 35, 3, 500, ""},
		{"a repeat that does not show", 3, 3, 500, ""},
		{"one item", 120, 1, 500, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, s := towel()
			d.Treadling = schema.Singles(slices.Repeat([]int32{1, 2}, row.picks)[:row.picks-1]...)
			d.Treadling.Append(4)
			s.Project.Items, s.Project.FinishedLength, s.Project.ContinueDraft = row.items, row.length, true
			text := strings.ReplaceAll(textOf(t, d, s, dressing.Options{}, Options{}), "\n", " ")
			if !strings.Contains(text, row.want) || strings.Contains(text, "each item = restart") != (row.want != "") {
				t.Errorf("no %q in:\n%s", row.want, text)
			}
		})
	}
}

// Each pass through the draft has a box, where they are not too many.
func TestPassesHaveBoxes(t *testing.T) {
	for _, row := range []struct {
		name  string
		picks int // of the draft
		want  string
	}{
		{"some", 700, "  [ ] 700   [ ] 1400  [ ] 1680\n"},
		{"whole ones", 840, "  [ ] 840   [ ] 1680\n"},
		{"not even one", 1680, ""},
		{"as many as there may be", 35, "[ ] 1645  [ ] 1680\n"},
		{"too many", 34, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, s := towel()
			d.Weft.Threads = row.picks
			text := textOf(t, d, s, dressing.Options{}, Options{})
			if !strings.Contains(text, row.want) || strings.Contains(text, "each pass through the draft") != (row.want != "") {
				t.Errorf("no %q in:\n%s", row.want, text)
			}
		})
	}
}
