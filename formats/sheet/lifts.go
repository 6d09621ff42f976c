package sheet

import (
	"fmt"
	"strconv"
	"strings"

	"fettle/schema/dressing"
)

// lifts is what each pick presses or lifts, in the blocks that repeat.
func (w *work) lifts(s *step) {
	l := liftsOf(w)
	if l == nil {
		return
	}
	s.say("%s", l.heading(w.shed()))
	for _, b := range worthwhile(blocksOf(w.plan.Lifts)) {
		inner := l.within(b)
		if len(inner) > 1 {
			s.say("%s, in these parts:", blockTitle(b))
		} else {
			inner = []dressing.Block{b}
		}
		for _, b := range inner {
			s.say("%s:", blockTitle(b))
			s.tabulate(l.block(b))
			s.tick(rounds(b))
		}
	}
}

func blocksOf(lifts []dressing.LiftBlock) []dressing.Block {
	list := make([]dressing.Block, len(lifts))
	for i, l := range lifts {
		list[i] = l.Block
	}
	return list
}

func blockTitle(b dressing.Block) string {
	title := "Picks " + span(b.From, b.To)
	if b.From == b.To {
		title = "Pick " + strconv.Itoa(b.From)
	}
	if b.Times > 1 {
		title += fmt.Sprintf(", %d times over, to pick %d", b.Times, lastPick(b))
	}
	return title
}

// mostRounds is how often a block can come and still have a box for each time.
const mostRounds = 120

// rounds are the picks that each time of a repeated block closes with.
func rounds(b dressing.Block) []string {
	if b.Times == 1 || b.Times > mostRounds {
		return nil
	}
	labels := make([]string, b.Times)
	for i := range labels {
		labels[i] = strconv.Itoa(b.From - 1 + (b.To-b.From+1)*(i+1))
	}
	return labels
}

func lastPick(b dressing.Block) int { return b.From + (b.To-b.From+1)*b.Times - 1 }

// worthwhile writes out blocks that are over in a line, so that the eye does
// not jump from title to title.
func worthwhile(blocks []dressing.Block) []dressing.Block {
	var list []dressing.Block
	for _, b := range blocks {
		if b.Times == 1 || lastPick(b)-b.From < mostInLine {
			b = dressing.Block{From: b.From, To: lastPick(b), Times: 1}
		}
		if n := len(list); n > 0 && b.Times == 1 && list[n-1].Times == 1 {
			list[n-1].To = b.To
		} else {
			list = append(list, b)
		}
	}
	return list
}

// within returns the parts of a long block that is repeated, none for a block that
// is not worth it.
func (l *lifter) within(b dressing.Block) []dressing.Block {
	if b.Times == 1 || b.To-b.From < mostInLine {
		return nil
	}
	return worthwhile(l.plan.PartsOf(b))
}

// lifter writes the lifts of a draft's picks.
type lifter struct {
	plan   *dressing.Plan
	names  map[int]string // of the weft's colors; nil where there is only one
	word   string         // what the rows name
	shafts int            // how many columns a line of shafts has; 0: no columns
}

// mostColumns is how many shafts a line can have in columns of their own.
const mostColumns = 20

func liftsOf(w *work) *lifter {
	if w.plan.DraftPicks == 0 {
		return nil
	}
	l := &lifter{plan: w.plan, word: "treadles"}
	if w.plan.ByShaft {
		l.word = "shafts"
		if n := w.plan.HighestShaft(); n <= mostColumns {
			l.shafts = n
		}
	}
	if len(w.plan.Weft.ByColor) > 1 {
		l.names = colorNames(w.plan.Weft.ByColor)
	}
	return l
}

// heading says what the lines hold, and explains the signs that are used in them.
func (l *lifter) heading(shed string) string {
	var used signs
	for pick := 1; pick <= l.plan.DraftPicks && !(used.several && used.none); pick++ {
		used.meet(l.plan.PickRow(pick))
	}
	if l.word == "shafts" {
		return "The shafts of each pick. " + shed + used.explained("", " A - is a pick that moves none.")
	}
	return "The treadles of each pick, in order." +
		used.explained(" With a + between them they are pressed together.", " A - is a pick without a treadle.")
}

// signs are those that stand for more than one number, and for none.
type signs struct{ several, none bool }

func (s *signs) meet(row []int32) {
	s.several, s.none = s.several || len(row) > 1, s.none || len(row) == 0
}

// explained is what there is to say of the signs that are used.
func (s signs) explained(several, none string) string {
	text := ""
	if s.several {
		text += several
	}
	if s.none {
		text += none
	}
	return text
}

// block sets out the picks of a block, those of one color together.
func (l *lifter) block(b dressing.Block) table {
	t := table{heads: []string{"", "picks", "weft", l.word}, right: []bool{false, true}, large: true, even: true, whole: l.shafts > 0}
	if l.shafts > 0 {
		t.heads[1] = "pick"
	}
	for from := b.From; from <= b.To; {
		to := from
		for to < b.To && l.plan.WeftColor(to+1) == l.plan.WeftColor(from) {
			to++
		}
		l.run(&t, from, to)
		from = to + 1
	}
	return t
}

// run sets out picks of one color: a line each where the shafts stand in
// columns, else in lines of several.
func (l *lifter) run(t *table, from, to int) {
	color := l.names[l.plan.WeftColor(from)]
	if l.shafts > 0 {
		for pick := from; pick <= to; pick++ {
			t.add(box, strconv.Itoa(pick), color, columns(l.plan.PickRow(pick), l.shafts))
		}
		return
	}
	words := make([]string, 0, to-from+1)
	for pick := from; pick <= to; pick++ {
		words = append(words, join(l.plan.PickRow(pick)))
	}
	lines, per := inLines(words)
	for i, line := range lines {
		t.add(box, span(from+i*per, min(from+(i+1)*per-1, to)), color, line)
	}
}

// columns sets out the shafts of a pick, each in its own column.
func columns(row []int32, shafts int) string {
	if len(row) == 0 {
		return "-"
	}
	width := len(strconv.Itoa(shafts))
	var b strings.Builder
	next := 0
	for shaft := 1; shaft <= shafts; shaft++ {
		mark := "."
		if next < len(row) && int(row[next]) == shaft {
			mark = strconv.Itoa(shaft)
			next++
		}
		fmt.Fprintf(&b, "%*s ", width, mark)
	}
	return strings.TrimRight(b.String(), " ")
}

// list is numbers with commas between.
func list(row []int32) string { return strings.ReplaceAll(join(row), "+", ", ") }
