package dressing

import (
	"slices"

	"fettle/schema"
)

// Start is the place where threading starts.
type Start uint8

const (
	FromRight  Start = iota // at end 1
	FromLeft                // at the last end
	FromCentre              // at the centre: first the half to end 1, then the other
)

// Group is a set of ends that are threaded before they are checked, in threading order.
// From is higher than To if threading runs towards end 1.
type Group struct {
	From   int         `json:"from"`
	To     int         `json:"to"`
	Shafts [][]int32   `json:"shafts"` // by end; empty for an end on none
	Tally  map[int]int `json:"tally"`  // ends on each shaft
}

// usualGroup is the most ends in a group unless the weaver chooses another size.
const usualGroup = 12

// groups divides the whole warp into groups for threading. No group crosses the centre.
//
//   - No sizes, or 0: groups of at most 12 ends that begin at a block, a run or a turn
//     of the threading.
//   - One size: the same, with at most that many ends.
//   - Several sizes: groups of exactly these sizes and then of 12, in each half.
func (f *Figures) groups(sizes []int, start Start) []Group {
	w := f.Warp()
	if w.All == 0 {
		return nil
	}
	var list []Group
	for _, h := range halvesFrom(start, w) {
		ends := h.ends()
		if len(ends) == 0 {
			continue
		}
		at := 0
		for _, n := range f.groupSizes(ends, sizes) {
			list = append(list, group(f.Draft, w, ends[at:at+n]))
			at += n
		}
	}
	return list
}

// half holds the ends of half a warp in threading order.
type half struct{ from, to int }

func halvesFrom(start Start, w Warp) []half {
	first, second := half{1, w.firstHalf()}, half{w.firstHalf() + 1, w.All}
	switch start {
	case FromLeft:
		return []half{{second.to, second.from}, {first.to, 1}}
	case FromCentre:
		return []half{{first.to, 1}, second}
	}
	return []half{first, second}
}

func (h half) ends() []int {
	if h.from < 1 || h.to < 1 {
		return nil // a warp of one end has an empty first half
	}
	list := make([]int, 0, max(h.from, h.to)-min(h.from, h.to)+1)
	for end := min(h.from, h.to); end <= max(h.from, h.to); end++ {
		list = append(list, end)
	}
	if h.from > h.to {
		slices.Reverse(list)
	}
	return list
}

// groupSizes returns the number of these ends in each group.
func (f *Figures) groupSizes(ends, sizes []int) []int {
	if len(sizes) > 1 {
		return listedSizes(len(ends), sizes)
	}
	most := usualGroup
	if len(sizes) == 1 && sizes[0] > 0 {
		most = sizes[0]
	}
	most = min(most, len(ends))
	w := f.Warp()
	rows := make([][]int32, len(ends))
	for i, end := range ends {
		rows[i] = f.Draft.Threading.Row(w.DraftEnd(end))
	}
	return threadingOf(rows, most).groups()
}

func listedSizes(ends int, sizes []int) []int {
	var list []int
	for at := 0; at < ends; {
		n := usualGroup
		if len(list) < len(sizes) && sizes[len(list)] > 0 {
			n = sizes[len(list)]
		}
		n = min(n, ends-at)
		list = append(list, n)
		at += n
	}
	return list
}

// threading is a part of a warp to divide into groups.
type threading struct {
	rows [][]int32 // the shafts of each end
	kind []int32   // equal for ends on the same shafts
	most int       // the most ends in a group
}

func threadingOf(rows [][]int32, most int) *threading {
	return &threading{rows, numberThreads(len(rows), func(n int) (int, []int32) { return 0, rows[n-1] }), most}
}

// piece is a sequence of ends that stay in one group: a unit of a block, a run, or a part
// of a long one.
type piece struct {
	ends int
	cut  bool // the next piece begins a new group
}

// groups puts as many pieces into each group as fit.
func (t *threading) groups() []int {
	var list []int
	open := 0
	for _, p := range t.pieces() {
		if open > 0 && open+p.ends > t.most {
			list, open = append(list, open), 0
		}
		open += p.ends
		if p.cut {
			list, open = append(list, open), 0
		}
	}
	if open > 0 {
		list = append(list, open)
	}
	return list
}

// pieces divides the ends into pieces. Ends that repeat a unit form a block; the rest is
// divided at runs and turns.
func (t *threading) pieces() []piece {
	var list []piece
	loose := 0 // ends before this place that aren't in a block
	flush := func(upTo int) {
		list = append(list, t.runs(upTo-loose, upTo)...)
		loose = 0
	}
	for at := 0; at < len(t.rows); {
		unit, ends := t.blockAt(at)
		if unit == 0 {
			loose++
			at++
			continue
		}
		flush(at)
		if len(list) > 0 && t.apart(at) {
			list[len(list)-1].cut = true
		}
		list = append(list, t.block(at, unit, ends)...)
		at += ends
	}
	flush(len(t.rows))
	return list
}

