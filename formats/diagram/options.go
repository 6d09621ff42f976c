package diagram

import (
	"errors"
	"fmt"
	"math"

	"fettle/schema"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

// Options sets what is drawn and how. The zero value draws the face of the whole draft, with
// cells filled where the warp is up, end 1 at the right and pick 1 at the top.
type Options struct {
	Parts     Parts // drawn; 0: all that the draft has
	Scales    Scales
	Show      Show
	Back      bool // the back of the cloth, turned over sideways
	End1      Side
	Pick1     Edge
	Repeat    bool           // only one repeat of the cloth
	Whole     bool           // PDF: never one repeat instead of many pages
	FirstEnd  int            // the first end to draw; 0: end 1
	FirstPick int            // the first pick to draw; 0: pick 1
	Ends      int            // draw only so many ends; 0: all
	Picks     int            // draw only so many picks; 0: all
	Cell      measure.Length // size of a cell; 0: a suitable size
	Every     int            // threads between heavier lines; 0: 4
	Floats    int            // outline floats over more threads; 0: none
	Sley      []int          // ends in each dent, in order from the centre; none: no row for the reed
	DPI       int            // pixels an inch, PNG only; 0: 192
	Page      Page           // the paper of a PDF; with FitPage also of other drawings
	FitPage   bool           // scale the drawing to one page
	Large     bool           // type and cells that are legible at two metres
	Width     int            // text only: the longest line in characters; 0: no limit
	Yarns     map[int]string // names of yarns by palette number, for the legend
	Marks     []Mark         // threads to mark
	Bare      bool           // no caption, because the page has one

	// Remark is called with a sentence about what the drawing leaves out, without a
	// capital or a full stop; nil for nobody to tell.
	Remark func(text string)
}

// Parts is a set of parts of a draft.
type Parts uint8

// The parts. PartTreadling is the lift plan if the draft has one.
const (
	PartThreading Parts = 1 << iota
	PartTieup
	PartTreadling
	PartCloth
)

// Scales sets how many cells of the cloth a cell of each other part is wide and high; 0
// means 1.
type Scales struct{ Threading, Tieup, Treadling int }

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
	MaxScale  = 20
	sheets    = 2 // pages above which a PDF shows one repeat instead of the whole draft
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
	case o.FitPage && o.Page == OnePage:
		return errors.New("a drawing can't fit a page of its own size; choose a paper with --page, or leave out --fit-page")
	case o.FitPage && o.Cell != 0:
		return errors.New("fettle chooses the size of the cells to fit the page; leave out --cell, or --page and --fit-page")
	}
	for _, scale := range []int{o.Scales.Threading, o.Scales.Tieup, o.Scales.Treadling} {
		if scale < 0 || scale > MaxScale {
			return fmt.Errorf("a scale must be from 1 to %d, not %d", MaxScale, scale)
		}
	}
	return nil
}

// remark passes a sentence on.
func (o *Options) remark(format string, args ...any) {
	if o.Remark != nil {
		o.Remark(fmt.Sprintf(format, args...))
	}
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

// Sizes of cells in millimetres.
const (
	smallestCell = 0.5  // by default, outside pages
	usualCell    = 4.0  // the largest by default
	alone        = 12.0 // the same for parts without the cloth
	ofRepeat     = 7.0  // the same for one repeat on a page of its own
	usualLength  = 300  // of the longer side of a drawing outside pages
)

// largestCell returns the largest default size of a cell.
func (o *Options) largestCell() float64 {
	if o.Parts != 0 && o.Parts&PartCloth == 0 || o.Large {
		return alone
	}
	return usualCell
}

// cellFor returns the default size of a cell in millimetres, for a drawing of so many cells
// on its longer side.
func (o *Options) cellFor(longer int) float64 {
	least := smallestCell
	if o.Large {
		least = o.legibleCell()
	}
	mm := usualLength / float64(max(longer, 1))
	return math.Floor(min(max(mm, least), o.largestCell())*10) / 10
}

// legibleCell returns the smallest cell of a drawing that has a choice.
func (o *Options) legibleCell() float64 {
	if o.Large {
		return 3
	}
	return minCell
}

// tiledCell returns a cell of a drawing on several pages.
func (o *Options) tiledCell() float64 {
	if o.Large {
		return 4
	}
	return 2
}
