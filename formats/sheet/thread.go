package sheet

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"fettle/schema/dressing"
	"fettle/schema/wording"
)

// thread lists the threading in groups.
func (w *work) thread() step {
	s := step{id: "thread", title: "Thread the heddles"}
	w.faulty(&s, dressing.Thread)
	s.say("%s Count each group against its tally before you knot it.", w.reading())
	w.groups(&s)
	s.say("%s", w.tally())
	return s
}

// heddles lists the heddles to count out.
func (w *work) heddles() step {
	s := step{id: "heddles", title: "Count the heddles"}
	w.lacking(&s, dressing.Thread)
	w.moves(&s)
	first, second := w.sides()
	t := table{
		heads: []string{"shaft", "heddles", first + " half", second + " half", "there", "aside", "short", "out at end"},
		right: []bool{true, true, true, true, true, true, true, true},
	}
	aside := false
	for _, h := range w.plan.Heddles {
		unused := ""
		if h.PushAside != nil {
			aside, unused = true, fmt.Sprintf("%d + %d", h.PushAside.Right, h.PushAside.Left)
		}
		t.add(strconv.Itoa(h.Shaft), strconv.Itoa(h.Needed), strconv.Itoa(h.FirstHalf), strconv.Itoa(h.SecondHalf),
			whole(h.Available), unused, none(int(h.Short.Value)), none(h.RunsOut))
	}
	switch {
	case aside:
		const keep = "Keep the heddles of each half at the middle of the shaft, and push the others aside."
		s.say("%s The table gives how many to the %s + to the %s.", keep, first, second)
		s.insteadAtLoom(keep)
	case len(t.rows) > 0:
		s.say("Keep the heddles of each half at the middle of the shaft, and push any others aside.")
	}
	s.tabulate(t)
	if keys := w.wanting("[heddles] each"); keys != "" {
		s.say("To check whether you have enough heddles, state %s.", keys)
	}
	if slices.ContainsFunc(w.plan.Heddles, func(h dressing.HeddleRow) bool { return h.RunsOut > 0 }) {
		s.say("The last column is the end at which a shaft runs out, counted from end 1.")
		s.insteadAtLoom("")
	}
	return s
}

// moves says which heddles to move if a shaft lacks some and others have spares.
func (w *work) moves(s *step) {
	var words []string
	for _, m := range w.plan.HeddleMoves[:min(len(w.plan.HeddleMoves), mostNamed)] {
		words = append(words, fmt.Sprintf("%d from shaft %d to shaft %d", m.Count, m.From, m.To))
	}
	if more := len(w.plan.HeddleMoves) - mostNamed; more > 0 {
		words = append(words, fmt.Sprintf("and so on for %s", wording.Counted(more, "more move")))
	}
	if len(words) == 0 {
		return
	}
	text := "Move heddles before you wind: " + strings.Join(words, ", ") + "."
	if missing := w.stillMissing(); missing > 0 {
		text += " " + capital(wording.Counted(missing, "heddle")) + " are missing even so."
	}
	s.say("%s", text)
}

// stillMissing returns how many heddles are missing after the moves.
func (w *work) stillMissing() int {
	missing := 0
	for _, h := range w.plan.Heddles {
		missing += int(h.Short.Value)
	}
	for _, m := range w.plan.HeddleMoves {
		missing -= m.Count
	}
	return missing
}

// reading says where to begin and how to read a line.
func (w *work) reading() string {
	first, second := w.sides()
	where := ""
	switch w.plan.Start {
	case dressing.FromLeft:
		where = fmt.Sprintf("Begin at the %s edge, with the last end.", second)
	case dressing.FromCentre:
		where = fmt.Sprintf("Begin at the centre and thread to the %s edge, then from the centre to the %s.", first, second)
	default:
		where = fmt.Sprintf("Begin at the %s edge, with end 1.", first)
	}
	var used signs
	for _, g := range w.plan.Groups {
		for _, row := range g.Shafts {
			used.meet(row)
		}
	}
	return where + " Read each line from left to right, in threading order. Numbers are shafts." +
		used.explained(" Where shafts have a + between them, the end goes through a heddle on each.", " A - marks an end without a heddle.")
}

// groups lists the groups of each half under a heading. Equal short groups in succession
// share a line, with a box for each.
func (w *work) groups(s *step) {
	list := w.plan.Groups
	for len(list) > 0 {
		n := 1
		for n < len(list) && w.inFirst(list[n]) == w.inFirst(list[0]) {
			n++
		}
		s.say("%s", w.halfTitle(list[:n]))
		w.someGroups(s, list[:n])
		list = list[n:]
	}
}

// inFirst reports whether a group is in the half that has end 1.
func (w *work) inFirst(g dressing.Group) bool { return g.To <= w.plan.Warp.Half }

// halfTitle names a half of the warp, its ends, and the direction of threading.
func (w *work) halfTitle(list []dressing.Group) string {
	first, second := w.sides()
	side := second
	if w.inFirst(list[0]) {
		side = first
	}
	from, to := list[0].From, list[len(list)-1].To
	way := "from the centre to the " + side + " edge"
	if (to > from) == w.inFirst(list[0]) {
		way = "from the " + side + " edge to the centre"
	}
	return fmt.Sprintf("%s half, ends %s, %s:", capital(side), span(from, to), way)
}

