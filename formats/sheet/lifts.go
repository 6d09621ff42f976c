package sheet

import (
	"fmt"
	"strconv"
	"strings"

	"fettle/schema/dressing"
	"fettle/schema/wording"
)

// lifts lists what each pick presses or lifts, in the blocks that repeat.
func (w *work) lifts(s *step) {
	l := liftsOf(w)
	if l == nil {
		return
	}
	s.introduce("%s", l.heading(w.shed()))
	atLoom := ""
	if l.word == "shafts" {
		atLoom = w.shed()
	}
	s.insteadAtLoom(atLoom)
	for _, b := range worthwhile(blocksOf(w.plan.Lifts)) {
		inner := l.within(b)
		if len(inner) > 1 {
			s.introduce("%s, in these parts:", blockTitle(b))
			for _, part := range inner {
				s.say("%s:", blockTitle(part))
				s.tabulate(l.block(part))
				s.tickRounds(part, b)
			}
			s.say("Each repeat of picks %s ends at pick:", span(b.From, b.To))
			s.tickRounds(b, once(b))
			continue
		}
		s.say("%s:", blockTitle(b))
		s.tabulate(l.block(b))
		s.tickRounds(b, once(b))
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

// once returns a block without its repeats.
func once(b dressing.Block) dressing.Block { return dressing.Block{From: b.From, To: b.To, Times: 1} }

// mostRounds limits the boxes for the repeats of a block. If there are more repeats,
// several share a box.
const mostRounds = 120

// tickRounds adds boxes for the repeats of a block.
func (s *step) tickRounds(b, around dressing.Block) {
	labels, each := rounds(b, around)
	if each > 1 {
		s.say("A box for every %d times:", each)
	}
	s.tick(labels)
}

// rounds returns the last pick of each repeat of a block, for each repeat of the block
// around it. If there are too many repeats, it returns every so many and the last.
func rounds(b, around dressing.Block) (labels []string, each int) {
	all := b.Times * around.Times
	if all == 1 {
		return nil, 1
	}
	each = perBox(all, mostRounds)
	for n := each; n < all+each; n += each {
		i := min(n, all) - 1 // the repeat, from 0
		before := b.From - 1 + (around.To-around.From+1)*(i/b.Times)
		labels = append(labels, strconv.Itoa(before+(b.To-b.From+1)*(i%b.Times+1)))
	}
	return labels, each
}

// perBox returns how many things share a box if there are at most so many boxes: 1, 2, 5,
// 10, 20 and so on.
func perBox(things, most int) int {
	for tens := 1; ; tens *= 10 {
		for _, n := range []int{tens, 2 * tens, 5 * tens} {
			if (things-1)/n < most {
				return n
			}
		}
	}
}

func lastPick(b dressing.Block) int { return b.From + (b.To-b.From+1)*b.Times - 1 }

// worthwhile writes short repeated blocks out in full, so there are fewer titles to read.
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

// within returns the parts of a long repeated block, nil for a block too short to divide.
func (l *lifter) within(b dressing.Block) []dressing.Block {
	if b.Times == 1 || b.To-b.From < mostInLine {
		return nil
	}
	return worthwhile(l.plan.Figures.PartsOf(b))
}

// lifter writes the lifts of a draft's picks.
type lifter struct {
	plan    *dressing.Plan
	names   map[int]string // names of the weft's colors; nil if there is only one
	word    string         // what the numbers mean: shafts or treadles
	columns int            // number of shafts or treadles with a column each; 0 lists them instead
}

// mostColumns is the most shafts or treadles that get a column each.
const mostColumns = 24

// mostBesideWeft is the most columns that leave room for the weft on the same line.
// Otherwise the weft goes on its own line above.
const mostBesideWeft = 16

// change marks a change of shuttle.
const change = "> "

func liftsOf(w *work) *lifter {
	if w.plan.DraftPicks == 0 {
		return nil
	}
	l := &lifter{plan: w.plan, word: "treadles"}
	if w.plan.ByShaft {
		l.word = "shafts"
	}
	if n := w.plan.Figures.HighestInRows(); n <= mostColumns {
		l.columns = n
	}
	if len(w.plan.Weft.ByColor) > 1 {
		l.names = colorNames(w.plan.Weft.ByColor)
	}
	return l
}

// heading says what the lines show and explains their signs.
func (l *lifter) heading(shed string) string {
	var used signs
	for pick := 1; pick <= l.plan.DraftPicks && !(used.several && used.none); pick++ {
		used.meet(l.plan.Figures.PickRow(pick))
	}
	shuttles := ""
	if l.names != nil {
		shuttles = " A > marks a change of shuttle."
	}
	if l.word == "shafts" {
		return "The shafts of each pick. " + shed + used.explained("", " A - marks a pick that moves no shaft.") + shuttles
	}
	return "The treadles of each pick, in order." +
		used.explained(" Press several on a line together.", " A - marks a pick without a treadle.") + shuttles
}

// These signs stand for several numbers, and for none.
type signs struct{ several, none bool }

func (s *signs) meet(row []int32) {
	s.several, s.none = s.several || len(row) > 1, s.none || len(row) == 0
}

// explained returns explanations of the signs in use.
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

// block lists the picks of a block, a line each.
func (l *lifter) block(b dressing.Block) table {
	t := table{heads: []string{"", "pick", "weft", l.word}, right: []bool{false, true}, large: true, even: true, whole: l.columns > 0}
	for pick := b.From; pick <= b.To; pick++ {
		row := join(l.plan.Figures.PickRow(pick))
		if l.columns > 0 {
			row = columns(l.plan.Figures.PickRow(pick), l.columns)
		}
		weft := l.weft(pick)
		if l.columns > mostBesideWeft {
			if strings.HasPrefix(weft, change) || weft != "" && pick == b.From {
				t.add(strings.TrimSpace(change), "", "", strings.TrimPrefix(weft, change))
			}
			weft = ""
		}
		t.add(box, strconv.Itoa(pick), weft, row)
	}
	return t
}

// weft names the color of a pick. A sign marks the first pick with another shuttle, so
// that the change can be seen without color.
func (l *lifter) weft(pick int) string {
	color := l.plan.Figures.Draft.Weft.ColorOf(pick)
	name := l.names[color]
	if name != "" && (pick == 1 || l.plan.Figures.Draft.Weft.ColorOf(pick-1) != color) {
		return change + name
	}
	return name
}

// columns writes the shafts or treadles of a pick, each in its own column.
func columns(row []int32, most int) string {
	if len(row) == 0 {
		return "-"
	}
	var b strings.Builder
	next := 0
	for n := 1; n <= most; n++ {
		number := strconv.Itoa(n)
		mark := "."
		if next < len(row) && int(row[next]) == n {
			mark = number
			next++
		}
		fmt.Fprintf(&b, "%*s ", len(number), mark)
	}
	return strings.TrimRight(b.String(), " ")
}

// list writes numbers with commas.
func list(row []int32) string { return wording.JoinNumbers(row, ", ", "-") }
