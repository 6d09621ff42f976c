package diagram

import (
	"fmt"
	"math"

	"fettle/schema"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

// Options say what is drawn and how. The zero value draws the face of the whole
// draft, filled where the warp is up, end 1 at the right and pick 1 at the top.
type Options struct {
	Show   Show
	Back   bool // the back of the cloth, turned over sideways
	End1   Side
	Pick1  Edge
	Repeat bool           // one repeat of the cloth, not all of it
	Ends   int            // draw only so many ends, from end 1; 0: all
	Picks  int            // draw only so many picks, from pick 1; 0: all
	Cell   measure.Length // side of a cell; 0: as large as suits the size
	Every  int            // a heavier line each so many threads; 0: 4
	Floats int            // outline floats over more than so many threads; 0: none
	Sley   []int          // ends in each dent, in order from the centre on; none: no row for the reed
	DPI    int            // pixels an inch, PNG only; 0: 192
	Page   Page           // PDF only
	Marks  []Mark         // threads to point at
	Bare   bool           // no caption: the page around the drawing has it
}

// Show says what a cell of the cloth shows.
type Show uint8

// What a cell can show.
const (
	Weave Show = iota // filled where the warp is up, else empty
	Yarn              // the color of the thread on the face
)

// Side is where end 1 is drawn.
type Side uint8

// The sides.
const (
	Right Side = iota
	Left
)

// Edge is where pick 1 is drawn.
type Edge uint8

// The edges.
const (
	Top Edge = iota
	Bottom
)

// Page is a size of paper.
type Page uint8

// The papers. A drawing that does not fit is spread over several sheets.
const (
	A4 Page = iota
	Letter
	A3
	Legal
	OnePage // one page as large as the drawing
)

// Size is the paper upright, in millimetres; that of A4 where the page is as
// large as the drawing.
func (p Page) Size() (width, height float64) {
	switch p {
	case Letter:
		return 215.9, 279.4
	case A3:
		return 297, 420
	case Legal:
		return 215.9, 355.6
	}
	return 210, 297
}

func (p Page) String() string { return [...]string{"A4", "Letter", "A3", "Legal", "one page"}[p] }

// Mark points at threads, under a number that a text beside the drawing goes by.
type Mark struct {
	System  schema.SystemName
	Threads []int // ascending
	Number  int
}

// Bounds of a drawing. What is larger is refused.
const (
	MostCells  = 48_000_000 // of cloth, threading and lifts together
	mostPixels = 48_000_000
	mostPages  = 200
	mostFloats = 100_000 // outlined
	mostPageMM = 5080    // the side of a PDF page
)

// Bounds of what options can be.
const (
	leastCell, mostCell = 0.1, 50 // millimetres
	leastDPI, mostDPI   = 18, 2400
	MostInDent          = 100 // ends, and dents in a sleying order
)

// Check refuses options out of their bounds.
func (o *Options) Check() error {
	switch {
	case o.Cell != 0 && !(o.Cell >= leastCell && o.Cell <= mostCell):
		return fmt.Errorf("a cell is from %s to %d mm wide, not %s mm", wording.Decimal(leastCell, 1), mostCell, wording.Decimal(float64(o.Cell), 2))
	case o.DPI != 0 && (o.DPI < leastDPI || o.DPI > mostDPI):
		return fmt.Errorf("a picture has from %d to %d pixels an inch, not %d", leastDPI, mostDPI, o.DPI)
	case min(o.Every, o.Floats, o.Ends, o.Picks) < 0:
		return fmt.Errorf("a count of threads is 0 or more, not %d", min(o.Every, o.Floats, o.Ends, o.Picks))
	}
	return nil
}

func (o *Options) every() int {
	if o.Every == 0 {
		return 4
	}
	return o.Every
}

func (o *Options) dpi() float64 {
	if o.DPI == 0 {
		return 192
	}
	return float64(o.DPI)
}

// cellFor is the side of a cell in millimetres where none was asked for: the
// longer side is about 300 mm, and no cell is over 4 mm or under 0.5 mm.
func cellFor(longer int) float64 {
	mm := 300 / float64(max(longer, 1))
	return math.Floor(min(max(mm, 0.5), 4)*10) / 10
}
