package diagram

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/math/fixed"

	"fettle/schema"
)

// PNG draws a draft as a picture of pixels. A cell is a whole number of pixels,
// as near to the size and resolution asked for as there is; where no size was
// asked for, as many as keep the picture within mostPixels.
//
// The error is that of the writer, or says why the draft cannot be drawn.
func PNG(w io.Writer, d *schema.Draft, o Options) error {
	l, err := newLayout(d, o, 0)
	if err != nil {
		return err
	}
	px := max(int(math.Round(l.mm*o.dpi()/25.4)), 1)
	for ; ; px-- {
		l.scale(float64(px) / o.dpi() * 25.4)
		if float64(l.width)*float64(l.height)*float64(px*px) <= mostPixels {
			break
		}
		if o.Cell != 0 || px == 1 {
			return fmt.Errorf("the picture would be %d by %d pixels, and %d in all is the most: draw smaller cells with --cell, fewer pixels with --dpi, or one repeat with --repeat",
				l.width*px, l.height*px, mostPixels)
		}
	}
	p, err := newPixels(l, px, o.dpi())
	if err != nil {
		return err
	}
	whole := rect{0, 0, l.width, l.height}
	picture := &bands{pixels: p, part: whole, draw: func() { l.draw(p, whole) }, most: mostBandPixels}
	if err := png.Encode(w, picture); err != nil {
		return fmt.Errorf("the picture could not be written: %w", err)
	}
	return nil
}

// mostBandPixels is how many pixels of a picture are held at once, four bytes each.
const mostBandPixels = 8_000_000

// bands is the picture of a part of a drawing, of which it holds a band of rows
// at a time. It draws the band that is asked for, so it is quick where rows are
// read in order.
type bands struct {
	pixels *pixels
	part   rect       // of the drawing, in cells
	draw   func()     // draws onto pixels, at least that part
	most   int        // pixels of a band, but at least one row
	pixel  color.RGBA // the one read last
}

// ColorModel returns that of image.RGBA.
func (b *bands) ColorModel() color.Model { return color.RGBAModel }

// Bounds returns the rectangle of the whole picture.
func (b *bands) Bounds() image.Rectangle { return b.pixels.area(b.part) }

// Opaque reports that no pixel is transparent.
func (b *bands) Opaque() bool { return true }

// At returns the color of a pixel. It is good until the next call.
func (b *bands) At(x, y int) color.Color {
	if held := b.pixels.image.Rect; y < held.Min.Y || y >= held.Max.Y {
		all := b.Bounds()
		high := max(b.most/all.Dx(), 1)
		from := y - (y-all.Min.Y)%high
		b.pixels.begin(image.Rect(all.Min.X, from, all.Max.X, from+high).Intersect(all))
		b.draw()
	}
	b.pixel = b.pixels.image.RGBAAt(x, y)
	return &b.pixel
}

// indexed is a picture of 256 colors at most, each pixel a number of one.
type indexed struct {
	*bands
	palette color.Palette
	numbers map[color.RGBA]uint8
}

// ColorModel returns the palette.
func (p *indexed) ColorModel() color.Model { return p.palette }

// ColorIndexAt returns the number of a pixel's color.
func (p *indexed) ColorIndexAt(x, y int) uint8 {
	p.At(x, y)
	return p.numbers[p.pixel]
}

// clothPicture returns the cloth as a picture of one pixel a cell, without lines.
func (l *layout) clothPicture() image.Image {
	p := &pixels{image: image.NewRGBA(image.Rectangle{}), cell: 1}
	b := &bands{pixels: p, part: l.grid, draw: func() { l.drawCloth(p, l.grid) }, most: mostBandPixels}
	few := &indexed{bands: b, numbers: map[color.RGBA]uint8{}}
	for _, c := range l.clothColors() {
		if _, known := few.numbers[c]; known {
			continue
		}
		if len(few.palette) == 256 {
			return b
		}
		few.numbers[c] = uint8(len(few.palette))
		few.palette = append(few.palette, c)
	}
	return few
}

// pixels draws one band of a picture. What lies outside of it is left out.
type pixels struct {
	image *image.RGBA // the band
	cell  int         // pixels
	dpi   float64
	faces map[typeface]font.Face
}

// typeface is a font at a size in pixels.
type typeface struct {
	bold   bool
	pixels float64
}

func newPixels(l *layout, cell int, dpi float64) (*pixels, error) {
	p := &pixels{image: image.NewRGBA(image.Rectangle{}), cell: cell, dpi: dpi, faces: map[typeface]font.Face{}}
	for _, mm := range []float64{titleType, factType, numberType} {
		for _, bold := range []bool{false, true} {
			ttf := Regular()
			if bold {
				ttf = Bold()
			}
			size := p.typeSize(mm / l.mm)
			f, err := face(ttf, size)
			if err != nil {
				return nil, err
			}
			p.faces[typeface{bold, size}] = f
		}
	}
	return p, nil
}

// begin empties the picture for a band.
func (p *pixels) begin(band image.Rectangle) {
	if band.Size() != p.image.Rect.Size() {
		p.image = image.NewRGBA(band)
	}
	p.image.Rect = band
	p.paint(band, paper())
}

// typeSize is a size in cells as pixels.
func (p *pixels) typeSize(cells float64) float64 {
	return math.Round(cells*float64(p.cell)*100) / 100
}

func (p *pixels) paint(r image.Rectangle, c color.RGBA) {
	draw.Draw(p.image, r, &image.Uniform{c}, image.Point{}, draw.Src)
}

// area is a rectangle of cells in pixels.
func (p *pixels) area(r rect) image.Rectangle {
	return image.Rect(r.x*p.cell, r.y*p.cell, r.right()*p.cell, r.bottom()*p.cell)
}

func (p *pixels) fill(r rect, c color.RGBA) { p.paint(p.area(r), c) }

func (p *pixels) row(y int, runs []run) {
	if (y+1)*p.cell <= p.image.Rect.Min.Y || y*p.cell >= p.image.Rect.Max.Y {
		return
	}
	for _, r := range runs {
		p.fill(rect{r.from, y, r.to - r.from, 1}, r.color)
	}
}

// lines draws lines in whole pixels, centred on the edge of a cell as far as
// that goes. None covers a cell's middle.
func (p *pixels) lines(list []line, pen pen) {
	thick := max(int(math.Round(pen.mm*p.dpi/25.4)), 1)
	thick = min(thick, p.cell/2)
	back := thick / 2
	for _, l := range list {
		x, y := l.x*p.cell-back, l.y*p.cell-back
		p.paint(image.Rect(x, y, x+l.w*p.cell+thick, y+l.h*p.cell+thick), pen.color)
	}
}

func (p *pixels) text(t label) {
	f := p.faces[typeface{t.bold, p.typeSize(t.size)}]
	if f == nil {
		return
	}
	t.words = Settable(t.words)
	at := t.x * float64(p.cell)
	wide := float64(font.MeasureString(f, t.words)) / 64
	switch t.anchor {
	case atMiddle:
		at -= wide / 2
	case atEnd:
		at -= wide
	}
	d := font.Drawer{Dst: p.image, Src: &image.Uniform{t.color}, Face: f,
		Dot: fixed.Point26_6{X: fixed.Int26_6(math.Round(at * 64)), Y: fixed.Int26_6(math.Round(t.y * float64(p.cell) * 64))}}
	d.DrawString(t.words)
}
