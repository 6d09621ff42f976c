// Package diagram draws a draft: the threading above the cloth, the tie-up and treadling or
// the lift plan at its right, bars in the colors of the yarn between them, and a caption. A
// drawing is laid out once, in whole cells, and drawn as SVG, PNG or PDF through one
// surface. Text drawings are for terminals.
//
// A filled cell of the cloth is warp up. Shaft 1 is the row nearest to the cloth, treadle 1
// the column nearest to it. The same draft and options always give the same bytes.
package diagram

import (
	"image/color"
	"strconv"

	"fettle/schema"
)

// draw draws the part of the drawing within view.
func (l *layout) draw(s surface, view rect) {
	l.drawAround(s, view)
	l.drawCloth(s, view)
	l.drawOver(s, view)
}

// drawAround draws everything but the cloth.
func (l *layout) drawAround(s surface, view rect) {
	l.drawCaption(s, view)
	l.drawBars(s, view)
	l.drawSley(s, view)
	l.drawThreading(s, view)
	l.drawTieup(s, view)
	l.drawLifts(s, view)
}

// drawOver draws everything that covers cells.
func (l *layout) drawOver(s surface, view rect) {
	for _, block := range []rect{l.threading, l.tieup, l.lifts, l.grid} {
		l.drawGrid(s, block, view)
	}
	l.drawNumbers(s, view)
	if l.options.Floats > 0 {
		l.drawFloats(s, view)
	}
	l.drawMarks(s, view)
}

func (l *layout) drawCaption(s surface, view rect) {
	for _, c := range l.caption {
		wide, high := int(l.faces.width(c.words, c.bold)*c.size)+1, int(c.size)+1
		if !(rect{int(c.x), int(c.y) + 1 - high, wide, high}).intersect(view).empty() {
			s.text(c)
		}
	}
	for _, w := range l.swatches {
		if seen := w.at.intersect(view); !seen.empty() {
			s.fill(seen, toRGBA(w.color, paper()))
			s.lines(frame(seen), hair())
		}
	}
}

// drawBars draws the colors of the warp and the weft, with their numbers where they fit.
func (l *layout) drawBars(s surface, view rect) {
	l.bar(s, view, &l.draft.Warp, l.ends, func(n int) rect { return rect{l.column(n), l.warpBar.y, 1, l.warpBar.h} })
	l.bar(s, view, &l.draft.Weft, l.picks, func(n int) rect { return rect{l.weftBar.x, l.line(n), l.weftBar.w, 1} })
	l.drawFrame(s, l.warpBar, view)
	l.drawFrame(s, l.weftBar, view)
}

// drawFrame draws the edges of a block.
func (l *layout) drawFrame(s surface, block, view rect) {
	if seen := block.intersect(view); !seen.empty() {
		s.lines(frame(seen), heavy())
	}
}

func (l *layout) bar(s surface, view rect, of *schema.System, threads int, at func(int) rect) {
	for _, p := range stripes(of, threads) {
		band := union(at(p.from), at(p.to)).intersect(view)
		if band.empty() || !l.entry(p.color).Set {
			continue
		}
		s.fill(band, toRGBA(l.entry(p.color), paper()))
		l.numberIn(s, band, p.color)
	}
}

// numberIn writes a number in the middle of a rectangle, if it fits.
func (l *layout) numberIn(s surface, r rect, n int) {
	words := strconv.Itoa(n)
	size := numberType / l.mm
	if float64(r.w) < l.faces.width(words, false)*size+0.6/l.mm || float64(r.h) < size {
		return
	}
	s.text(label{x: float64(r.x) + float64(r.w)/2, y: float64(r.y) + float64(r.h)/2 + 0.36*size, size: size, anchor: atMiddle,
		color: textColor(toRGBA(l.entry(n), paper())), words: words})
}

// union returns the smallest rectangle around two.
func union(a, b rect) rect {
	x, y := min(a.x, b.x), min(a.y, b.y)
	return rect{x, y, max(a.right(), b.right()) - x, max(a.bottom(), b.bottom()) - y}
}

// drawSley fills the ends of every other dent that has ends.
func (l *layout) drawSley(s surface, view rect) {
	if l.sley.empty() {
		return
	}
	for i, d := range l.dents() {
		box := union(rect{l.column(d[0]), l.sley.y, 1, l.sley.h}, rect{l.column(d[1]), l.sley.y, 1, l.sley.h}).intersect(view)
		if i%2 == 0 && !box.empty() {
			s.fill(box, ink())
		}
	}
	l.drawFrame(s, l.sley, view)
}

// dents returns the first and last drawn end of each dent. The sleying order starts at the
// centre of the whole warp and continues in both directions.
func (l *layout) dents() [][2]int {
	order, half := l.options.Sley, l.cloth.Ends()/2
	sum := 0
	for _, n := range order {
		sum += max(n, 0)
	}
	if sum == 0 {
		return nil
	}
	var list [][2]int
	next := 1 - (sum-half%sum)%sum // where the round with end 1 begins
	for i := 0; next <= l.ends; i++ {
		n := max(order[i%len(order)], 0)
		if from, to := max(next, 1), min(next+n-1, l.ends); n > 0 && from <= to {
			list = append(list, [2]int{from, to})
		}
		next += n
	}
	return list
}

// fillCells fills cells of a row in ascending columns.
func (l *layout) fillCells(s surface, y int, columns []int, view rect, c color.RGBA) {
	if y < view.y || y >= view.bottom() {
		return
	}
	var runs []run
	for _, x := range columns {
		if x < view.x || x >= view.right() {
			continue
		}
		runs = addCell(runs, x, c)
	}
	if len(runs) > 0 {
		s.row(y, runs)
	}
}

func (l *layout) drawThreading(s surface, view rect) {
	l.drawByShaft(s, view, &l.draft.Threading, l.threading, l.endAt)
}

func (l *layout) drawTieup(s surface, view rect) {
	l.drawByShaft(s, view, &l.draft.Tieup, l.tieup, func(column int) int { return column - l.tieup.x + 1 })
}

// drawByShaft draws a table of the shafts of each end or treadle, with a row for each shaft.
// at returns the end or treadle in a column.
func (l *layout) drawByShaft(s surface, view rect, table *schema.Rows, block rect, at func(column int) int) {
	rows := make([][]int, l.shafts+1)
	seen := block.intersect(view)
	for x := seen.x; x < seen.right(); x++ {
		for _, shaft := range table.Row(at(x)) {
			rows[shaft] = append(rows[shaft], x)
		}
	}
	for shaft := l.shafts; shaft >= 1; shaft-- {
		l.fillCells(s, l.shaftRow(shaft), rows[shaft], view, ink())
	}
}

// drawLifts draws the treadles or the lift plan of each pick.
func (l *layout) drawLifts(s surface, view rect) {
	rows := &l.draft.Treadling
	if l.planned {
		rows = &l.draft.LiftPlan
	}
	var columns []int
	for pick := 1; pick <= l.picks; pick++ {
		columns = columns[:0]
		for _, n := range rows.Row(pick) {
			columns = append(columns, l.lifts.x+int(n)-1)
		}
		l.fillCells(s, l.line(pick), columns, view, ink())
	}
}
