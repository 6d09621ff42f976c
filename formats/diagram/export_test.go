package diagram

import "fettle/schema"

// Placed is the place of the cloth in a picture of pixels.
type Placed struct{ X, Y, W, H, Cell int }

// PlaceInPNG returns the place of the cloth in a PNG.
func PlaceInPNG(d *schema.Draft, o Options, pixels int) (Placed, error) {
	l, err := newLayout(d, o, float64(pixels)/o.dpi()*25.4)
	if err != nil {
		return Placed{}, err
	}
	return Placed{l.grid.x, l.grid.y, l.grid.w, l.grid.h, pixels}, nil
}

// PlaceOnPage returns the top left corner of the cloth on a PDF page of its own size, and
// the size of a cell, in millimetres.
func PlaceOnPage(d *schema.Draft, o Options) (x, y, cell float64, err error) {
	l, err := newLayout(d, o, 0)
	if err != nil {
		return 0, 0, 0, err
	}
	return float64(l.grid.x) * l.mm, float64(l.grid.y) * l.mm, l.mm, nil
}

// SheetsOf returns the number of sheets of a PDF.
func SheetsOf(d *schema.Draft, o Options) (int, error) {
	l, err := newLayout(d, o, 0)
	if err != nil {
		return 0, err
	}
	s, err := paginate(l)
	return len(s.views), err
}
