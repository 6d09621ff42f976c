package dressing

// Bout is ends that are wound at once, and their colors in order.
type Bout struct {
	From   int        `json:"from"`
	To     int        `json:"to"`
	Ends   int        `json:"ends"`
	Colors []ColorRun `json:"colors"`
	// Order is the color runs again, with those that repeat folded.
	Order []Block `json:"-"`
}

// Bouts divides the warp for winding into bouts of the project's size. No bout
// crosses the centre of the warp. Where the ends don't divide evenly, the smaller
// bout is at the edge. Without a size each half is one bout.
func (f *Figures) Bouts() []Bout {
	w := f.Warp()
	if w.All == 0 {
		return nil
	}
	size := w.All
	if n := f.Setup.Project.Bout; n > 0 && n < size {
		size = n
	}
	var bouts []Bout
	add := func(from, to int) {
		runs := colorRuns(f.Draft, w, from, to)
		bouts = append(bouts, Bout{from, to, to - from + 1, runs, Fold(colorKinds(runs))})
	}
	half := w.Half()
	atEdge := half % size
	if atEdge > 0 {
		add(1, atEdge)
	}
	for from := 1 + atEdge; from <= half; from += size {
		add(from, from+size-1)
	}
	for from := half + 1; from <= w.All; from += size {
		add(from, min(from+size-1, w.All))
	}
	return bouts
}
