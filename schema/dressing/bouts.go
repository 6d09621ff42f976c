package dressing

import "sort"

// Bout is a set of ends that are wound together. From and To are the outermost ends;
// Colors are in winding order.
type Bout struct {
	From   int        `json:"from"`
	To     int        `json:"to"`
	Ends   int        `json:"ends"`
	Colors []ColorRun `json:"colors"`
	// Blocks fold repeated color runs: From and To count in Colors, from 1.
	Blocks []Block `json:"blocks"`
}

// mostMoved limits how far an edge of a bout moves to reach the edge of a stripe: by one
// part in mostMoved of the bout.
const mostMoved = 10

// Bouts divides a warp for winding. No bout crosses the centre. Each half is divided
// evenly into as few bouts as the project's bout size allows, or is one bout if no size
// is stated. An edge within a tenth of a bout of the end of a stripe moves there, so a
// bout can be up to a fifth larger than the size.
func (f *Figures) Bouts(w *WarpSet) []Bout {
	first := sort.Search(w.Ends, func(n int) bool { return w.end(n) > f.Warp().firstHalf() }) // ends in the first half
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
			bouts = append(bouts, Bout{w.end(from), w.end(to - 1), to - from, runs, fold(numberRuns(runs))})
			from = to
		}
	}
	return bouts
}

// stripeEdge moves the edge of a bout to the nearest edge of a stripe, if that is near
// enough. Edges are given as the number of ends before them.
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
