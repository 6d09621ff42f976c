package diagram

import (
	"fmt"
	"image/color"
)

// A threading without the other parts is drawn in several lines on a page if one line would
// have small cells, and a treadling or a lift plan in several columns. Each is a layout of its
// own, of some of the threads.

// strip is a line of a threading or a column of a treadling, and its place in the drawing in
// cells.
type strip struct {
	*layout
	x, y int
}

// Sizes of cells in lines and columns, in millimetres; larger in large type.
const (
	plentyInLine = 4.0 // cells of this size need no second one
	mostInLines  = 6.0
	leastInLines = 2.5 // smaller ones take several pages
)

// inLines reports whether the drawing may have several lines.
func (l *layout) inLines() bool { return l.options.Parts == PartThreading }

// inColumns reports whether the drawing may have several columns.
func (l *layout) inColumns() bool { return l.options.Parts == PartTreadling }

// inStrips reports whether the drawing may have several lines or columns.
func (l *layout) inStrips() bool { return l.inLines() || l.inColumns() }

// along returns how many threads there are along a strip, and in cells the length of the
// drawing in that direction and the part of it without threads.
func (l *layout) along() (threads, length, around int) {
	if l.inColumns() {
		return l.picks, l.height, l.height - l.lifts.h
	}
	if l.width <= l.captionWidth() { // the caption is wider than the ends
		return l.ends, l.width, 0
	}
	return l.ends, l.width, l.width - l.threading.w
}

// forStrips returns a size of cells for lines and columns, twice as large in large type.
func (l *layout) forStrips(mm float64) float64 {
	if l.options.Large {
		return 2 * mm
	}
	return mm
}

// breakUp divides a threading into lines that fit in a width in millimetres, or a treadling into
// columns that fit in a height. All are about equally long and end at heavier lines of the
// grid. ok is false if not even the threads between two of those fit.
func (l *layout) breakUp(mm, wide, high float64) (ok bool) {
	l.stacked = nil
	l.scale(mm)
	room, cell, every := wide, l.threading.cell, l.options.every()
	if l.inColumns() {
		room, cell = high, l.lifts.cell
	}
	threads, _, around := l.along()
	each := int((room/l.mm-float64(around))/float64(cell)) / every * every
	for ; each >= every; each -= every {
		count := (threads + each - 1) / each
		if count > maxStrips {
			return false
		}
		balanced := (threads + count - 1) / count
		l.setStrips(threads, (balanced+every-1)/every*every)
		l.scale(mm)
		if _, length, _ := l.along(); float64(length)*l.mm <= room {
			return true
		}
		l.stacked = nil
	}
	return false
}

// maxStrips limits the lines of a threading and the columns of a treadling.
const maxStrips = 10_000

// setStrips makes strips of so many of the threads, the last one shorter.
func (l *layout) setStrips(threads, each int) {
	l.stacked = nil
	for from := 0; from < threads; from += each {
		one := *l
		one.stacked, one.stripCount, one.continues = nil, (threads+each-1)/each, from > 0
		if l.inColumns() {
			one.firstPick, one.picks = l.firstPick+from, min(each, threads-from)
		} else {
			one.firstEnd, one.ends = l.firstEnd+from, min(each, threads-from)
		}
		one.blocks()
		l.stacked = append(l.stacked, strip{layout: &one})
	}
}

// stack places the lines one below the other, or the columns side by side, with their first
// threads in line.
func (l *layout) stack() {
	l.width, l.height = 0, 0
	if l.inColumns() {
		l.stackColumns()
	} else {
		l.stackLines()
	}
	for _, one := range l.stacked {
		l.width, l.height = max(l.width, one.area().right()), max(l.height, one.area().bottom())
	}
}

func (l *layout) stackLines() {
	margin, y, right := l.cells(6), 0, 0
	for _, line := range l.stacked {
		right = max(right, line.threading.right())
	}
	for i := range l.stacked {
		line := &l.stacked[i]
		if line.x = 0; !l.fromLeft() {
			line.x = right - line.threading.right()
		}
		line.y = max(y-margin, 0)
		y = line.y + line.height
	}
}

