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
func (l *layout) drawGrid(s surface, block, view rect) {
	seen := block.intersect(view)
	if seen.empty() {
		return
	}
	var fine, strong []line
	for x := seen.x; x <= seen.right(); x++ {
		if l.heavyAt(l.fromFirst(block, x, true)) {
			strong = append(strong, line{x, seen.y, 0, seen.h})
		} else {
			fine = append(fine, line{x, seen.y, 0, seen.h})
		}
	}
	for y := seen.y; y <= seen.bottom(); y++ {
		if l.heavyAt(l.fromFirst(block, y, false)) {
			strong = append(strong, line{seen.x, y, seen.w, 0})
		} else {
			fine = append(fine, line{seen.x, y, seen.w, 0})
		}
	}
	if l.mm >= minLineGap {
		s.lines(fine, hair())
	}
	if l.mm*float64(l.options.every()) >= minLineGap {
		s.lines(strong, heavy())
	}
	s.lines(frame(seen), heavy())
}

func (l *layout) heavyAt(threads int) bool { return threads%l.options.every() == 0 }

// fromFirst returns how many threads are between a line of a block and its first edge.
func (l *layout) fromFirst(block rect, at int, across bool) int {
	switch {
	case across && block.x == l.grid.x:
		if l.fromLeft() {
			return at - block.x
		}
		return block.right() - at
	case across:
		return at - block.x
	case block.y == l.grid.y && l.options.Pick1 == Top:
		return at - block.y
	}
	return block.bottom() - at
}

// drawNumbers writes numbers above the ends, right of the picks, left of the shafts, and
// above the treadles or the shafts of a lift plan. In small cells, the numbers of the first
// rows are lower than their rows, to leave room for the numbers above.
func (l *layout) drawNumbers(s surface, view rect) {
	size := numberType / l.mm
	above := float64(l.threading.y) - 0.7/l.mm
	l.eachNumbered(l.ends, true, func(n int) {
		l.writeNumber(s, view, label{x: float64(l.column(n)) + 0.5, y: above, anchor: atMiddle}, n)
	})
	head := above
	if l.planned {
		head = float64(l.lifts.y) - 0.7/l.mm
	}
	l.eachNumbered(l.treadles, true, func(n int) {
		l.writeNumber(s, view, label{x: float64(l.lifts.x+n) - 0.5, y: head, anchor: atMiddle}, n)
	})
	l.eachNumbered(l.shafts, false, func(n int) {
		l.writeNumber(s, view, label{x: float64(l.threading.x) - 0.7/l.mm, y: max(float64(l.shaftRow(n))+0.5+0.36*size, above+0.8*size), anchor: atEnd}, n)
	})
	l.eachNumbered(l.picks, false, func(n int) {
		y := max(float64(l.line(n))+0.5+0.36*size, float64(l.lifts.y)-0.7/l.mm+0.8*size)
		l.writeNumber(s, view, label{x: float64(l.lifts.right()) + 0.7/l.mm, y: y}, n)
	})
}

// writeNumber writes the number of a thread, if it is in view.
func (l *layout) writeNumber(s surface, view rect, at label, n int) {
	if at.x < float64(view.x) || at.x > float64(view.right()) || at.y < float64(view.y) || at.y > float64(view.bottom()) {
		return
	}
	at.size, at.color, at.words = numberType/l.mm, grey(), strconv.Itoa(n)
	s.text(at)
}

// eachNumbered calls do for the threads that get a number: as many as are legible, at round
// distances, and the first one if it has room.
func (l *layout) eachNumbered(threads int, across bool, do func(int)) {
	room := numberType * 1.15
	if across {
		room = l.textMM(strconv.Itoa(threads), numberType)*slack + 0.8
	}
	need := int(math.Ceil(room/l.mm - 1e-9))
	step := numberStep(need, l.options.every())
	if step == 1 || need < step {
		do(1)
	}
	for n := max(step, 2); n <= threads; n += step {
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
