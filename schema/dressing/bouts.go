package dressing

// Bout is ends that are wound together, and their colors in winding order.
type Bout struct {
	From   int        `json:"from"`
	To     int        `json:"to"`
	Ends   int        `json:"ends"`
	Colors []ColorRun `json:"colors"`
	// Order is the color runs again, with those that repeat folded.
	Order []Block `json:"-"`
}

// mostMoved is how far the edge of a bout moves to the edge of a stripe, as a part of
// the bout.
const mostMoved = 10

// Bouts divides the warp for winding. No bout crosses the centre. Each half is divided
// evenly into as few bouts as the project's size allows; without a size it is one
// bout. Where a stripe ends within a tenth of a bout from the edge of one, that edge
// moves there, so a bout can be up to a fifth larger than the size.
func (f *Figures) Bouts() []Bout {
	w := f.Warp()
	var bouts []Bout
	for _, h := range halvesFrom(FromRight, w) {
		ends := h.to - h.from + 1
		if h.to < h.from || ends == 0 {
			continue
		}
		parts := 1
		if size := f.Setup.Project.Bout; size > 0 {
			parts = (ends-1)/size + 1
		}
		from := h.from
		for i := 1; i <= parts; i++ {
			to := h.from - 1 + ends*i/parts
			if i < parts {
				to = f.stripeEdge(to, ends/parts/mostMoved)
			}
			runs := colorRuns(f.Draft, w, from, to)
			bouts = append(bouts, Bout{from, to, to - from + 1, runs, Fold(colorKinds(runs))})
			from = to + 1
		}
	}
	return bouts
}

// stripeEdge returns the last end of the stripe that ends nearest to an end, at most
// so many ends away; otherwise the end itself.
func (f *Figures) stripeEdge(end, most int) int {
	for by := 0; by <= most; by++ {
		for _, near := range []int{end - by, end + by} {
			if f.colorAt(near) != f.colorAt(near+1) {
				return near
			}
		}
	}
	return end
}

func (f *Figures) colorAt(end int) int { return f.Draft.Warp.ColorOf(f.Warp().DraftEnd(end)) }
