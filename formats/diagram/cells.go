package diagram

import (
	"image/color"
	"iter"

	"fettle/schema"
)

func (l *layout) drawCloth(s surface, view rect) {
	seen := l.grid.intersect(view)
	if seen.empty() {
		return
	}
	if l.options.Show == Yarn {
		l.drawWeft(s, view)
	}
	ends := l.endsAcross(seen.x-l.grid.x, seen.right()-l.grid.x)
	colors := l.endColors(ends)
	runs := make([]run, 0, len(ends))
	for pick, row := range l.rows() {
		y := l.pickY(l.grid, pick)
		if y < view.y || y >= view.bottom() {
			continue
		}
		runs = runs[:0]
		for i, e := range ends {
			if (row[e-l.firstEnd] == '1') != l.options.Back {
				runs = addCell(runs, seen.x+i, colors[i])
			}
		}
		if len(runs) > 0 {
			s.row(y, 1, runs)
		}
	}
}

// fewEnds is the part of all ends below which it is faster to look up each crossing.
const fewEnds = 8

// rows yields the drawn picks with a byte for each drawn end: '1' for warp up, '0' for weft
// up. The bytes are valid until the next step.
func (l *layout) rows() iter.Seq2[int, []byte] {
	if l.firstPick > 1 || l.ends*fewEnds < l.cloth.Ends() {
		return l.crossings
	}
	return func(yield func(int, []byte) bool) {
		for pick, row := range l.cloth.Rows() {
			if pick > l.picks || !yield(pick, row[l.firstEnd-1:l.lastEnd()]) {
				return
			}
		}
	}
}

// crossings yields the same as rows, but never computes what isn't drawn.
func (l *layout) crossings(yield func(int, []byte) bool) {
	row := make([]byte, l.ends)
	for pick := l.firstPick; pick < l.firstPick+l.picks; pick++ {
		for i := range row {
			row[i] = '0'
			if l.cloth.Up(l.firstEnd+i, pick) {
				row[i] = '1'
			}
		}
		if !yield(pick, row) {
			return
		}
	}
}

// endsAcross returns the ends in a range of columns of the drawing, counted from 0.
func (l *layout) endsAcross(from, to int) []int {
	ends := make([]int, 0, to-from)
	for column := from; column < to; column++ {
		if l.fromLeft() {
			ends = append(ends, l.firstEnd+column)
		} else {
			ends = append(ends, l.lastEnd()-column)
		}
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
	for _, p := range stripes(&l.draft.Weft, l.firstPick, l.picks) {
		if band := l.pickCells(l.grid, p.from, p.to).intersect(view); !band.empty() {
			s.fill(band, toRGBA(l.entry(p.color), paper()))
		}
	}
}

// stripe is consecutive threads with one palette number.
type stripe struct{ from, to, color int }

// stripes returns the stripes among so many threads from the first one.
func stripes(s *schema.System, first, threads int) (list []stripe) {
	for n := first; n < first+threads; n++ {
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
	limit, last := l.options.Floats, l.firstPick+l.picks-1
	round := func(r rect) {
		if r = r.intersect(view); !r.empty() {
			s.lines(frame(r), outline())
		}
	}
	up := make([]int, l.ends) // for each end, the picks it has been up
	closed := func(i, before int) {
		if up[i] > limit {
			round(l.crossing(l.firstEnd+i, l.firstEnd+i, before-up[i]+1, before))
		}
		up[i] = 0
	}
	for pick, row := range l.rows() {
		from := 0 // the first end of the current float
		for i := range row {
			if (row[i] == '1') == l.options.Back {
				closed(i, pick-1)
				continue
			}
			up[i]++
			if i-from > limit {
				round(l.crossing(l.firstEnd+from, l.firstEnd+i-1, pick, pick))
			}
			from = i + 1
		}
		if len(row)-from > limit {
			round(l.crossing(l.firstEnd+from, l.lastEnd(), pick, pick))
		}
	}
	for i := range up {
		closed(i, last)
	}
}

// crossing returns the cells of the cloth between two ends and two picks.
func (l *layout) crossing(fromEnd, toEnd, fromPick, toPick int) rect {
	return l.endCells(l.grid, fromEnd, toEnd).intersect(l.pickCells(l.grid, fromPick, toPick))
}
