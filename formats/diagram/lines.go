package diagram

import (
	"fmt"
	"image/color"
)

// A threading without the other parts is drawn in several lines on a page if one line would
// have small cells. Each line is a layout of its own, of some of the ends.

// threadingLine is a line of a threading, and its place in the drawing in cells.
type threadingLine struct {
	*layout
	x, y int
}

// Sizes of cells in a threading in lines, in millimetres; larger in large type.
const (
	plentyInLine = 4.0 // cells of this size need no second line
	mostInLines  = 6.0
	leastInLines = 2.5 // smaller ones take several pages
)

// inLines reports whether the drawing may have several lines.
func (l *layout) inLines() bool { return l.options.Parts == PartThreading }

// forLines returns a size of cells for lines, twice as large in large type.
func (l *layout) forLines(mm float64) float64 {
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
		if count > maxLines {
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

// maxLines limits the lines of a threading.
const maxLines = 10_000

// setLines makes lines of so many ends, the last one shorter.
func (l *layout) setLines(each int) {
	l.stacked = nil
	count := (l.ends + each - 1) / each
	for from := 0; from < l.ends; from += each {
		line := *l
		line.stacked, line.lineCount, line.continues = nil, count, from > 0
		line.firstEnd, line.ends = l.firstEnd+from, min(each, l.ends-from)
		line.blocks()
		l.stacked = append(l.stacked, threadingLine{layout: &line})
	}
}

// stack places the lines one below the other, with their first ends in line.
func (l *layout) stack() {
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

// drawLines draws the lines that are in view.
func (l *layout) drawLines(s surface, view rect) {
	for _, line := range l.stacked {
		seen := view
		seen.x, seen.y = view.x-line.x, view.y-line.y
		if whole := line.bounds(); seen.intersect(whole) == whole {
			line.draw(shifted{s, line.x, line.y}, whole)
		}
	}
}

// endsOn returns the first and the last end of the lines in view.
func (l *layout) endsOn(view rect) (first, last int) {
	for _, line := range l.stacked {
		if line.y >= view.y && line.y+line.height <= view.bottom() {
			if first == 0 {
				first = line.firstEnd
			}
			last = line.lastEnd()
		}
	}
	return first, last
}

// linesSheet names a sheet of a threading in lines.
func (l *layout) linesSheet(s pageLayout, i int) string {
	first, last := l.endsOn(s.views[i])
	return fmt.Sprintf("Sheet %d of %d; ends %d to %d.", i+1, len(s.views), first, last)
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
