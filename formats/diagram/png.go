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
	l.draw(p, rect{0, 0, l.width, l.height})
	if err := png.Encode(w, p.image); err != nil {
		return fmt.Errorf("the picture could not be written: %w", err)
	}
	return nil
}

// pixels is a picture under way.
type pixels struct {
	image *image.RGBA
	cell  int // pixels
	dpi   float64
	faces map[typeface]font.Face
}

// typeface is a font at a size in pixels.
type typeface struct {
	bold   bool
	pixels float64
}

func newPixels(l *layout, cell int, dpi float64) (*pixels, error) {
	p := &pixels{image: image.NewRGBA(image.Rect(0, 0, l.width*cell, l.height*cell)), cell: cell, dpi: dpi, faces: map[typeface]font.Face{}}
	p.fill(rect{0, 0, l.width, l.height}, paper())
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

// typeSize is a size in cells as pixels.
func (p *pixels) typeSize(cells float64) float64 {
	return math.Round(cells*float64(p.cell)*100) / 100
}

func (p *pixels) paint(r image.Rectangle, c color.RGBA) {
	draw.Draw(p.image, r, &image.Uniform{c}, image.Point{}, draw.Src)
}

func (p *pixels) fill(r rect, c color.RGBA) {
	p.paint(image.Rect(r.x*p.cell, r.y*p.cell, r.right()*p.cell, r.bottom()*p.cell), c)
}

func (p *pixels) row(y int, runs []run) {
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
	at := t.x * float64(p.cell)
	wide := float64(font.MeasureString(f, t.words)) / 64
	switch t.anchor {
	case middle:
		at -= wide / 2
	case end:
		at -= wide
	}
	d := font.Drawer{Dst: p.image, Src: &image.Uniform{t.color}, Face: f,
		Dot: fixed.Point26_6{X: fixed.Int26_6(math.Round(at * 64)), Y: fixed.Int26_6(math.Round(t.y * float64(p.cell) * 64))}}
	d.DrawString(t.words)
}
