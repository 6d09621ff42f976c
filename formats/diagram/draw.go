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
	"slices"

	"fettle/schema"
)

// draw draws the part of the drawing within view.
func (l *layout) draw(s surface, view rect) {
	if len(l.stacked) > 0 {
		l.drawStrips(s, view)
		return
	}
	l.drawAround(s, view)
	l.drawCloth(s, view)
	l.drawOver(s, view)
}

// drawAround draws everything but the cloth.
func (l *layout) drawAround(s surface, view rect) {
	l.drawCaption(s, view)
	l.drawBars(s, view)
	l.drawLetters(s, view)
	l.drawSley(s, view)
	l.drawByShaft(s, view, &l.draft.Threading, l.threading, func(column int) int { return l.endAt(l.threading, column) })
	l.drawByShaft(s, view, &l.draft.Tieup, l.tieup, func(column int) int { return column + 1 })
	l.drawLifts(s, view)
}

// drawOver draws everything that covers cells.
func (l *layout) drawOver(s surface, view rect) {
	for _, b := range []block{l.threading, l.tieup, l.lifts} {
		l.drawGrid(s, b, view)
	}
	if l.options.Show == Yarn {
		l.drawFrame(s, l.grid, view) // lines between threads would change the colors
	} else {
		l.drawGrid(s, l.grid, view)
	}
	l.drawNumbers(s, view)
	if l.options.Floats > 0 && !l.grid.empty() {
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
			l.paintColor(s, seen, w.number)
			s.lines(frame(seen), hair())
		}
	}
}

// drawBars draws the colors of the warp and the weft, with a pattern for each color where
// there is room.
func (l *layout) drawBars(s surface, view rect) {
	l.drawBar(s, view, l.warpBar, stripes(&l.draft.Warp, l.firstEnd, l.ends), l.endCells)
	l.drawBar(s, view, l.weftBar, stripes(&l.draft.Weft, l.firstPick, l.picks), l.pickCells)
}

func (l *layout) drawBar(s surface, view rect, bar block, list []stripe, cells func(block, int, int) rect) {
	if bar.empty() {
		return
	}
	for _, p := range list {
		if band := cells(bar, p.from, p.to).intersect(view); !band.empty() && l.entry(p.color).Set {
			l.paintColor(s, band, p.color)
		}
	}
	l.drawFrame(s, bar, view)
}

// Patterns in bars and samples of colors.
const (
	hatchGap  = 1.3 // millimetres
	hatchPen  = 0.2
	leastRoom = 1.0 // for a pattern
)

// paintColor fills a rectangle with a color of the palette and its pattern.
func (l *layout) paintColor(s surface, r rect, number int) {
	c := toRGBA(l.entry(number), paper())
	s.fill(r, c)
	i, used := slices.BinarySearch(l.colors, number)
	if !used || i == 0 || float64(min(r.w, r.h))*l.mm < leastRoom {
		return
	}
	s.strokes(hatching(r, i, hatchGap/l.mm), pen{hatchPen, textColor(c)})
}

// endCells returns the cells of consecutive ends in a block.
func (l *layout) endCells(b block, from, to int) rect {
	return union(rect{l.endX(b, from), b.y, b.cell, b.h}, rect{l.endX(b, to), b.y, b.cell, b.h})
}

// pickCells returns the cells of consecutive picks in a block.
func (l *layout) pickCells(b block, from, to int) rect {
	return union(rect{b.x, l.pickY(b, from), b.w, b.cell}, rect{b.x, l.pickY(b, to), b.w, b.cell})
}

// drawFrame draws the edges of a block.
func (l *layout) drawFrame(s surface, b block, view rect) {
	if seen := b.intersect(view); !seen.empty() {
		s.lines(frame(seen), heavy())
	}
}

// union returns the smallest rectangle around two.
func union(a, b rect) rect {
	x, y := min(a.x, b.x), min(a.y, b.y)
	return rect{x, y, max(a.right(), b.right()) - x, max(a.bottom(), b.bottom()) - y}
}

