package diagram

import (
	"fmt"
	"math"

	"fettle/schema"
	"fettle/schema/cloth"
)

// Measures of a printed page in millimetres.
const (
	pageMargin  = 10.0 // because printers can't print to the edge
	headingRoom = 6.0  // for the line that numbers the sheet
	overlap     = 8.0  // of joined sheets
	minCell     = 1.2  // the smallest cell to fit a drawing on one page
	sheetType   = 3.2  // the height of the line that numbers the sheet
)

// pageLayout is a drawing laid out on paper.
type pageLayout struct {
	width, height  float64 // of a page, in mm
	views          []rect  // the part of the drawing on each, row by row
	across, shared int     // sheets in a row; cells that neighbours share
	left, top      float64 // of the views on several sheets, in mm
}

// paginate lays a drawing out on the chosen paper: on one page, upright or sideways, with
// cells as large as fit, otherwise on several. If the draft takes more than a few pages, the
// layout that it returns is one repeat.
func paginate(l *layout) (*layout, pageLayout, error) {
	switch {
	case l.options.Page == OnePage:
		s, err := onePage(l)
		return l, s, err
	case l.options.FitPage:
		s, err := l.onOnePage()
		return l, s, err
	}
	s, err := l.onPages()
	pages := len(s.views)
	if pages <= sheets || l.options.Whole || l.options.Repeat || l.options.Ends+l.options.Picks > 0 {
		return l, s, err
	}
	part, of, partErr := l.repeatOn(sheets, pages)
	if part == nil {
		return l, s, err
	}
	l.options.remark("the whole draft takes %d pages, so the drawing shows one repeat, %d ends by %d picks; draw all of it with --whole, or fit it to one page with --fit-page",
		pages, part.ends, part.picks)
	return part, of, partErr
}

// repeatOn lays out the first repeat that takes at most so many pages, otherwise the one with
// fewest. It returns nil if none takes fewer pages than the whole. A repeat of almost the
// whole draft isn't worth leaving threads out.
func (l *layout) repeatOn(most, whole int) (part *layout, s pageLayout, err error) {
	for _, repeat := range l.repeats() {
		if 4*repeat.ends*repeat.picks > 3*l.ends*l.picks {
			continue
		}
		next, nextErr := l.folding(repeat)
		if nextErr != nil {
			continue // the whole draft has the same error
		}
		pages, nextErr := next.onPages()
		if n := len(pages.views); n < whole {
			part, s, err, whole = next, pages, nextErr, n
		}
		if whole <= most {
			break
		}
	}
	return part, s, err
}

// repeat is the first ends and picks of a draft, after which it starts again.
type repeat struct {
	ends, picks int
	folded      folded
}

// folded says what repeats in a drawing of one repeat.
type folded uint8

const (
	notFolded    folded = iota
	wholeDraft          // threading, lifts and colors
	withoutColor        // the weave
)

// repeats returns the repeats of a draft, the most complete first. Those that are the whole
// draft are left out.
func (l *layout) repeats() []repeat {
	d := l.draft
	lifts := &d.Treadling
	if l.planned {
		lifts = &d.LiftPlan
	}
	all := repeat{cloth.Period(kinds(&d.Threading, &d.Warp, l.ends)), cloth.Period(kinds(lifts, &d.Weft, l.picks)), wholeDraft}
	ends, picks := l.cloth.Repeat()
	var list []repeat
	for _, r := range []repeat{all, {ends, picks, withoutColor}} {
		if r.ends > 0 && r.picks > 0 && (r.ends < l.ends || r.picks < l.picks) {
			list = append(list, r)
		}
	}
	return list
}

// kinds numbers threads, so that threads with the same row and color have the same number.
func kinds(rows *schema.Rows, s *schema.System, threads int) []int32 {
	type kind struct{ row, color int }
	_, of := rows.Distinct()
	list, known := make([]int32, threads), map[kind]int32{}
	for i := range list {
		k := kind{-1, s.ColorOf(i + 1)}
		if i < len(of) {
			k.row = of[i]
		}
		n, seen := known[k]
		if !seen {
			n = int32(len(known))
			known[k] = n
		}
		list[i] = n
	}
	return list
}

// folding lays out one repeat.
func (l *layout) folding(r repeat) (*layout, error) {
	o := l.options
	o.Ends, o.Picks = r.ends, r.picks
	part, err := newLayout(l.draft, o, 0)
	if err != nil {
		return nil, err
	}
	part.folded = r.folded
	part.place() // the caption says so
	return part, nil
}

// onPages lays a drawing out on one page if the cells are legible then, otherwise on several.
func (l *layout) onPages() (pageLayout, error) {
	if s, fits := l.fitPage(l.cellsOnPage()); fits {
		return s, nil
	}
	best := l.severalPages()
	if n := len(best.views); n > maxPages {
		return best, fmt.Errorf("the drawing would take %d pages of %s (limit %d); draw one repeat with --repeat, smaller cells with --cell, or larger paper with --page", n, l.options.Page, maxPages)
	}
	return best, nil
}

// severalPages lays a drawing out on several pages.
func (l *layout) severalPages() pageLayout {
	if !l.inStrips() {
		return l.fewestTiles()
	}
	wide, high := l.options.Page.Size()
	largest, least := l.forStrips(plentyInLine), l.forStrips(leastInLines)
	if mm := float64(l.options.Cell); mm > 0 {
		largest, least = mm, mm
	}
	for mm := largest; mm >= least; mm -= 0.5 {
		if !l.breakUp(mm, wide, high-2*pageMargin-headingRoom) {
			continue
		}
		if s, fits := l.pageStrips(wide, high); fits {
			return s
		}
	}
	l.stacked = nil
	return l.fewestTiles()
}

