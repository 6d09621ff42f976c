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

// PNG draws a draft in pixels. A cell is a whole number of pixels, as close as possible to the
// chosen size and resolution. Without a chosen size, the picture has at most maxPixels. It
// returns an error if the draft can't be drawn or written.
func PNG(w io.Writer, d *schema.Draft, o Options) error {
	l, err := newLayout(d, o, 0)
	if err != nil {
		return err
	}
	picture, err := l.onPixels()
	if err != nil {
		return err
	}
	if err := png.Encode(w, picture); err != nil {
		return fmt.Errorf("can't write the picture: %w", err)
	}
	return nil
}

// onPixels lays the drawing out in whole pixels, on a page if the options ask for one.
func (l *layout) onPixels() (*bands, error) {
	o := l.options
	var sheet pageLayout
	var err error
	if o.FitPage {
		if sheet, err = l.onOnePage(); err != nil {
			return nil, err
		}
	}
	pixel := func(mm float64) float64 { return mm * o.dpi() / 25.4 }
	px := max(int(math.Round(pixel(l.mm))), 1)
	for ; ; px-- {
		l.scale(float64(px*l.finer) / o.dpi() * 25.4)
		wide, high := l.width*px, l.height*px
		if o.FitPage {
			if !l.fits(sheet.width, sheet.height) && px > 1 {
				continue
			}
			wide, high = int(math.Round(pixel(sheet.width))), int(math.Round(pixel(sheet.height)))
		}
		if float64(wide)*float64(high) <= maxPixels && wide >= l.width*px && high >= l.height*px {
			b := &bands{part: image.Rect(0, 0, wide, high).Sub(image.Pt((wide-l.width*px)/2, 0)), maxPixels: maxBandPixels}
			b.pixels = newPixels(px, o.dpi())
			b.draw = func() { l.draw(b.pixels, l.bounds()) }
			return b, nil
		}
		switch {
		case o.FitPage:
			return nil, fmt.Errorf("the page would be %d by %d pixels, and the drawing doesn't fit or exceeds the limit of %d in all; choose another --dpi, or draw one repeat with --repeat", wide, high, maxPixels)
		case o.Cell != 0 || px == 1:
			return nil, fmt.Errorf("the picture would be %d by %d pixels (limit %d in all); draw smaller cells with --cell, fewer pixels with --dpi, or one repeat with --repeat", wide, high, maxPixels)
		}
	}
}

// maxBandPixels limits the pixels in memory, four bytes each.
const maxBandPixels = 8_000_000

// bands is a picture of a part of a drawing. It holds one band of rows at a time and draws a
// band when a pixel of it is read, so rows should be read in order.
type bands struct {
	pixels    *pixels
	part      image.Rectangle // of the drawing, in pixels
	draw      func()          // draws at least that part onto pixels
	maxPixels int             // of a band, but at least one row
	pixel     color.RGBA      // the last one read
}

// ColorModel returns the color model of image.RGBA.
func (b *bands) ColorModel() color.Model { return color.RGBAModel }

// Bounds returns the rectangle of the whole picture.
func (b *bands) Bounds() image.Rectangle { return b.part }

// Opaque reports that no pixel is transparent.
func (b *bands) Opaque() bool { return true }

// At returns the color of a pixel. It is valid until the next call.
func (b *bands) At(x, y int) color.Color {
	if held := b.pixels.image.Rect; y < held.Min.Y || y >= held.Max.Y {
		all := b.Bounds()
		high := max(b.maxPixels/all.Dx(), 1)
		from := y - (y-all.Min.Y)%high
		b.pixels.begin(image.Rect(all.Min.X, from, all.Max.X, from+high).Intersect(all))
		b.draw()
	}
	b.pixel = b.pixels.image.RGBAAt(x, y)
	return &b.pixel
}

// fewColors is a picture with at most 256 colors.
type fewColors struct {
	*bands
	palette color.Palette
	numbers map[color.RGBA]uint8
}

// ColorModel returns the palette.
func (p *fewColors) ColorModel() color.Model { return p.palette }

// ColorIndexAt returns the number of a pixel's color.
func (p *fewColors) ColorIndexAt(x, y int) uint8 {
	p.At(x, y)
	return p.numbers[p.pixel]
}

