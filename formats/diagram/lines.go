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

// inStrips reports whether the drawing may have several lines or columns.
func (l *layout) inStrips() bool { return l.inLines() || l.inColumns() }

// forStrips returns a size of cells for lines and columns, twice as large in large type.
func (l *layout) forStrips(mm float64) float64 {
	if l.options.Large {
		return 2 * mm
	}
	return mm
}

// breakLines divides the ends into lines of about equal length that fit in a width in
// millimetres, between heavier lines of the grid. ok is false if not even the ends between
// two of them fit.
func (l *layout) breakLines(mm, wide float64) (ok bool) {
	l.stacked = nil
	l.scale(mm)
	every := l.options.every()
	beside := float64(l.width)*l.mm - float64(l.ends)*mm
	if caption := float64(l.captionWidth()) * l.mm; float64(l.ends)*mm+beside <= caption {
		beside = 0 // the caption is wider than the ends
	}
	each := int((wide-beside)/mm) / every * every
	for ; each >= every; each -= every {
		count := (l.ends + each - 1) / each
		if count > maxStrips {
			return false
		}
		balanced := (l.ends + count - 1) / count
		l.setLines((balanced + every - 1) / every * every)
		l.scale(mm)
		if float64(l.width)*l.mm <= wide {
			return true
		}
		l.stacked = nil
	}
	return false
}

// maxStrips limits the lines of a threading and the columns of a treadling.
const maxStrips = 10_000

// setLines makes lines of so many ends, the last one shorter.
func (l *layout) setLines(each int) {
	l.stacked = nil
	count := (l.ends + each - 1) / each
	for from := 0; from < l.ends; from += each {
		line := *l
		line.stacked, line.stripCount, line.continues = nil, count, from > 0
		line.firstEnd, line.ends = l.firstEnd+from, min(each, l.ends-from)
		line.blocks()
		l.stacked = append(l.stacked, strip{layout: &line})
	}
}

// stack places the lines one below the other, with their first ends in line, or the columns
// side by side.
func (l *layout) stack() {
	if l.inColumns() {
		l.stackColumns()
		return
	}
	l.width, l.height = 0, 0
	margin := l.cells(6)
	right := 0
	for _, line := range l.stacked {
		right = max(right, line.threading.right())
	}
	for i := range l.stacked {
		line := &l.stacked[i]
		if line.x = 0; !l.fromLeft() {
			line.x = right - line.threading.right()
		}
		line.y = max(l.height-margin, 0)
		l.width, l.height = max(l.width, line.x+line.width), line.y+line.height
	}
}

// pageLines puts whole lines on pages of a size, and reports whether each fits.
func (l *layout) pageLines(wide, high float64) (s pageLayout, fits bool) {
	s = pageLayout{width: wide, height: high, across: 1, left: (wide - float64(l.width)*l.mm) / 2, top: pageMargin + headingRoom}
	room := int((high - s.top - pageMargin) / l.mm)
	for i := 0; i < len(l.stacked); {
		first := l.stacked[i]
		last := first
		if first.height > room {
			return s, false
		}
		for i++; i < len(l.stacked) && l.stacked[i].y+l.stacked[i].height-first.y <= room; i++ {
			last = l.stacked[i]
		}
		s.views = append(s.views, rect{0, first.y, l.width, last.y + last.height - first.y})
	}
	return s, true
}

// drawStrips draws the lines or columns that are in view.
func (l *layout) drawStrips(s surface, view rect) {
	for _, one := range l.stacked {
		if one.within(view) {
			one.draw(shifted{s, one.x, one.y}, one.bounds())
		}
	}
}

// within reports whether all of a strip is in view.
func (s *strip) within(view rect) bool {
	whole := rect{s.x, s.y, s.width, s.height}
	return whole.intersect(view) == whole
}

// threadsOn returns the first and the last end of the lines in view, or the picks of the
// columns.
func (l *layout) threadsOn(view rect) (first, last int) {
	for _, one := range l.stacked {
		from, to := one.firstEnd, one.lastEnd()
		if l.inColumns() {
			from, to = one.firstPick, one.firstPick+one.picks-1
		}
		if one.within(view) {
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
