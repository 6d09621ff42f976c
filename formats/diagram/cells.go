package diagram

import (
	"image/color"

	"fettle/schema"
)

func (l *layout) drawCloth(s surface, view rect) {
	if l.grid.intersect(view).empty() {
		return
	}
	if l.options.Show == Yarn {
		l.drawWeft(s, view)
	}
	first := max(l.grid.x, view.x)
	ends := l.endsAcross(first, min(l.grid.right(), view.right()))
	colors := l.endColors(ends)
	runs := make([]run, 0, len(ends))
	for pick, row := range l.cloth.Rows() {
		if pick > l.picks {
			return
		}
		y := l.line(pick)
		if y < view.y || y >= view.bottom() {
			continue
		}
		runs = runs[:0]
		for i, e := range ends {
			if (row[e-1] == '1') != l.options.Back {
				runs = addCell(runs, first+i, colors[i])
			}
		}
		if len(runs) > 0 {
			s.row(y, runs)
		}
	}
}

// endsAcross returns the ends in a range of columns.
func (l *layout) endsAcross(from, to int) []int {
	ends := make([]int, 0, to-from)
	for x := from; x < to; x++ {
		ends = append(ends, l.endAt(x))
	}
	return ends
}

// endColors returns the color of cells with these ends on top.
func (l *layout) endColors(ends []int) []color.RGBA {
	colors := make([]color.RGBA, len(ends))
	for i, e := range ends {
		colors[i] = ink()
		if l.options.Show == Yarn {
			colors[i] = toRGBA(l.entry(l.draft.Warp.ColorOf(e)), grey())
		}
	}
	return colors
}

// clothColors returns the colors that cells of the cloth can have.
func (l *layout) clothColors() []color.RGBA {
	colors := []color.RGBA{paper(), ink(), grey()}
	if l.options.Show == Yarn {
		for _, c := range l.draft.Palette {
			colors = append(colors, toRGBA(c, paper()))
		}
	}
	return colors
}

// drawWeft draws the colors of the picks from edge to edge, below the ends.
func (l *layout) drawWeft(s surface, view rect) {
	for _, p := range stripes(&l.draft.Weft, l.picks) {
		band := union(rect{l.grid.x, l.line(p.from), l.grid.w, 1}, rect{l.grid.x, l.line(p.to), l.grid.w, 1}).intersect(view)
		if !band.empty() {
			s.fill(band, toRGBA(l.entry(p.color), paper()))
		}
	}
}

// stripe is consecutive threads with one palette number.
type stripe struct{ from, to, color int }

func stripes(s *schema.System, threads int) (list []stripe) {
	for n := 1; n <= threads; n++ {
		if last := len(list) - 1; last >= 0 && list[last].color == s.ColorOf(n) {
			list[last].to = n
		} else {
			list = append(list, stripe{n, n, s.ColorOf(n)})
		}
	}
	return list
}

// addCell adds a cell to ascending runs.
func addCell(runs []run, x int, c color.RGBA) []run {
	if k := len(runs) - 1; k >= 0 && runs[k].to == x && runs[k].color == c {
		runs[k].to++
		return runs
	}
	return append(runs, run{x, x + 1, c})
}

// drawFloats outlines the floats on the drawn side that cross too many threads. They end at
// the edge of the drawing.
func (l *layout) drawFloats(s surface, view rect) {
	limit := l.options.Floats
	round := func(r rect) {
		if r = r.intersect(view); !r.empty() {
			s.lines(frame(r), outline())
		}
	}
	up := make([]int, l.ends) // for each end, the picks it has been up
	closed := func(end, before int) {
		if up[end-1] > limit {
			round(union(rect{l.column(end), l.line(before), 1, 1}, rect{l.column(end), l.line(before - up[end-1] + 1), 1, 1}))
		}
		up[end-1] = 0
	}
	for pick, row := range l.cloth.Rows() {
		if pick > l.picks {
			break
		}
		from := 1 // the first end of the current float
		for end := 1; end <= l.ends; end++ {
			if (row[end-1] == '1') == l.options.Back {
				closed(end, pick-1)
				continue
			}
			up[end-1]++
			if end-from > limit {
				round(l.pickCells(from, end-1, pick))
			}
			from = end + 1
		}
		if l.ends+1-from > limit {
			round(l.pickCells(from, l.ends, pick))
		}
	}
	for end := 1; end <= l.ends; end++ {
		closed(end, l.picks)
	}
}

// pickCells returns the cells of a pick from one end to another.
func (l *layout) pickCells(from, to, pick int) rect {
	return union(rect{l.column(from), l.line(pick), 1, 1}, rect{l.column(to), l.line(pick), 1, 1})
}
