package diagram

import (
	"image/color"

	"fettle/schema"
)

// surface is something to draw on. Places and sizes are in cells from the top left of the
// drawing.
type surface interface {
	row(y, high int, runs []run)  // fills cells of high rows from row y
	fill(r rect, c color.RGBA)    // fills a rectangle
	lines(list []line, p pen)     // draws lines along edges of cells
	strokes(list []stroke, p pen) // draws lines anywhere
	text(l label)                 // writes a line of text
}

// run is cells of a row from one column up to, but not including, another.
type run struct {
	from, to int
	color    color.RGBA
}

// byColor splits runs into lists of one color each, in order of appearance.
func byColor(runs []run) [][]run {
	var lists [][]run
	at := map[color.RGBA]int{}
	for _, r := range runs {
		i, known := at[r.color]
		if !known {
			i = len(lists)
			at[r.color], lists = i, append(lists, nil)
		}
		lists[i] = append(lists[i], r)
	}
	return lists
}

type rect struct{ x, y, w, h int }

func (r rect) right() int  { return r.x + r.w }
func (r rect) bottom() int { return r.y + r.h }

// intersect returns the part of r in another rectangle; it is empty if there is none.
func (r rect) intersect(by rect) rect {
	x, y := max(r.x, by.x), max(r.y, by.y)
	return rect{x, y, max(min(r.right(), by.right())-x, 0), max(min(r.bottom(), by.bottom())-y, 0)}
}

func (r rect) empty() bool { return r.w <= 0 || r.h <= 0 }

// line is a line along edges of cells: horizontal if h is 0, vertical if w is 0.
type line struct{ x, y, w, h int }

// frame returns the four edges of a rectangle.
func frame(r rect) []line {
	return []line{{r.x, r.y, r.w, 0}, {r.x, r.bottom(), r.w, 0}, {r.x, r.y, 0, r.h}, {r.right(), r.y, 0, r.h}}
}

// pen is a line style.
type pen struct {
	mm    float64 // thickness
	color color.RGBA
}

// label is a line of text. Its start, middle or end is at (x, y).
type label struct {
	x, y   float64
	size   float64 // of the type
	anchor anchor
	bold   bool
	color  color.RGBA
	words  string
}

type anchor uint8

const (
	atStart anchor = iota
	atMiddle
	atEnd
)

// The colors of the drawing itself. They also differ in lightness, for prints without color.
func ink() color.RGBA    { return color.RGBA{0x20, 0x20, 0x24, 0xff} }
func paper() color.RGBA  { return color.RGBA{0xff, 0xff, 0xff, 0xff} }
func grey() color.RGBA   { return color.RGBA{0x55, 0x55, 0x5c, 0xff} }
func pale() color.RGBA   { return color.RGBA{0xb4, 0xb4, 0xba, 0xff} }
func signal() color.RGBA { return color.RGBA{0xc0, 0x2a, 0x1d, 0xff} }

func hair() pen    { return pen{0.08, pale()} }
func heavy() pen   { return pen{0.24, grey()} }
func outline() pen { return pen{0.5, signal()} }

// toRGBA returns a color of a palette, or other if the color is unset.
func toRGBA(c schema.Color, other color.RGBA) color.RGBA {
	if !c.Set {
		return other
	}
	return color.RGBA{c.R, c.G, c.B, 0xff}
}

// textColor returns ink or paper, whichever is more legible on a color (relative luminance of
// ITU-R BT.709).
func textColor(c color.RGBA) color.RGBA {
	if 0.2126*float64(c.R)+0.7152*float64(c.G)+0.0722*float64(c.B) > 128 {
		return ink()
	}
	return paper()
}
