package sheet

import (
	"math"
	"sort"
)

// piece is the smallest unit of a page: a line of a heading, paragraph, row or row of
// boxes, or the drawing. Lengths are in millimetres.
type piece struct {
	above float64  // space above, except at the top of a page
	high  float64  // its height
	hold  int      // cost of a page break after it
	table *printed // the table of a row; each page repeats its headings
	at    float64  // top of the row, below the headings of its table
	ruled bool     // draw a line above the row, except right below the headings
	draw  func(x, y float64)
}

func (p *piece) bottom() float64 { return p.at + p.high }

// Costs of a page break after a piece, of a page, and of an empty page before the last.
// Keeping pieces together matters more than few pages, few pages matter more than full
// ones, and full pages matter more than whole steps.
const (
	holdStep    = 0         // end of a step
	holdRow     = 1         // row of a table that is longer than a page
	holdPart    = 2         // end of a paragraph, table or boxes inside a step
	holdTall    = 3_000     // row of a tall table that fits on a page
	pageCost    = 10_000    // a page
	emptyCost   = 40_000    // a page that is all empty
	holdLead    = 200_000   // sentence above its table, row near the start or end of a table
	holdWhole   = 300_000   // row of another table that fits on a page
	holdHeading = 400_000   // heading
	holdBound   = 1_000_000 // row inside a group, line inside a row
)

// mostEmpty is the part of a page that may stay empty at no cost, and tallTable the part
// from which on a table is tall.
const mostEmpty, tallTable = 0.15, 0.4

// pages divides pieces into pages at the lowest cost. If two divisions cost the same, the
// first page gets more.
func (t *document) pages(list []piece) [][]piece {
	cost, next := make([]int, len(list)+1), make([]int, len(list)+1)
	for i := len(list) - 1; i >= 0; i-- {
		cost[i] = math.MaxInt
		base, from := 0.0, i // where the current table or piece starts
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
			c := pageCost + cost[j+1]
			if j+1 < len(list) {
				c += p.hold + int(emptyCost*max(1-high/t.high-mostEmpty, 0))
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

// runLength returns how many rows of the same table follow from the first piece on; 1 if
// it isn't a row.
func runLength(page []piece) int {
	n := 1
	for n < len(page) && page[n].table != nil && page[n].table == page[0].table {
		n++
	}
	return n
}

// runHigh returns the height of some rows on a page, with the headings of their table.
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

// inLanes divides rows into lanes of about equal height without splitting groups.
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
