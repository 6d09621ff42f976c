package diagram

import "fettle/schema"

// Placed is the place of a part in a picture of pixels. X and Y are pixels of its top left
// corner, W and H count its cells, and Cell is the side of one in pixels.
type Placed struct{ X, Y, W, H, Cell int }

// PlaceInPNG returns the place of a part in a PNG. pixels is the side of a cell of the cloth,
// or a quarter of a cell without the cloth.
func PlaceInPNG(d *schema.Draft, o Options, part Parts, pixels int) (Placed, error) {
	l, err := newLayout(d, o, 1)
	if err != nil {
		return Placed{}, err
	}
	l.scale(float64(pixels*l.finer) / o.dpi() * 25.4)
	b := l.part(part)
	return Placed{b.x * pixels, b.y * pixels, b.w / b.cell, b.h / b.cell, pixels * b.cell}, nil
}

func (l *layout) part(part Parts) block {
	return map[Parts]block{PartThreading: l.threading, PartTieup: l.tieup, PartTreadling: l.lifts, PartCloth: l.grid}[part]
}

// PlaceOnPage returns the top left corner of a part on a PDF page of the size of the drawing,
// and the size of its cells, in millimetres.
func PlaceOnPage(d *schema.Draft, o Options, part Parts) (x, y, cell float64, err error) {
	l, err := newLayout(d, o, 0)
	if err != nil {
		return 0, 0, 0, err
	}
	b := l.part(part)
	return float64(b.x) * l.mm, float64(b.y) * l.mm, l.mm * float64(b.cell), nil
}

// SheetsOf returns the number of sheets of a PDF.
func SheetsOf(d *schema.Draft, o Options) (int, error) {
	l, err := newLayout(d, o, 0)
	if err != nil {
		return 0, err
	}
	_, s, err := paginate(l)
	return len(s.views), err
}
