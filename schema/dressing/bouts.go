package dressing

import "fettle/schema"

// Bout is ends that are wound at once, and their colors in order.
type Bout struct {
	From   int        `json:"from"`
	To     int        `json:"to"`
	Ends   int        `json:"ends"`
	Colors []ColorRun `json:"colors"`
}

// Bouts divides the warp for winding into bouts of the project's size. No bout
// runs across the centre of the warp, and a smaller one, where the ends leave
// one over, lies at the edge. Without a size each half is one bout.
func Bouts(d *schema.Draft, s *schema.Setup, w Warp) []Bout {
	if w.All == 0 {
		return nil
	}
	size := w.All
	if n := s.Project.Bout; n > 0 && n < size {
		size = n
	}
	var bouts []Bout
	add := func(from, to int) {
		bouts = append(bouts, Bout{from, to, to - from + 1, warpOrder(d, w, from, to)})
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
