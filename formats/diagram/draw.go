package diagram

import (
	"image/color"
	"strconv"

	"fettle/schema"
)

// draw draws what lies within view.
func (l *layout) draw(s surface, view rect) {
	l.drawAround(s, view)
	l.drawCloth(s, view)
	l.drawOver(s, view)
}

// drawAround draws what stands beside the cloth.
func (l *layout) drawAround(s surface, view rect) {
	l.drawCaption(s, view)
	l.drawBars(s, view)
	l.drawSley(s, view)
	l.drawThreading(s, view)
	l.drawTieup(s, view)
	l.drawLifts(s, view)
}

// drawOver draws what goes over the cells.
func (l *layout) drawOver(s surface, view rect) {
	for _, block := range []rect{l.threading, l.tieup, l.lifts, l.grid} {
		l.drawGrid(s, block, view)
	}
	l.drawNumbers(s, view)
	if l.o.Floats > 0 {
		l.drawFloats(s, view)
	}
	l.drawMarks(s, view)
}

func (l *layout) drawCaption(s surface, view rect) {
	for _, c := range l.caption {
		wide, high := int(l.faces.width(c.words, c.bold)*c.size)+1, int(c.size)+1
		if !(rect{int(c.x), int(c.y) + 1 - high, wide, high}).cut(view).empty() {
			s.text(c)
		}
	}
	for _, w := range l.swatches {
		if seen := w.at.cut(view); !seen.empty() {
			s.fill(seen, rgba(w.color, paper()))
			s.lines(frame(seen), hair())
		}
	}
}

// drawBars draws the colors of the warp and of the weft, with their numbers
// where there is room.
func (l *layout) drawBars(s surface, view rect) {
	l.bar(s, view, &l.draft.Warp, l.ends, func(n int) rect { return rect{l.column(n), l.warpBar.y, 1, l.warpBar.h} })
	l.bar(s, view, &l.draft.Weft, l.picks, func(n int) rect { return rect{l.weftBar.x, l.line(n), l.weftBar.w, 1} })
	l.round(s, l.warpBar, view)
	l.round(s, l.weftBar, view)
}

// round draws the edge of a block.
func (l *layout) round(s surface, block, view rect) {
	if seen := block.cut(view); !seen.empty() {
		s.lines(frame(seen), heavy())
	}
}

func (l *layout) bar(s surface, view rect, of *schema.System, threads int, at func(int) rect) {
	for _, p := range stripes(of, threads) {
		band := hull(at(p.from), at(p.to)).cut(view)
		if band.empty() || !l.entry(p.color).Set {
			continue
		}
		s.fill(band, rgba(l.entry(p.color), paper()))
		l.numberIn(s, band, p.color)
	}
}

// numberIn writes a number in the middle of a rectangle that has room for it.
func (l *layout) numberIn(s surface, r rect, n int) {
	words := strconv.Itoa(n)
	size := numberType / l.mm
	if float64(r.w) < l.faces.width(words, false)*size+0.6/l.mm || float64(r.h) < size {
		return
	}
	s.text(label{x: float64(r.x) + float64(r.w)/2, y: float64(r.y) + float64(r.h)/2 + 0.36*size, size: size, anchor: atMiddle,
		color: onTop(rgba(l.entry(n), paper())), words: words})
}

// hull is the rectangle round two.
func hull(a, b rect) rect {
	x, y := min(a.x, b.x), min(a.y, b.y)
	return rect{x, y, max(a.right(), b.right()) - x, max(a.bottom(), b.bottom()) - y}
}

// drawSley fills the ends of every other dent that holds any.
func (l *layout) drawSley(s surface, view rect) {
	if l.sley.empty() {
		return
	}
	for i, d := range l.dents() {
		box := hull(rect{l.column(d[0]), l.sley.y, 1, l.sley.h}, rect{l.column(d[1]), l.sley.y, 1, l.sley.h}).cut(view)
		if i%2 == 0 && !box.empty() {
			s.fill(box, ink())
		}
	}
	l.round(s, l.sley, view)
}

// dents are the first and last end that each dent takes, of the ends drawn. The
// order starts at the centre of the whole warp and runs on unbroken across it.
func (l *layout) dents() [][2]int {
	order, half := l.o.Sley, l.cloth.Ends()/2
	sum := 0
	for _, n := range order {
		sum += max(n, 0)
	}
	if sum == 0 {
		return nil
	}
	var list [][2]int
	next := 1 - (sum-half%sum)%sum // where the round begins that end 1 lies in
	for i := 0; next <= l.ends; i++ {
		n := max(order[i%len(order)], 0)
		if from, to := max(next, 1), min(next+n-1, l.ends); n > 0 && from <= to {
			list = append(list, [2]int{from, to})
		}
		next += n
	}
	return list
}

// filled fills cells of a row in the given columns, which ascend.
func (l *layout) filled(s surface, y int, columns []int, view rect, c color.RGBA) {
	if y < view.y || y >= view.bottom() {
		return
	}
	var runs []run
	for _, x := range columns {
		if x < view.x || x >= view.right() {
			continue
		}
		runs = extended(runs, x, c)
	}
	if len(runs) > 0 {
		s.row(y, runs)
	}
}

// drawThreading draws a row a shaft, the ends of it filled.
func (l *layout) drawThreading(s surface, view rect) {
	l.drawByShaft(s, view, &l.draft.Threading, l.threading, l.endAt)
}

// drawTieup draws a row a shaft, the treadles it is tied to filled.
func (l *layout) drawTieup(s surface, view rect) {
	l.drawByShaft(s, view, &l.draft.Tieup, l.tieup, func(column int) int { return column - l.tieup.x + 1 })
}

// drawByShaft draws a table of what each end or treadle has for shafts, turned
// so that a shaft has a row of the block; at tells which it is in a column.
func (l *layout) drawByShaft(s surface, view rect, table *schema.Rows, block rect, at func(column int) int) {
	rows := make([][]int, l.shafts+1)
	seen := block.cut(view)
	for x := seen.x; x < seen.right(); x++ {
		for _, shaft := range table.Row(at(x)) {
			rows[shaft] = append(rows[shaft], x)
		}
	}
	for shaft := l.shafts; shaft >= 1; shaft-- {
		l.filled(s, l.shaftRow(shaft), rows[shaft], view, ink())
	}
}

// drawLifts draws a row a pick: its treadles, or the shafts of the lift plan.
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
		l.filled(s, l.line(pick), columns, view, ink())
	}
}
