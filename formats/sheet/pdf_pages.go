package sheet

import (
	"math"
	"sort"
)

// piece is what isn't broken: a line of a heading, of a paragraph, of boxes or of a row
// of a table, and the drawing.
type piece struct {
	above float64  // space above it, left out at the top of a page
	high  float64  //
	hold  int      // what it costs to begin a page after it
	table *printed // whose row it is; a table has its headings on each page
	at    float64  // where it begins below the headings of its table
	ruled bool     // has a rule above, except right below the headings
	draw  func(x, y float64)
}

func (p *piece) bottom() float64 { return p.at + p.high }

// What it costs to begin a page after a piece. As few firm pieces as can be are parted,
// then as few pages as can be are used, then as few steps as can be are broken.
const (
	holdStep    = 0      // the last of a step
	holdRow     = 1      // a row of a table longer than a page
	holdPart    = 2      // the last of a paragraph, table or boxes
	costOfPage  = 1_000  //
	holdLead    = 20_000 // what stays with the next
	holdWhole   = 30_000 // a row of a table that fits on a page
	holdHeading = 40_000
	holdBound   = 1_000_000 // a row of a group of the threading, and a line of a row
)

// pages deals the pieces out on pages, so that the breaks cost as little as can be.
// Of two ways that cost the same, the one with the fuller first page is taken.
func (t *document) pages(list []piece) [][]piece {
	cost, next := make([]int, len(list)+1), make([]int, len(list)+1)
	for i := len(list) - 1; i >= 0; i-- {
		cost[i] = math.MaxInt
		base, from := 0.0, i // of the table under way, or of the piece
		high := 0.0
		for j := i; j < len(list); j++ {
			p := &list[j]
			if j == i || p.table == nil || p.table != list[j-1].table {
				base, from = high, j
				if j > i {
					base += p.above
				}
			}
			if high = base + runHigh(list[from:j+1]); high > t.high && j > i {
				break
			}
			c := costOfPage + cost[j+1]
			if j+1 < len(list) {
				c += p.hold
			}
			if c <= cost[i] {
				cost[i], next[i] = c, j+1
			}
		}
	}
	var pages [][]piece
	for i := 0; i < len(list); i = next[i] {
		pages = append(pages, list[i:next[i]])
	}
	return pages
}

// runLength is how many pieces from the first on are rows of one table; 1 for another.
func runLength(page []piece) int {
	n := 1
	for n < len(page) && page[n].table != nil && page[n].table == page[0].table {
		n++
	}
	return n
}

// runHigh is how high a run is: rows of one table on a page, or a piece.
func runHigh(run []piece) float64 {
	p := run[0].table
	if p == nil {
		return run[0].high
	}
	if p.lanes == 1 {
		return p.headHigh + run[len(run)-1].bottom() - run[0].at
	}
	high := 0.0
	for _, lane := range inLanes(run, p.lanes) {
		high = max(high, lane[len(lane)-1].bottom()-lane[0].at)
	}
	return p.headHigh + high
}

// inLanes deals rows of a table out in lanes side by side, of about the same height.
func inLanes(run []piece, lanes int) [][]piece {
	each := (run[len(run)-1].bottom() - run[0].at) / float64(lanes)
	var list [][]piece
	for ; len(run) > 0; lanes-- {
		n := len(run)
		if lanes > 1 {
			n = sort.Search(n, func(i int) bool { return run[i].bottom()-run[0].at >= each-1e-6 }) + 1
			for n < len(run) && run[n-1].hold >= holdBound {
				n++
			}
			n = min(n, len(run))
		}
		list, run = append(list, run[:n]), run[n:]
	}
	return list
}

// draw draws the pieces of a page.
func (t *document) draw(page []piece) {
	y := margin
	for len(page) > 0 {
		n := runLength(page)
		if y > margin {
			y += page[0].above
		}
		t.drawRun(page[:n], y)
		y += runHigh(page[:n])
		page = page[n:]
	}
}

func (t *document) drawRun(run []piece, y float64) {
	p := run[0].table
	if p == nil {
		run[0].draw(margin, y)
		return
	}
	x := margin
	for _, lane := range inLanes(run, p.lanes) {
		t.heads(p, x, y)
		for i, row := range lane {
			at := y + p.headHigh + row.at - lane[0].at
			if i > 0 && row.ruled {
				t.rule(x, at, p.wide, 0.1, 0xb4)
			}
			row.draw(x, at)
		}
		x += p.wide + lanesApart
	}
}