// stackColumns places columns so that a caption extends over several.
func (l *layout) stackColumns() {
	edge := func(column strip) int {
		if l.options.Pick1 == Bottom {
			return column.lifts.bottom()
		}
		return column.lifts.y
	}
	lowest, x := 0, 0
	for _, column := range l.stacked {
		lowest = max(lowest, edge(column))
	}
	for i := range l.stacked {
		column := &l.stacked[i]
		column.x, column.y = x, lowest-edge(*column)
		x += column.threadsRight()
	}
}

// area returns the place of a strip in the drawing.
func (s *strip) area() rect { return rect{s.x, s.y, s.width, s.height} }

// pageStrips puts whole strips on pages of a size, and reports whether each fits.
func (l *layout) pageStrips(wide, high float64) (s pageLayout, fits bool) {
	s = pageLayout{width: wide, height: high, across: 1, top: pageMargin + headingRoom}
	roomWide, roomHigh, widest := int(wide/l.mm), int((high-s.top-pageMargin)/l.mm), 0
	fit := func(view rect) bool { return view.w <= roomWide && view.h <= roomHigh }
	for i := 0; i < len(l.stacked); {
		view := l.stacked[i].area()
		if l.inLines() { // a short line stays in line with the others
			view = union(view, rect{0, view.y, l.width, 0})
		}
		if !fit(view) {
			return s, false
		}
		for i++; i < len(l.stacked) && fit(union(view, l.stacked[i].area())); i++ {
			view = union(view, l.stacked[i].area())
		}
		widest = max(widest, view.w)
		s.views = append(s.views, view)
	}
	s.left = (wide - float64(widest)*l.mm) / 2
	return s, true
}

// drawStrips draws the lines or columns that are in view.
func (l *layout) drawStrips(s surface, view rect) {
	for _, one := range l.stacked {
		if one.isIn(view) {
			one.draw(shifted{s, one.x, one.y}, one.bounds())
		}
	}
}

// isIn reports whether all of a strip is in view.
func (s *strip) isIn(view rect) bool { return s.area().intersect(view) == s.area() }

// threadsOn returns the first and the last end of the lines in view, or the picks of the
// columns.
func (l *layout) threadsOn(view rect) (first, last int) {
	for _, one := range l.stacked {
		from, to := one.firstEnd, one.lastEnd()
		if l.inColumns() {
			from, to = one.firstPick, one.firstPick+one.picks-1
		}
		if one.isIn(view) {
			if first == 0 {
				first = from
			}
			last = to
		}
	}
	return first, last
}

// stripsSheet names a sheet of lines or columns.
func (l *layout) stripsSheet(s pageLayout, i int) string {
	first, last := l.threadsOn(s.views[i])
	threads := "ends"
	if l.inColumns() {
		threads = "picks"
	}
	return fmt.Sprintf("Sheet %d of %d; %s %d to %d.", i+1, len(s.views), threads, first, last)
}

// shifted draws on a surface, some cells to the right and down.
type shifted struct {
	surface
	x, y int
}

func (s shifted) row(y, high int, runs []run) {
	moved := make([]run, len(runs))
	for i, r := range runs {
		moved[i] = run{r.from + s.x, r.to + s.x, r.color}
	}
	s.surface.row(y+s.y, high, moved)
}

func (s shifted) fill(r rect, c color.RGBA) {
	r.x, r.y = r.x+s.x, r.y+s.y
	s.surface.fill(r, c)
}

func (s shifted) lines(list []line, p pen) {
	moved := make([]line, len(list))
	for i, l := range list {
		moved[i] = line{l.x + s.x, l.y + s.y, l.w, l.h}
	}
	s.surface.lines(moved, p)
}

func (s shifted) strokes(list []stroke, p pen) {
	moved := make([]stroke, len(list))
	for i, l := range list {
		moved[i] = stroke{l.x1 + float64(s.x), l.y1 + float64(s.y), l.x2 + float64(s.x), l.y2 + float64(s.y)}
	}
	s.surface.strokes(moved, p)
}

func (s shifted) text(t label) {
	t.x, t.y = t.x+float64(s.x), t.y+float64(s.y)
	s.surface.text(t)
}