// reedWord is the word beside the row of the dents.
const reedWord = "reed"

// drawSley fills the ends of every other dent that has ends.
func (l *layout) drawSley(s surface, view rect) {
	if l.sley.empty() {
		return
	}
	for i, d := range l.dents() {
		box := l.endCells(l.sley, d[0], d[1]).intersect(view)
		if i%2 == 0 && !box.empty() {
			s.fill(box, ink())
		}
	}
	l.drawFrame(s, l.sley, view)
	size := l.numberType() / l.mm
	y := max(float64(l.sley.y)+float64(l.sley.h)/2+0.36*size, float64(l.sley.y)-0.7/l.mm+0.8*size)
	if !l.threading.empty() { // below the number of shaft 1
		y = max(y, l.lowered(l.threading, float64(l.threading.shaftY(1)), l.numberMM(l.threading)/l.mm)+0.8*size)
	}
	l.write(s, view, label{x: float64(l.sley.x) - 0.7/l.mm, y: y, size: size, anchor: atEnd, color: grey(), words: reedWord})
}

// write writes a text, if its start is in view.
func (l *layout) write(s surface, view rect, t label) {
	if t.x >= float64(view.x) && t.x <= float64(view.right()) && t.y >= float64(view.y) && t.y <= float64(view.bottom()) {
		s.text(t)
	}
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
	for i := 0; next <= l.lastEnd(); i++ {
		n := max(order[i%len(order)], 0)
		if from, to := max(next, l.firstEnd), min(next+n-1, l.lastEnd()); n > 0 && from <= to {
			list = append(list, [2]int{from, to})
		}
		next += n
	}
	return list
}

// fillCells fills cells of a block in a row of the drawing. xs are their left edges,
// ascending.
func (l *layout) fillCells(s surface, b block, y int, xs []int, view rect, c color.RGBA) {
	top, bottom := max(y, view.y), min(y+b.cell, view.bottom())
	if top >= bottom {
		return
	}
	var runs []run
	for _, left := range xs {
		for x := max(left, view.x); x < min(left+b.cell, view.right()); x++ {
			runs = addCell(runs, x, c)
		}
	}
	if len(runs) > 0 {
		s.row(top, bottom-top, runs)
	}
}

// drawByShaft draws a table of the shafts of each end or treadle, with a row for each shaft.
// at returns the end or treadle in a column, counted from 0.
func (l *layout) drawByShaft(s surface, view rect, table *schema.Rows, b block, at func(column int) int) {
	seen := b.intersect(view)
	if seen.empty() {
		return
	}
	rows := make([][]int, l.shafts+1)
	for column := (seen.x - b.x) / b.cell; b.x+column*b.cell < seen.right(); column++ {
		for _, shaft := range table.Row(at(column)) {
			if int(shaft) < len(rows) {
				rows[shaft] = append(rows[shaft], b.x+column*b.cell)
			}
		}
	}
	for shaft := l.shafts; shaft >= 1; shaft-- {
		l.fillCells(s, b, b.shaftY(shaft), rows[shaft], view, ink())
	}
}

// drawLifts draws the treadles or the lift plan of each pick.
func (l *layout) drawLifts(s surface, view rect) {
	if l.lifts.intersect(view).empty() {
		return
	}
	var xs []int
	for pick := l.firstPick; pick < l.firstPick+l.picks; pick++ {
		xs = xs[:0]
		for _, n := range l.liftsOf(pick) {
			xs = append(xs, l.lifts.columnX(int(n)))
		}
		l.fillCells(s, l.lifts, l.pickY(l.lifts, pick), xs, view, ink())
	}
}

// liftsOf returns the treadles of a pick, or its shafts in the lift plan.
func (l *layout) liftsOf(pick int) []int32 {
	if l.planned {
		return l.draft.LiftPlan.Row(pick)
	}
	return l.draft.Treadling.Row(pick)
}
