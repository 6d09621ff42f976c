package diagram

import (
	"math"
	"strconv"
)

// minLineGap is the least distance of lines between threads, in millimetres. Closer lines
// are left out.
const minLineGap = 0.6

// drawGrid draws the lines of a block: a fine line between threads, a heavier one every few
// threads, and a frame. It counts from end 1, pick 1, shaft 1 and treadle 1.
func (l *layout) drawGrid(s surface, b block, view rect) {
	seen := b.intersect(view)
	if seen.empty() {
		return
	}
	var fine, strong []line
	for x := edgeFrom(seen.x, b.x, b.cell); x <= seen.right(); x += b.cell {
		if l.heavyAt(l.threadsAcross(b, x)) {
			strong = append(strong, line{x, seen.y, 0, seen.h})
		} else {
			fine = append(fine, line{x, seen.y, 0, seen.h})
		}
	}
	for y := edgeFrom(seen.y, b.y, b.cell); y <= seen.bottom(); y += b.cell {
		if l.heavyAt(l.threadsDown(b, y)) {
			strong = append(strong, line{seen.x, y, seen.w, 0})
		} else {
			fine = append(fine, line{seen.x, y, seen.w, 0})
		}
	}
	thread := l.mm * float64(b.cell)
	if thread >= minLineGap {
		s.lines(fine, hair())
	}
	if thread*float64(l.options.every()) >= minLineGap {
		s.lines(strong, heavy())
	}
	s.lines(frame(seen), heavy())
}

// edgeFrom returns the first edge of a cell at or after a place; edges start at origin.
func edgeFrom(at, origin, cell int) int { return origin + (at-origin+cell-1)/cell*cell }

func (l *layout) heavyAt(threads int) bool { return threads%l.options.every() == 0 }

// threadsAcross returns how many ends, treadles or shafts are before a vertical line of a
// block, counted from the first of the draft.
func (l *layout) threadsAcross(b block, x int) int {
	switch {
	case b != l.grid && b != l.threading:
		return (x - b.x) / b.cell
	case l.fromLeft():
		return l.firstEnd - 1 + (x-b.x)/b.cell
	}
	return l.firstEnd - 1 + (b.right()-x)/b.cell
}

// threadsDown returns how many picks or shafts are before a horizontal line of a block.
func (l *layout) threadsDown(b block, y int) int {
	switch {
	case b != l.grid && b != l.lifts:
		return (b.bottom() - y) / b.cell
	case l.options.Pick1 == Top:
		return l.firstPick - 1 + (y-b.y)/b.cell
	}
	return l.firstPick - 1 + (b.bottom()-y)/b.cell
}

// numbering is the numbers along one side of a block.
type numbering struct {
	block
	along        rect // all that is in line with the numbers
	first, count int
	across       bool
	at           func(n int, size float64) label
}

// drawNumbers writes numbers above the ends, right of the picks, left of the shafts, and
// above the treadles or the shafts of a lift plan. In small cells, the numbers of the first
// rows are lower than their rows, to leave room for the numbers above.
func (l *layout) drawNumbers(s surface, view rect) {
	for _, n := range l.numberings() {
		if !n.empty() {
			l.drawNumbering(s, view, n)
		}
	}
}

