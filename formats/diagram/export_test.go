package diagram

import "fettle/schema"

// Placed is where the cloth stands in a picture of pixels, for tests that read
// it back.
type Placed struct{ X, Y, W, H, Cell int }

// PlaceInPNG is where PNG puts the cloth.
func PlaceInPNG(d *schema.Draft, o Options, pixels int) (Placed, error) {
	l, err := newLayout(d, o, float64(pixels)/o.dpi()*25.4)
	if err != nil {
		return Placed{}, err
	}
	return Placed{l.grid.x, l.grid.y, l.grid.w, l.grid.h, pixels}, nil
}

// PlaceOnPage is where PDF puts the left upper corner of the cloth on a page
// of its own size, and the side of a cell, in millimetres.
func PlaceOnPage(d *schema.Draft, o Options) (x, y, cell float64, err error) {
	l, err := newLayout(d, o, 0)
	if err != nil {
		return 0, 0, 0, err
	}
	return float64(l.grid.x) * l.mm, float64(l.grid.y) * l.mm, l.mm, nil
}

// SheetsOf is how many sheets PDF takes.
func SheetsOf(d *schema.Draft, o Options) (int, error) {
	l, err := newLayout(d, o, 0)
	if err != nil {
		return 0, err
	}
	s, err := spreadOver(l)
	return len(s.views), err
}
