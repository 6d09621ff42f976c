package diagram

import (
	"fmt"
	"math"

	"fettle/schema"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

// Options sets what is drawn and how. The zero value draws the face of the whole draft, with
// cells filled where the warp is up, end 1 at the right and pick 1 at the top.
type Options struct {
	Show   Show
	Back   bool // the back of the cloth, turned over sideways
	End1   Side
	Pick1  Edge
	Repeat bool           // only one repeat of the cloth
	Ends   int            // draw only so many ends, from end 1; 0: all
	Picks  int            // draw only so many picks, from pick 1; 0: all
	Cell   measure.Length // size of a cell; 0: a suitable size
	Every  int            // threads between heavier lines; 0: 4
	Floats int            // outline floats over more threads; 0: none
	Sley   []int          // ends in each dent, in order from the centre; none: no row for the reed
	DPI    int            // pixels an inch, PNG only; 0: 192
	Page   Page           // PDF only
	Marks  []Mark         // threads to mark
	Bare   bool           // no caption, because the page has one
}

// Show selects what a cell of the cloth shows.
type Show uint8

// What a cell can show.
const (
	Weave Show = iota // filled if the warp is up, otherwise empty
	Yarn              // the color of the thread on the face
)

// Side is the side of the drawing with end 1.
type Side uint8

// The sides.
const (
	Right Side = iota
	Left
)

// Edge is the edge of the drawing with pick 1.
type Edge uint8

// The edges.
const (
	Top Edge = iota
	Bottom
)

// Page is a size of paper.
type Page uint8

// The papers. A drawing that doesn't fit is split into several sheets.
const (
	A4 Page = iota
	Letter
	A3
	Legal
	OnePage // one page of the size of the drawing
)

// Size returns the size of the upright paper in millimetres; for OnePage, that of A4.
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

// Mark marks threads with a number, for a text beside the drawing.
type Mark struct {
	System  schema.SystemName
	Threads []int // ascending
	Number  int
}

// Limits of a drawing.
const (
	MostCells = 48_000_000 // of cloth, threading and lifts together
	maxPixels = 48_000_000
	maxPages  = 200
	maxFloats = 100_000 // outlined floats
	maxPageMM = 5080    // the side of a PDF page
)

// Limits of options.
const (
	minCellMM, maxCellMM = 0.1, 50 // millimetres
	minDPI, maxDPI       = 18, 2400
	MostInDent           = 100 // ends in a dent, and dents in a sleying order
)

// Check returns an error for options outside their limits.
func (o *Options) Check() error {
	switch {
	case o.Cell != 0 && !(o.Cell >= minCellMM && o.Cell <= maxCellMM):
		return fmt.Errorf("a cell must be %s to %d mm wide, not %s mm", wording.Decimal(minCellMM, 1), maxCellMM, wording.Decimal(float64(o.Cell), 2))
	case o.DPI != 0 && (o.DPI < minDPI || o.DPI > maxDPI):
		return fmt.Errorf("a picture must have %d to %d pixels an inch, not %d", minDPI, maxDPI, o.DPI)
	case min(o.Every, o.Floats, o.Ends, o.Picks) < 0:
		return fmt.Errorf("a count of threads must be 0 or more, not %d", min(o.Every, o.Floats, o.Ends, o.Picks))
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

// cellFor returns the default size of a cell in millimetres: the longer side is about 300 mm,
// and a cell 0.5 to 4 mm.
func cellFor(longer int) float64 {
	mm := 300 / float64(max(longer, 1))
	return math.Floor(min(max(mm, 0.5), 4)*10) / 10
}