// numberings returns the numbers of all blocks.
func (l *layout) numberings() []numbering {
	gap := 0.7 / l.mm
	ends := l.warpOwner()
	above := ends
	if ends == l.grid {
		above.y = l.warpBar.y
		if !l.sley.empty() {
			above.y = l.sley.y
		}
	}
	list := []numbering{l.endNumbers(ends, joined(ends, l.grid), float64(above.y)-gap)}
	if l.numbersApart(l.grid, l.threading) && ends != l.grid {
		list = append(list, l.endNumbers(l.grid, l.grid.rect, float64(l.grid.y)-gap))
	}
	if l.liftsNumbered() {
		list = append(list, l.treadleNumbers(l.tieup, l.tieup.rect, l.tied), l.treadleNumbers(l.lifts, l.lifts.rect, l.treadles))
	} else {
		list = append(list, l.treadleNumbers(l.tieup, joined(l.tieup, l.lifts), l.tied))
	}
	left := func(b block) func(y float64) label {
		return func(y float64) label { return label{x: float64(b.x) - gap, y: y, anchor: atEnd} }
	}
	right := func(x int) func(y float64) label {
		return func(y float64) label { return label{x: float64(x) + gap, y: y} }
	}
	list = append(list, l.shaftNumbers(l.threading, joined(l.threading, l.tieup), left(l.threading)))
	if l.numbersApart(l.tieup, l.threading) {
		list = append(list, l.shaftNumbers(l.tieup, l.tieup.rect, right(l.tieup.right())))
	}
	if !l.lifts.empty() && !l.grid.empty() && l.grid.cell != l.lifts.cell {
		list = append(list, l.pickNumbers(l.grid, l.grid.rect, left(l.grid)))
	}
	return append(list, l.pickNumbers(l.weftOwner(), joined(l.weftOwner(), l.grid), right(l.picksRight())))
}

func (l *layout) endNumbers(b block, along rect, above float64) numbering {
	return numbering{b, along, l.firstEnd, l.ends, true, func(n int, _ float64) label {
		return label{x: float64(l.endX(b, n)) + float64(b.cell)/2, y: above, anchor: atMiddle}
	}}
}

func (l *layout) treadleNumbers(b block, along rect, count int) numbering {
	return numbering{b, along, 1, count, true, func(n int, _ float64) label {
		return label{x: float64(b.columnX(n)) + float64(b.cell)/2, y: float64(b.y) - 0.7/l.mm, anchor: atMiddle}
	}}
}

func (l *layout) shaftNumbers(b block, along rect, beside func(y float64) label) numbering {
	return numbering{b, along, 1, l.shafts, false, func(n int, size float64) label {
		return beside(l.lowered(b, float64(b.shaftY(n)), size))
	}}
}

func (l *layout) pickNumbers(b block, along rect, beside func(y float64) label) numbering {
	return numbering{b, along, l.firstPick, l.picks, false, func(n int, size float64) label {
		return beside(l.lowered(b, float64(l.pickY(b, n)), size))
	}}
}

// lowered returns the base line of a number beside a row, below the numbers above the block.
func (l *layout) lowered(b block, top, size float64) float64 {
	return max(top+float64(b.cell)/2+0.36*size, float64(b.y)-0.7/l.mm+0.8*size)
}

// drawNumbering writes the numbers along one side of a block that are in view.
func (l *layout) drawNumbering(s surface, view rect, n numbering) {
	size := l.numberMM(n.block) / l.mm
	l.eachNumbered(n, func(i int) {
		t := n.at(i, size)
		t.size, t.color, t.words = size, grey(), strconv.Itoa(i)
		l.write(s, view, t)
	})
}

// eachNumbered calls do for the threads that get a number: as many as are legible, at round
// distances, and the first one if it has room.
func (l *layout) eachNumbered(b numbering, do func(int)) {
	last, size := b.first+b.count-1, l.numberMM(b.block)
	room := size * 1.15
	if b.across {
		room = l.textMM(strconv.Itoa(last), size)*slack + 0.8
	}
	need := int(math.Ceil(room/(l.mm*float64(b.cell)) - 1e-9))
	step := numberStep(need, l.options.every())
	next := max((b.first+step-1)/step*step, 2)
	if next == b.first {
		next += step
		do(b.first)
	} else if step == 1 || next-b.first >= need {
		do(b.first)
	}
	for n := next; n <= last; n += step {
		do(n)
	}
}

// numberStep returns the smallest round step of at least need cells: 1, or 1, 2 or 5 times a
// power of ten times every.
func numberStep(need, every int) int {
	if need <= 1 {
		return 1
	}
	for by := every; ; by *= 10 {
		for _, times := range []int{1, 2, 5} {
			if by*times >= need {
				return by * times
			}
		}
	}
}