// fewestTiles splits the drawing into pages. The cells are up to a fifth smaller than usual
// if that takes fewer pages, so that no page has only a sliver of the drawing.
func (l *layout) fewestTiles() (best pageLayout) {
	short, long := l.options.Page.Size()
	largest := l.options.tiledCell()
	least := largest * 0.8
	if mm := float64(l.options.Cell); mm > 0 {
		largest, least = mm, mm
	}
	var chosen float64
	for mm := largest; mm >= least-1e-9; mm -= 0.1 {
		l.scale(mm)
		for _, s := range []pageLayout{l.tiles(short, long), l.tiles(long, short)} {
			if chosen == 0 || len(s.views) < len(best.views) {
				best, chosen = s, mm
			}
		}
	}
	l.scale(chosen)
	return best
}

// onOnePage lays a drawing out on one page, with cells as large as fit.
func (l *layout) onOnePage() (pageLayout, error) {
	s, fits := l.fitPage(l.options.largestCell(), minCellMM)
	if !fits {
		return s, fmt.Errorf("the drawing doesn't fit on one page of %s, even with cells of 0.1 mm; draw one repeat with --repeat, fewer parts with --part, or use larger paper with --page", l.options.Page)
	}
	return s, nil
}

// cellsOnPage returns the largest and the smallest cells for a drawing on one page. One
// repeat is often small, so it gets larger ones.
func (l *layout) cellsOnPage() (largest, least float64) {
	switch mm := float64(l.options.Cell); {
	case mm > 0:
		return mm, mm
	case l.inStrips():
		return l.options.largestCell(), l.forStrips(leastInLines)
	case l.folded != notFolded:
		return max(l.options.largestCell(), ofRepeat), l.options.legibleCell()
	}
	return l.options.largestCell(), l.options.legibleCell()
}

// fitPage sets the largest cells with which the drawing fits on one page, upright or
// sideways, and reports whether any do.
//
// A threading gets several lines where one would have small cells, a treadling several columns.
func (l *layout) fitPage(largest, least float64) (s pageLayout, fits bool) {
	if !l.inStrips() {
		return l.fitCells(largest, least, l.inOnePiece)
	}
	l.stacked = nil
	if s, fits = l.fitCells(largest, max(least, min(largest, l.forStrips(plentyInLine))), l.inOnePiece); fits {
		return s, true
	}
	return l.fitCells(max(least, min(largest, l.forStrips(mostInLines))), least, func(mm, wide, high float64) bool {
		along, threads, across, rows := wide, l.ends, high, l.shafts
		if l.inColumns() {
			along, threads, across, rows = high, l.picks, wide, l.treadles
		}
		strips := math.Ceil(float64(threads) * mm / along)
		return strips*float64(rows)*mm <= across && l.breakUp(mm, wide, high)
	})
}

// inOnePiece lays the drawing out undivided.
func (l *layout) inOnePiece(mm, _, _ float64) bool {
	l.scale(mm)
	return true
}

// fitCells sets the largest cells with which the drawing fits on one page, upright or
// sideways. lay lays it out for a size of cells and a page.
func (l *layout) fitCells(largest, least float64, lay func(mm, wide, high float64) bool) (s pageLayout, fits bool) {
	short, long := l.options.Page.Size()
	for tenths := math.Round(largest * 10); tenths >= math.Round(least*10); tenths-- {
		mm := tenths / 10
		if largest == least {
			mm = largest
		}
		for _, page := range [][2]float64{{short, long}, {long, short}} {
			if lay(mm, page[0], page[1]) && l.fits(page[0], page[1]) {
				return pageLayout{width: page[0], height: page[1], views: []rect{l.bounds()}, across: 1}, true
			}
		}
	}
	return s, false
}

func (l *layout) bounds() rect { return rect{0, 0, l.width, l.height} }

// fits reports whether a page has room for the whole drawing, which has its own margin.
func (l *layout) fits(wide, high float64) bool {
	return float64(l.width)*l.mm <= wide && float64(l.height)*l.mm <= high
}

func onePage(l *layout) (pageLayout, error) {
	wide, high := float64(l.width)*l.mm, float64(l.height)*l.mm
	if max(wide, high) > maxPageMM {
		return pageLayout{}, fmt.Errorf("the page would be %.0f by %.0f mm (limit %d mm); draw smaller cells with --cell, or one repeat with --repeat", wide, high, maxPageMM)
	}
	return pageLayout{width: wide, height: high, views: []rect{l.bounds()}, across: 1}, nil
}

// tiles splits the drawing into pages of a size.
func (l *layout) tiles(wide, high float64) pageLayout {
	above, left, right := l.edgeRoom()
	s := pageLayout{width: wide, height: high, shared: l.cells(overlap),
		left: max(pageMargin, edgeMargin+left), top: pageMargin + headingRoom + above}
	w := max(int((wide-s.left-max(pageMargin, edgeMargin+right))/l.mm), s.shared+1)
	h := max(int((high-s.top-pageMargin)/l.mm), s.shared+1)
	s.across = tileCount(l.width, w, s.shared)
	down := tileCount(l.height, h, s.shared)
	if float64(s.across)*float64(down) > maxPages*100 { // limits the list
		down = maxPages*100/s.across + 1
	}
	for i := range down * s.across {
		s.views = append(s.views, rect{i % s.across * (w - s.shared), i / s.across * (h - s.shared), w, h}.intersect(l.bounds()))
	}
	return s
}

// tileCount returns how many overlapping pieces cover a length.
func tileCount(all, piece, lapped int) int {
	if all <= piece {
		return 1
	}
	return 1 + (all-piece+piece-lapped-1)/(piece-lapped)
}
