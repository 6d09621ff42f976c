package diagram

import (
	"fmt"
	"io"

	"codeberg.org/go-pdf/fpdf"

	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/wording"
)

// Picture is a drawing of a draft that shares a page with other things.
type Picture struct {
	Ends, Picks int // in the drawing, from the first
	Of          Extent
	l           *layout
}

// Extent is how much of a draft a Picture shows.
type Extent uint8

// The extents.
const (
	WholeDraft Extent = iota
	AllColors         // whole repeats of the weave, as few as show every color
	OneRepeat         // of the weave
	Beginning         // as many ends and picks as fit
)

// Fit lays out a draft in a space, in millimetres, with cells of 1.2 to 4 mm: the first
// of the extents that fits. It ignores the options Repeat, Ends, Picks, Cell and Page. It
// returns an error if the draft can't be drawn.
func Fit(d *schema.Draft, o Options, wide, high float64) (*Picture, error) {
	o.Repeat, o.Cell = false, 0
	for _, shown := range []Extent{WholeDraft, AllColors, OneRepeat} {
		ends, picks := threadsOf(d, shown)
		if float64(ends) > wide/minCell || float64(picks) > high/minCell {
			continue
		}
		o.Ends, o.Picks = ends, picks
		l, err := newLayout(d, o, minCell)
		if err != nil {
			return nil, err
		}
		if l.enlarge(wide, high) {
			return &Picture{l.ends, l.picks, shown, l}, nil
		}
	}
	l, err := beginning(d, o, wide, high)
	if err != nil {
		return nil, err
	}
	return &Picture{l.ends, l.picks, Beginning, l}, nil
}

// threadsOf returns the ends and the picks of an extent of a draft.
func threadsOf(d *schema.Draft, shown Extent) (ends, picks int) {
	c := cloth.Of(d)
	if shown == WholeDraft {
		return c.Ends(), c.Picks()
	}
	ends, picks = c.Repeat()
	if shown == AllColors {
		ends, picks = withAllColors(&d.Warp, ends, c.Ends()), withAllColors(&d.Weft, picks, c.Picks())
	}
	return ends, picks
}

// withAllColors returns how many threads of a system in whole repeats show all its colors.
func withAllColors(system *schema.System, repeat, all int) int {
	seen, last := map[int]bool{}, 1
	for n := 1; n <= all; n++ {
		if color := system.ColorOf(n); !seen[color] {
			seen[color], last = true, n
		}
	}
	if repeat == 0 {
		return all
	}
	return min((last+repeat-1)/repeat*repeat, all)
}

// enlarge sets the largest cells that fit in a space, and reports whether any do.
func (l *layout) enlarge(wide, high float64) bool {
	for tenths := usualCell * 10; tenths >= minCell*10; tenths-- {
		l.scale(tenths / 10)
		if l.fits(wide, high) {
			return true
		}
	}
	return false
}

// beginning lays out as many ends and picks as fit in a space.
func beginning(d *schema.Draft, o Options, wide, high float64) (*layout, error) {
	o.Repeat, o.Ends, o.Picks = false, int(wide/minCell), int(high/minCell)
	for {
		l, err := newLayout(d, o, minCell)
		if err != nil {
			return nil, err
		}
		over, below := l.width-int(wide/minCell), l.height-int(high/minCell)
		if over <= 0 && below <= 0 {
			return l, nil
		}
		o.Ends, o.Picks = l.ends-max(over, 0), l.picks-max(below, 0)
		if o.Ends < 1 || o.Picks < 1 {
			return nil, fmt.Errorf("%s and %s leave no room for the cloth on a page",
				wording.Counted(l.shafts, "shaft"), wording.Counted(l.treadles, "treadle"))
		}
	}
}

// Size returns the width and the height of a picture in millimetres.
func (p *Picture) Size() (wide, high float64) {
	return float64(p.l.width) * p.l.mm, float64(p.l.height) * p.l.mm
}

// SVG writes a picture as SVG does.
func (p *Picture) SVG(w io.Writer, name string) error {
	wide, high := p.Size()
	return writeSVG(w, p.l, pageLayout{width: wide, height: high}, name)
}

// AddTo draws a picture on the current page of a document from NewPDF, with its top left
// corner at left and top, in millimetres.
func (p *Picture) AddTo(doc *fpdf.Fpdf, left, top float64) {
	_, high := doc.GetPageSize()
	view := p.l.bounds()
	s := &page{doc: doc, mm: p.l.mm, view: view, left: left, top: top, height: high}
	s.begin(p.l, "")
	p.l.draw(s, view)
	s.finish()
}

// Text writes a picture in characters, as Text does.
func (p *Picture) Text(w io.Writer) error { return writeText(w, p.l) }