// blockAt returns the unit that repeats at a place and the ends that it covers; 0
// for none. A block doesn't begin inside a run.
func (t *threading) blockAt(at int) (unit, ends int) {
	if at > 0 && t.begins(at) == nothingBegins && !t.apart(at) {
		return 0, 0
	}
	rest := t.kind[at:]
	for p := 1; p <= min(t.most, longestBlock) && 2*p <= len(rest); p++ {
		n := p
		for n < len(rest) && rest[n] == rest[n-p] {
			n++
		}
		if n < len(rest) && p > 2 && !t.apart(at+n) {
			n -= n % p // an incomplete unit belongs to what follows
		}
		if n >= 2*p && n > ends {
			unit, ends = p, n
		}
	}
	return unit, ends
}

// block divides a block into its units. A block on other shafts than its neighbours gets
// its own groups, of equal size if it divides evenly.
func (t *threading) block(at, unit, ends int) []piece {
	var list []piece
	if t.apart(at) || t.apart(at+ends) {
		return t.evenly(unit, ends)
	}
	head := t.phase(at, unit)
	if head > 0 {
		list = append(list, piece{ends: head})
	}
	for n := head; n < ends; n += unit {
		list = append(list, piece{ends: min(unit, ends-n)})
	}
	return list
}

// apart reports whether the four ends on each side of a place are on different shafts.
func (t *threading) apart(at int) bool {
	const near = 4
	if at < near || at > len(t.rows)-near {
		return false
	}
	before := slices.Concat(t.rows[at-near : at]...)
	after := slices.Concat(t.rows[at : at+near]...)
	return !slices.ContainsFunc(before, func(shaft int32) bool { return slices.Contains(after, shaft) })
}

// evenly divides a block into equal groups of whole units, at least half as large as the
// largest. If there are none, the groups differ by at most one end.
func (t *threading) evenly(unit, ends int) []piece {
	most := t.most / unit * unit
	for each := most; each*2 > most && ends > each; each -= unit {
		if ends%each == 0 {
			return slices.Repeat([]piece{{each, true}}, ends/each)
		}
	}
	return inParts(ends, t.most, true)
}

// inParts divides some ends into as few pieces as possible, as equal as possible.
func inParts(ends, most int, cut bool) []piece {
	parts := (ends + most - 1) / most
	list := make([]piece, parts)
	for i := range list {
		list[i] = piece{ends*(i+1)/parts - ends*i/parts, cut}
	}
	return list
}

// phase returns how many ends of a block come before its longest run. Only the first end
// can be inside a run; the end one unit later is threaded like it.
func (t *threading) phase(at, unit int) int {
	if at > 0 {
		return 0
	}
	best, longest := 0, 0
	for n := range unit {
		if t.begins(n+unit) == nothingBegins {
			continue
		}
		run := 1
		for run < unit && t.begins(n+unit+run) == nothingBegins && n+unit+run < len(t.rows) {
			run++
		}
		if run > longest {
			best, longest = n, run
		}
	}
	return best
}

// beginning says what begins at an end: a run, a turn or nothing.
type beginning uint8

const (
	nothingBegins beginning = iota
	turnBegins              // the threading changes direction here
	runBegins               // its shaft isn't next to that of the end before
)

func (t *threading) begins(at int) beginning {
	if at == 0 || at >= len(t.rows) {
		return nothingBegins
	}
	step := t.step(at)
	switch {
	case step == 0:
		return runBegins
	case at+1 < len(t.rows) && t.step(at+1) == -step:
		return turnBegins
	}
	return nothingBegins
}

// step returns 1 or -1 if an end is on the next shaft up or down from the end before,
// otherwise 0.
func (t *threading) step(at int) int {
	a, b := t.rows[at-1], t.rows[at]
	if len(a) != 1 || len(b) != 1 {
		return 0
	}
	if by := int(b[0]) - int(a[0]); by == 1 || by == -1 {
		return by
	}
	return 0
}

// runs divides ends without a repeat at their runs and turns, and long runs evenly.
func (t *threading) runs(from, to int) []piece {
	var list []piece
	for from < to {
		next := from + 1
		for next < to && t.begins(next) == nothingBegins {
			next++
		}
		list = append(list, inParts(next-from, t.most, false)...)
		from = next
	}
	return list
}

func group(d *schema.Draft, w Warp, ends []int) Group {
	g := Group{ends[0], ends[len(ends)-1], make([][]int32, 0, len(ends)), map[int]int{}}
	for _, end := range ends {
		row := d.Threading.Row(w.DraftEnd(end))
		if row == nil {
			row = []int32{}
		}
		g.Shafts = append(g.Shafts, row)
		for _, shaft := range row {
			g.Tally[int(shaft)]++
		}
	}
	return g
}