func (w *work) someGroups(s *step, list []dressing.Group) {
	t := groupTable()
	for at := 0; at < len(list); {
		n := likeAt(list, at)
		if n == 1 {
			addGroup(&t, &list[at])
		} else {
			addLike(&t, list[at:at+n])
			s.tabulate(t)
			s.tick(lastEnds(list[at : at+n]))
			t = groupTable()
		}
		at += n
	}
	s.tabulate(t)
}

// likeAt returns how many groups from here on are alike and fit on a line.
func likeAt(list []dressing.Group, at int) int {
	rest := list[at:]
	step := func(i int) int { return rest[i].From - rest[i-1].From }
	n := 1
	for len(rest[0].Shafts) <= mostInLine && n < len(rest) && step(n) == step(1) && alike(&rest[n-1], &rest[n]) {
		n++
	}
	return n
}

// alike reports whether a group directly follows another on the same shafts.
func alike(a, b *dressing.Group) bool {
	apart := b.From - a.To
	return (apart == 1 || apart == -1) && b.To-b.From == a.To-a.From &&
		slices.EqualFunc(a.Shafts, b.Shafts, slices.Equal[[]int32])
}

func groupTable() table {
	return table{heads: []string{"", "ends", "shafts in order, and how many heddles on each"}, right: []bool{true, true}, large: true, even: true}
}

func lastEnds(list []dressing.Group) []string {
	labels := make([]string, len(list))
	for i, g := range list {
		labels[i] = strconv.Itoa(g.To)
	}
	return labels
}

// mostBeforeTally is the most ends you thread before a tally.
const mostBeforeTally = 30

// addGroup adds a group, with a box for each line and a tally after at most 30 ends.
func addGroup(t *table, g *dressing.Group) {
	lines, per := inLines(words(g.Shafts))
	counted := 0 // ends counted in tallies so far
	for i, line := range lines {
		to := min((i+1)*per, len(g.Shafts))
		t.add(box, lineSpan(g, i*per, to-1), line)
		if to == len(g.Shafts) || to-counted+per > mostBeforeTally {
			t.add("", "", "= "+tallyText(tallyOf(g.Shafts[counted:to])))
			counted = to
		}
	}
}

func tallyOf(shafts [][]int32) map[int]int {
	tally := map[int]int{}
	for _, row := range shafts {
		for _, shaft := range row {
			tally[int(shaft)]++
		}
	}
	return tally
}

// addLike adds one line for several equal groups.
func addLike(t *table, list []dressing.Group) {
	lines, _ := inLines(words(list[0].Shafts))
	t.add(fmt.Sprintf("%d x", len(list)), span(list[0].From, list[len(list)-1].To), strings.Join(lines, "\n"))
	t.add("", "", "= "+tallyText(list[0].Tally))
}

// lineSpan writes the ends of a part of a group. The part is counted from 0 within the
// group.
func lineSpan(g *dressing.Group, from, to int) string {
	if g.To < g.From {
		return span(g.From-from, g.From-to)
	}
	return span(g.From+from, g.From+to)
}

func words(shafts [][]int32) []string {
	list := make([]string, len(shafts))
	for i, row := range shafts {
		list[i] = join(row)
	}
	return list
}

// tallyText writes a tally. Neighbouring shafts with equal numbers of heddles are named
// together.
func tallyText(tally map[int]int) string {
	shafts := slices.Sorted(maps.Keys(tally))
	if len(shafts) == 0 {
		return "no heddle"
	}
	var parts []string
	for at := 0; at < len(shafts); {
		n := 1
		for at+n < len(shafts) && shafts[at+n] == shafts[at]+n && tally[shafts[at+n]] == tally[shafts[at]] {
			n++
		}
		each := ""
		if n > 1 {
			each = " each"
		}
		parts = append(parts, fmt.Sprintf("%d%s on %s", tally[shafts[at]], each, span(shafts[at], shafts[at+n-1])))
		at += n
	}
	return strings.Join(parts, ", ")
}

// tally adds up the groups, to compare with the heddles counted out.
func (w *work) tally() string {
	tally := map[int]int{}
	sum := 0
	for _, h := range w.plan.Heddles {
		tally[h.Shaft] = h.Needed
		sum += h.Needed
	}
	return fmt.Sprintf("The whole warp: %s. In all %s, as counted out.", tallyText(tally), counted(sum, "heddle"))
}

// lineRoom is the widest line of shafts or treadles that fits on a printed page in
// 14-point type. mostInLine is how many numbers it holds.
const lineRoom, mostInLine = 46, 12

// inLines puts words in lines of twelve, or of eight or four if they are wide, with a gap
// after every fourth. per is the number in a line.
func inLines(words []string) (lines []string, per int) {
	width := 0
	for _, word := range words {
		width = max(width, len(word))
	}
	per = mostInLine
	for per > 4 && per*(width+1)+per/4*2 > lineRoom {
		per -= 4
	}
	for some := range slices.Chunk(words, per) {
		lines = append(lines, inFours(some, width))
	}
	return lines, per
}

// inFours writes words of this width on a line, with a gap after every fourth.
func inFours(words []string, width int) string {
	var b strings.Builder
	for i, word := range words {
		switch {
		case i > 0 && i%4 == 0:
			b.WriteString(piecesApart)
		case i > 0:
			b.WriteString(" ")
		}
		fmt.Fprintf(&b, "%*s", width, word)
	}
	return b.String()
}
