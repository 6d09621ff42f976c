package diagram

import (
	"image/color"

	"fettle/schema"
)

// drawCloth draws the cloth a pick at a time.
func (l *layout) drawCloth(s surface, view rect) {
	if l.grid.cut(view).empty() {
		return
	}
	if l.o.Show == Yarn {
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
			if (row[e-1] == '1') != l.o.Back {
				runs = extended(runs, first+i, colors[i])
			}
		}
		if len(runs) > 0 {
			s.row(y, runs)
		}
	}
}

// endsAcross is the ends drawn in the columns from one up to another.
func (l *layout) endsAcross(from, to int) []int {
	ends := make([]int, 0, to-from)
	for x := from; x < to; x++ {
		ends = append(ends, l.endAt(x))
	}
	return ends
}

// endColors is what a cell is filled with where the end of it is on top.
func (l *layout) endColors(ends []int) []color.RGBA {
	colors := make([]color.RGBA, len(ends))
	for i, e := range ends {
		colors[i] = ink()
		if l.o.Show == Yarn {
			colors[i] = rgba(l.entry(l.draft.Warp.ColorOf(e)), grey())
		}
	}
	return colors
}

// clothColors are the colors that cells of the cloth can have.
func (l *layout) clothColors() []color.RGBA {
	colors := []color.RGBA{paper(), ink(), grey()}
	if l.o.Show == Yarn {
		for _, c := range l.draft.Palette {
			colors = append(colors, rgba(c, paper()))
		}
	}
	return colors
}

// drawWeft draws the colors of the picks from edge to edge, for the ends to
// lie on.
func (l *layout) drawWeft(s surface, view rect) {
	for _, p := range stripes(&l.draft.Weft, l.picks) {
		band := hull(rect{l.grid.x, l.line(p.from), l.grid.w, 1}, rect{l.grid.x, l.line(p.to), l.grid.w, 1}).cut(view)
		if !band.empty() {
			s.fill(band, rgba(l.entry(p.color), paper()))
		}
	}
}

// stripe is threads of one palette number beside each other.
type stripe struct{ from, to, color int }

// stripes lists the stripes of a system in order.
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

// extended adds a cell to runs that ascend.
func extended(runs []run, x int, c color.RGBA) []run {
	if k := len(runs) - 1; k >= 0 && runs[k].to == x && runs[k].color == c {
		runs[k].to++
		return runs
	}
	return append(runs, run{x, x + 1, c})
}

// drawFloats outlines the floats on the side drawn that cross too many threads.
// They end at the edge of what is drawn.
func (l *layout) drawFloats(s surface, view rect) {
	limit := l.o.Floats
	round := func(r rect) {
		if r = r.cut(view); !r.empty() {
			s.lines(frame(r), outline())
		}
	}
	up := make([]int, l.ends) // by end: how many picks it has been up
	closed := func(end, before int) {
		if up[end-1] > limit {
			round(hull(rect{l.column(end), l.line(before), 1, 1}, rect{l.column(end), l.line(before - up[end-1] + 1), 1, 1}))
		}
		up[end-1] = 0
	}
	for pick, row := range l.cloth.Rows() {
		if pick > l.picks {
			break
		}
		from := 1 // the first end of those that are down
		for end := 1; end <= l.ends; end++ {
			if (row[end-1] == '1') == l.o.Back {
				closed(end, pick-1)
				continue
			}
			up[end-1]++
			if end-from > limit {
				round(l.across(from, end-1, pick))
			}
			from = end + 1
		}
		if l.ends+1-from > limit {
			round(l.across(from, l.ends, pick))
		}
	}
	for end := 1; end <= l.ends; end++ {
		closed(end, l.picks)
	}
}

// across is the cells of a pick from one end to another.
func (l *layout) across(from, to, pick int) rect {
	return hull(rect{l.column(from), l.line(pick), 1, 1}, rect{l.column(to), l.line(pick), 1, 1})
}
