package diagram

import "strconv"

// A drawing on several sheets has its numbers at its own edges. Each sheet repeats those of
// the threads, shafts and treadles that it shows, outside its part of the drawing.

// Measures of the numbers at the edges of a sheet in millimetres.
const (
	tickLong   = 2.0 // a mark where sheets meet
	edgeGap    = tickLong + 0.6
	edgeMargin = 5.0 // between the numbers and the edge of the paper
)

// joined returns the area of a block and of another in line with it.
func joined(b, other block) rect {
	if other.empty() || other.cell != b.cell {
		return b.rect
	}
	return union(b.rect, other.rect)
}

// inView returns the part of a block, or otherwise of the cloth, that a sheet shows. Cells of
// the cloth in line with the block count as its own.
func (l *layout) inView(b block, view rect) (of block, seen rect) {
	if seen = joined(b, l.grid).intersect(view); !seen.empty() {
		return b, seen
	}
	return l.grid, l.grid.intersect(view)
}

// edgeNumbers returns the numbers to repeat on a sheet: of those whose own place isn't on
// it.
func (l *layout) edgeNumbers(view rect) []label {
	var list []label
	for _, n := range l.numberings() {
		if n.empty() || n.along.intersect(view).empty() {
			continue
		}
		own, small := l.numberMM(n.block)/l.mm, l.numberType()/l.mm
		l.eachNumbered(n, func(i int) {
			t := n.at(i, own)
			t.size, t.words = own, strconv.Itoa(i)
			if l.whole(t, n.across, view) {
				return
			}
			if t, ok := l.atEdge(n.at(i, small), n.across, view); ok {
				t.size, t.color, t.words = small, grey(), strconv.Itoa(i)
				list = append(list, t)
			}
		})
	}
	return list
}

// whole reports whether a sheet shows a number uncut in its own place.
func (l *layout) whole(t label, across bool, view rect) bool {
	wide := l.textMM(t.words, t.size*l.mm) / l.mm
	switch {
	case across:
		return within(t.y-0.72*t.size, view.y, view.bottom()) && within(t.y, view.y, view.bottom())
	case t.anchor == atEnd:
		return within(t.x-wide, view.x, view.right()) && within(t.x, view.x, view.right())
	}
	return within(t.x, view.x, view.right()) && within(t.x+wide, view.x, view.right())
}

// atEdge moves a number to the edge of a sheet. ok is false if the sheet doesn't show its
// thread, or if a number beside the first row would reach those above the sheet.
func (l *layout) atEdge(t label, across bool, view rect) (moved label, ok bool) {
	gap := edgeGap / l.mm
	if across {
		moved, ok = t, within(t.x, view.x, view.right())
		moved.y = float64(view.y) - gap
		return moved, ok
	}
	ok = within(t.y, view.y, view.bottom()) && t.y-0.72*l.numberType()/l.mm > float64(view.y)-gap
	moved = t
	if moved.x = float64(view.right()) + gap; t.anchor == atEnd {
		moved.x = float64(view.x) - gap
	}
	return moved, ok
}

func within(at float64, from, to int) bool { return at >= float64(from) && at <= float64(to) }

// edgeRoom returns the room for the numbers at the edges of a sheet in millimetres.
func (l *layout) edgeRoom() (top, left, right float64) {
	for _, n := range l.numberings() {
		if n.empty() {
			continue
		}
		wide := l.textMM(strconv.Itoa(n.first+n.count-1), l.numberType()) + edgeGap
		switch {
		case n.across:
			top = edgeGap + l.numberType()
		case n.at(n.first, 0).anchor == atEnd:
			left = max(left, wide)
		default:
			right = max(right, wide)
		}
	}
	return top, left, right
}