// clothPicture returns the cloth as a picture with one pixel a cell, without lines.
func (l *layout) clothPicture() image.Image {
	p := &pixels{image: image.NewRGBA(image.Rectangle{}), cell: 1}
	b := &bands{pixels: p, part: p.area(l.grid.rect), draw: func() { l.drawCloth(p, l.grid.rect) }, maxPixels: maxBandPixels}
	few := &fewColors{bands: b, numbers: map[color.RGBA]uint8{}}
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

// pixels draws one band of a picture. It leaves out everything outside the band.
type pixels struct {
	image *image.RGBA // the band
	cell  int         // pixels
	dpi   float64
	faces map[typeface]font.Face
}

type typeface struct {
	bold   bool
	pixels float64
}

func newPixels(cell int, dpi float64) *pixels {
	return &pixels{image: image.NewRGBA(image.Rectangle{}), cell: cell, dpi: dpi, faces: map[typeface]font.Face{}}
}

// face returns the font in a size, nil if fettle can't read it; the layout has then failed.
func (p *pixels) face(bold bool, size float64) font.Face {
	key := typeface{bold, size}
	if f, known := p.faces[key]; known {
		return f
	}
	ttf := Regular()
	if bold {
		ttf = Bold()
	}
	f, err := face(ttf, size)
	if err != nil {
		return nil
	}
	p.faces[key] = f
	return f
}

// begin clears the picture for a band.
func (p *pixels) begin(band image.Rectangle) {
	if band.Size() != p.image.Rect.Size() {
		p.image = image.NewRGBA(band)
	}
	p.image.Rect = band
	p.paint(band, paper())
}

// typeSize converts a size in cells to pixels.
func (p *pixels) typeSize(cells float64) float64 {
	return math.Round(cells*float64(p.cell)*100) / 100
}

func (p *pixels) paint(r image.Rectangle, c color.RGBA) {
	draw.Draw(p.image, r, &image.Uniform{c}, image.Point{}, draw.Src)
}

// area converts a rectangle of cells to pixels.
func (p *pixels) area(r rect) image.Rectangle {
	return image.Rect(r.x*p.cell, r.y*p.cell, r.right()*p.cell, r.bottom()*p.cell)
}

func (p *pixels) fill(r rect, c color.RGBA) { p.paint(p.area(r), c) }

func (p *pixels) row(y, high int, runs []run) {
	if (y+high)*p.cell <= p.image.Rect.Min.Y || y*p.cell >= p.image.Rect.Max.Y {
		return
	}
	for _, r := range runs {
		p.fill(rect{r.from, y, r.to - r.from, high}, r.color)
	}
}

// lines draws lines in whole pixels, centred on the edges of cells as far as possible. They
// never cover the middle of a cell.
func (p *pixels) lines(list []line, pen pen) {
	thick := max(int(math.Round(pen.mm*p.dpi/25.4)), 1)
	thick = min(thick, p.cell/2)
	back := thick / 2
	for _, l := range list {
		x, y := l.x*p.cell-back, l.y*p.cell-back
		p.paint(image.Rect(x, y, x+l.w*p.cell+thick, y+l.h*p.cell+thick), pen.color)
	}
}

// strokes draws lines as rows of squares, a pixel or more wide.
func (p *pixels) strokes(list []stroke, pen pen) {
	thick := max(int(math.Round(pen.mm*p.dpi/25.4)), 1)
	cell, band := float64(p.cell), p.image.Rect
	for _, l := range list {
		if max(l.y1, l.y2)*cell < float64(band.Min.Y-thick) || min(l.y1, l.y2)*cell > float64(band.Max.Y+thick) {
			continue
		}
		dx, dy := (l.x2-l.x1)*cell, (l.y2-l.y1)*cell
		steps := max(int(math.Ceil(max(math.Abs(dx), math.Abs(dy)))), 1)
		for i := range steps {
			at := (float64(i) + 0.5) / float64(steps)
			x, y := int(l.x1*cell+dx*at)-(thick-1)/2, int(l.y1*cell+dy*at)-(thick-1)/2
			p.paint(image.Rect(x, y, x+thick, y+thick), pen.color)
		}
	}
}

func (p *pixels) text(t label) {
	f := p.face(t.bold, p.typeSize(t.size))
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
