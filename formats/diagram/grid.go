package diagram

import (
	"math"
	"strconv"
)

// Lines between threads are left out where they would be closer than this, in
// millimetres.
const closest = 0.6

// drawGrid draws the lines of a block: a fine one between each two threads, a
// heavier one every few, and one round it. Lines are counted from end 1, pick
// 1, shaft 1 and treadle 1.
func (l *layout) drawGrid(s surface, block, view rect) {
	seen := block.cut(view)
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
	if l.mm >= closest {
		s.lines(fine, hair())
	}
	if l.mm*float64(l.o.every()) >= closest {
		s.lines(strong, heavy())
	}
	s.lines(frame(seen), heavy())
}

func (l *layout) heavyAt(threads int) bool { return threads%l.o.every() == 0 }

// fromFirst is how many threads lie between a line of a block and the edge that
// the first of them is at.
func (l *layout) fromFirst(block rect, at int, across bool) int {
	switch {
	case across && block.x == l.grid.x:
		if l.fromLeft() {
			return at - block.x
		}
		return block.right() - at
	case across:
		return at - block.x
	case block.y == l.grid.y && l.o.Pick1 == Top:
		return at - block.y
	}
	return block.bottom() - at
}

// drawNumbers numbers ends above the threading, picks right of their lifts,
// shafts left of the threading, and treadles above the tie-up or, with a lift
// plan, shafts above it.
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
		l.writeNumber(s, view, label{x: float64(l.threading.x) - 0.7/l.mm, y: float64(l.shaftRow(n)) + 0.5 + 0.36*size, anchor: atEnd}, n)
	})
	l.eachNumbered(l.picks, false, func(n int) {
		l.writeNumber(s, view, label{x: float64(l.lifts.right()) + 0.7/l.mm, y: float64(l.line(n)) + 0.5 + 0.36*size}, n)
	})
}

// writeNumber writes the number of a thread, unless it lies out of view.
func (l *layout) writeNumber(s surface, view rect, at label, n int) {
	if at.x < float64(view.x) || at.x > float64(view.right()) || at.y < float64(view.y) || at.y > float64(view.bottom()) {
		return
	}
	at.size, at.color, at.words = numberType/l.mm, grey(), strconv.Itoa(n)
	s.text(at)
}

// eachNumbered goes through those of so many threads that are numbered: as many as
// can be read, at round distances, and the first if it is clear of the rest.
func (l *layout) eachNumbered(threads int, across bool, do func(int)) {
	room := numberType * 1.15
	if across {
		room = l.textMM(strconv.Itoa(threads), numberType)*slack + 0.8
	}
	need := int(math.Ceil(room/l.mm - 1e-9))
	step := stepOver(need, l.o.every())
	if step == 1 || need < step {
		do(1)
	}
	for n := max(step, 2); n <= threads; n += step {
		do(n)
	}
}

// stepOver is the smallest round distance of numbers that need so many cells:
// every thread, or 1, 2 or 5 times a power of ten times the heavier lines'.
func stepOver(need, every int) int {
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
