package diagram

import (
	"fmt"
	"math"
)

// Measures of a printed page in millimetres.
const (
	edge     = 10.0 // left free round a page, since printers cannot print to its edge
	heading  = 6.0  // for the line that says which sheet it is
	overlap  = 8.0  // of sheets that are joined
	smallest = 1.2  // cell that a drawing is made smaller to, to fit one page
	spread   = 2.0  // cell of a drawing that is spread over several
)

// sheets is how a drawing is laid out on paper.
type sheets struct {
	wide, high     float64 // of a page, in mm
	views          []rect  // the part of the drawing on each, row by row
	across, lapped int     // sheets beside each other, cells that neighbours share
}

// spreadOver lays a drawing out on the paper asked for, with cells as large as
// fit one page, upright or on its side, or else on several.
func spreadOver(l *layout) (sheets, error) {
	if l.o.Page == OnePage {
		return onePage(l)
	}
	short, long := l.o.Page.Size()
	largest, least := 4.0, smallest
	if l.o.Cell > 0 {
		largest, least = float64(l.o.Cell), float64(l.o.Cell)
	}
	for tenths := math.Round(largest * 10); tenths >= math.Round(least*10); tenths-- {
		mm := tenths / 10
		if l.o.Cell > 0 {
			mm = largest
		}
		l.scale(mm)
		for _, page := range [][2]float64{{short, long}, {long, short}} {
			if l.fits(page[0], page[1]) {
				return sheets{page[0], page[1], []rect{l.whole()}, 1, 0}, nil
			}
		}
	}
	if l.o.Cell == 0 {
		l.scale(spread)
	}
	upright, onSide := l.tiles(short, long), l.tiles(long, short)
	if len(onSide.views) < len(upright.views) {
		upright = onSide
	}
	if n := len(upright.views); n > mostPages {
		return upright, fmt.Errorf("the drawing would take %d pages of %s, and %d is the most: draw one repeat with --repeat, smaller cells with --cell, or use larger paper with --page", n, l.o.Page, mostPages)
	}
	return upright, nil
}

func (l *layout) whole() rect { return rect{0, 0, l.width, l.height} }

// fits says whether a page holds the whole drawing. It brings a margin of its
// own.
func (l *layout) fits(wide, high float64) bool {
	return float64(l.width)*l.mm <= wide && float64(l.height)*l.mm <= high
}

func onePage(l *layout) (sheets, error) {
	wide, high := float64(l.width)*l.mm, float64(l.height)*l.mm
	if max(wide, high) > mostPageMM {
		return sheets{}, fmt.Errorf("the page would be %.0f by %.0f mm, and %d mm is the most: draw smaller cells with --cell, or one repeat with --repeat", wide, high, mostPageMM)
	}
	return sheets{wide, high, []rect{l.whole()}, 1, 0}, nil
}

// tiles cuts the drawing up for pages of a size.
func (l *layout) tiles(wide, high float64) sheets {
	s := sheets{wide: wide, high: high, lapped: l.cells(overlap)}
	w := max(int((wide-2*edge)/l.mm), s.lapped+1)
	h := max(int((high-2*edge-heading)/l.mm), s.lapped+1)
	s.across = stretches(l.width, w, s.lapped)
	down := stretches(l.height, h, s.lapped)
	if float64(s.across)*float64(down) > mostPages*100 { // a bound for the list
		down = mostPages*100/s.across + 1
	}
	for i := range down * s.across {
		s.views = append(s.views, rect{i % s.across * (w - s.lapped), i / s.across * (h - s.lapped), w, h}.cut(l.whole()))
	}
	return s
}

// stretches is how many pieces of a length, overlapping each other, cover all.
func stretches(all, piece, lapped int) int {
	if all <= piece {
		return 1
	}
	return 1 + (all-piece+piece-lapped-1)/(piece-lapped)
}
