package sheet

import (
	"fmt"
	"iter"
	"strconv"
	"strings"

	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/dressing"
)

// lifts is what each pick presses or lifts, in the blocks that repeat.
func (w *work) lifts(s *step) {
	l := liftsOf(w)
	if l == nil {
		return
	}
	s.say("%s", l.heading(w.shed(), signsIn(rowsOf(w.draft.Picks(), l.row))))
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

// within folds the picks of a long block that is repeated once more; it gives
// the parts of the block, none for a block that is not worth it.
func (l *lifter) within(b dressing.Block) []dressing.Block {
	if b.Times == 1 || b.To-b.From < mostInLine {
		return nil
	}
	picks := make([]string, 0, b.To-b.From+1)
	for pick := b.From; pick <= b.To; pick++ {
		picks = append(picks, fmt.Sprint(l.weft.ColorOf(pick), join(l.row(pick))))
	}
	list := dressing.Fold(kinds(picks))
	for i := range list {
		list[i].From += b.From - 1
		list[i].To += b.From - 1
	}
	return worthwhile(list)
}

// lifter tells the lifts of a draft's picks.
type lifter struct {
	row    func(pick int) []int32
	weft   *schema.System
	names  map[int]string // of the weft's colors; nil where there is only one
	word   string         // what the rows name
	shafts int            // how many columns a line of shafts has; 0: no columns
}

// mostColumns is how many shafts a line can have in columns of their own.
const mostColumns = 20

func liftsOf(w *work) *lifter {
	d := w.draft
	if d.Picks() == 0 {
		return nil
	}
	l := &lifter{row: d.Treadling.Row, weft: &d.Weft, word: "treadles"}
	if dressing.ByShaft(w.draft, w.setup) {
		l.row, l.word = cloth.Of(d).LiftOf, "shafts"
		if n := max(d.LiftPlan.Highest(), d.Tieup.Highest()); n <= mostColumns {
			l.shafts = n
		}
	}
	if len(w.plan.Weft.ByColor) > 1 {
		l.names = colorNames(w.plan.Weft.ByColor)
	}
	return l
}

// heading says what the lines hold, and explains the signs that stand in them.
func (l *lifter) heading(shed string, used signs) string {
	if l.word == "shafts" {
		return "The shafts of each pick. " + shed + used.explained("", " A - is a pick that moves none.")
	}
	return "The treadles of each pick, in order." +
		used.explained(" With a + between them they are pressed together.", " A - is a pick without a treadle.")
}

// signs are those that stand for more than one number, and for none.
type signs struct{ several, none bool }

// rowsOf goes through rows numbered from 1.
func rowsOf(n int, row func(int) []int32) iter.Seq[[]int32] {
	return func(yield func([]int32) bool) {
		for i := 1; i <= n && yield(row(i)); i++ {
		}
	}
}

func signsIn(rows iter.Seq[[]int32]) signs {
	var s signs
	for row := range rows {
		s.several, s.none = s.several || len(row) > 1, s.none || len(row) == 0
	}
	return s
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
		for to < b.To && l.weft.ColorOf(to+1) == l.weft.ColorOf(from) {
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
	color := l.names[l.weft.ColorOf(from)]
	if l.shafts > 0 {
		for pick := from; pick <= to; pick++ {
			t.add(box, strconv.Itoa(pick), color, columns(l.row(pick), l.shafts))
		}
		return
	}
	words := make([]string, 0, to-from+1)
	for pick := from; pick <= to; pick++ {
		words = append(words, join(l.row(pick)))
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
