package dressing

import "sort"

// Bout is ends of a warp that are wound together. From and To are the outermost; Colors
// are in winding order.
type Bout struct {
	From   int        `json:"from"`
	To     int        `json:"to"`
	Ends   int        `json:"ends"`
	Colors []ColorRun `json:"colors"`
	// Order folds the color runs that repeat into blocks.
	Order []Block `json:"-"`
}

// mostMoved limits how far the edge of a bout moves to the edge of a stripe: by one part
// in so many of the bout.
const mostMoved = 10

// Bouts divides a warp for winding. No bout crosses the centre. Each half is divided
// evenly into as few bouts as the project's size allows; without a size it is one
// bout. Where a stripe ends within a tenth of a bout from the edge of one, that edge
// moves there, so a bout can be up to a fifth larger than the size.
func (f *Figures) Bouts(w *WarpSet) []Bout {
	first := sort.Search(w.Ends, func(n int) bool { return w.end(n) > f.Warp().Half() }) // ends in the first half
	var bouts []Bout
	for _, h := range [][2]int{{0, first}, {first, w.Ends}} {
		ends := h[1] - h[0]
		if ends == 0 {
			continue
		}
		parts := 1
		if size := f.Setup.Project.Bout; size > 0 {
			parts = (ends-1)/size + 1
		}
		from := h[0]
		for i := 1; i <= parts; i++ {
			to := h[0] + ends*i/parts
			if i < parts {
				to = f.stripeEdge(w, to, ends/parts/mostMoved)
			}
			runs := f.colorRuns(w, from, to)
			bouts = append(bouts, Bout{w.end(from), w.end(to - 1), to - from, runs, Fold(colorKinds(runs))})
			from = to
		}
	}
	return bouts
}

// stripeEdge moves the edge of a bout to the nearest edge of a stripe, by at most so
// many ends. Both edges are counts of ends before them.
func (f *Figures) stripeEdge(w *WarpSet, ends, most int) int {
	for by := 0; by <= most; by++ {
		for _, near := range []int{ends - by, ends + by} {
			if f.colorAt(w.end(near-1)) != f.colorAt(w.end(near)) {
				return near
			}
		}
	}
	return ends
}

// colorAt returns the palette number of an end of the whole warp.
func (f *Figures) colorAt(end int) int { return f.Draft.Warp.ColorOf(f.Warp().DraftEnd(end)) }
