package diagram

import (
	"bytes"
	"fmt"
	"image/color"
	"image/png"
	"io"
	"strconv"
	"strings"
	"time"
	"unicode"

	"codeberg.org/go-pdf/fpdf"

	"fettle/schema"
	"fettle/schema/wording"
)

// PDF draws a draft for printing: on one page where it fits with cells of 1.2
// mm or more, else spread over several that overlap. Text is text, and the rest
// is lines and areas, but for a cloth of more than mostShapes cells.
//
// The error is that of the writer, or says why the draft cannot be drawn.
func PDF(w io.Writer, d *schema.Draft, o Options) error {
	l, err := newLayout(d, o, 0)
	if err != nil {
		return err
	}
	s, err := spreadOver(l)
	if err != nil {
		return err
	}
	doc := NewPDF(Title(d), o.Page)
	pictured := l.ends*l.picks > mostShapes
	if pictured {
		var b bytes.Buffer
		if err := png.Encode(&b, l.clothPicture()); err != nil {
			return fmt.Errorf("the cloth could not be drawn: %w", err)
		}
		doc.RegisterImageOptionsReader(clothName, fpdf.ImageOptions{ImageType: "PNG"}, &b)
	}
	for i, view := range s.views {
		doc.AddPageFormat("P", fpdf.SizeType{Wd: s.wide, Ht: s.high})
		drawPage(doc, l, s, i, view, pictured)
	}
	if err := doc.Output(w); err != nil {
		return fmt.Errorf("the PDF could not be written: %w", err)
	}
	return nil
}

// mostShapes is how many cells of cloth a PDF has as areas. A larger cloth is a
// picture of one pixel a cell, which prints the same and takes a bit a cell of
// memory rather than several bytes.
const mostShapes = 1_000_000

// clothName is the name of that picture in a document.
const clothName = "cloth"

// NewPDF begins a PDF document for a paper, upright, in millimetres, with the
// fonts "go" in regular and bold ("B"). It says nothing of when it was made, so
// that the same draft always gives the same file.
func NewPDF(title string, paper Page) *fpdf.Fpdf {
	wide, high := paper.Size()
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: wide, Ht: high}})
	doc.SetCatalogSort(true)
	doc.SetCreationDate(time.Unix(0, 0).UTC())
	doc.SetModificationDate(time.Unix(0, 0).UTC())
	doc.SetProducer("fettle", true)
	doc.SetTitle(strings.Map(basic, title), true)
	doc.SetAutoPageBreak(false, 0)
	AddFont(doc, "go", "", Regular())
	AddFont(doc, "go", "B", Bold())
	return doc
}

// basic returns a character of the basic plane, which is all that the library can
// write into a title.
func basic(r rune) rune {
	if r > 0xffff {
		return unicode.ReplacementChar
	}
	return r
}

// AddFont adds a TrueType font to a document, in a style ("" or "B"). The
// document gets a copy: fpdf writes into the bytes of a font whose last glyphs
// share a width, so the next document would differ.
func AddFont(doc *fpdf.Fpdf, family, style string, ttf []byte) {
	doc.AddUTF8FontFromBytes(family, style, bytes.Clone(ttf))
}

// drawPage draws a sheet, and where there are several, which it is and where
// they meet.
func drawPage(doc *fpdf.Fpdf, l *layout, s sheets, i int, view rect, pictured bool) {
	p := &page{doc: doc, mm: l.mm, view: view, height: s.high}
	if len(s.views) > 1 {
		p.left, p.top = edge, edge+heading
	} else {
		p.left, p.top = (s.wide-float64(view.w)*l.mm)/2, 0
	}
	p.begin(l, pictured)
	l.drawAround(p, view)
	if !pictured {
		l.drawCloth(p, view)
	}
	l.drawOver(p, view)
	p.finish()
	if len(s.views) > 1 {
		p.sheetLine(l, s, i)
		p.ticks(l, s)
	}
}

// page is a page under way. Shapes are in cells of the drawing, and text goes
// over them.
type page struct {
	doc       *fpdf.Fpdf
	mm        float64
	view      rect
	left, top float64 // where the view begins on the page, in mm
	height    float64
	shapes    bytes.Buffer
	labels    []label
	fillColor color.RGBA
	number    []byte
}

const points = 72 / 25.4 // in a millimetre

// begin has what follows drawn within the view, in cells of the drawing, over the
// picture of the cloth where there is one.
func (p *page) begin(l *layout, pictured bool) {
	unit := p.mm * points
	p.doc.ClipRect(p.left, p.top, float64(p.view.w)*p.mm, float64(p.view.h)*p.mm, false)
	if pictured && !l.grid.cut(p.view).empty() {
		p.doc.ImageOptions(clothName, p.left+float64(l.grid.x-p.view.x)*p.mm, p.top+float64(l.grid.y-p.view.y)*p.mm,
			float64(l.grid.w)*p.mm, float64(l.grid.h)*p.mm, false, fpdf.ImageOptions{AllowNegativePosition: true}, 0, "")
	}
	p.doc.RawWriteStr(fmt.Sprintf("q %.5f 0 0 %.5f %.5f %.5f cm", unit, -unit,
		(p.left-float64(p.view.x)*p.mm)*points, (p.height-p.top+float64(p.view.y)*p.mm)*points))
}

// flush hands shapes on to the page, so that they are kept but once.
func (p *page) flush() {
	p.doc.RawWriteBuf(&p.shapes)
	p.shapes.Reset()
}

// finish writes the text.
func (p *page) finish() {
	p.doc.RawWriteStr("Q")
	for _, t := range p.labels {
		p.write(t)
	}
	p.doc.ClipEnd()
}

// write writes a label.
func (p *page) write(t label) {
	t.words = Settable(t.words)
	style := map[bool]string{true: "B"}[t.bold]
	p.doc.SetFont("go", style, t.size*p.mm*points)
	p.doc.SetTextColor(int(t.color.R), int(t.color.G), int(t.color.B))
	x := p.left + (t.x-float64(p.view.x))*p.mm
	switch t.anchor {
	case atMiddle:
		x -= p.doc.GetStringWidth(t.words) / 2
	case atEnd:
		x -= p.doc.GetStringWidth(t.words)
	}
	p.doc.Text(x, p.top+(t.y-float64(p.view.y))*p.mm, t.words)
}

func (p *page) paint(c color.RGBA) {
	if c != p.fillColor {
		fmt.Fprintf(&p.shapes, "%s rg\n", rgb(c))
		p.fillColor = c
	}
}

func rgb(c color.RGBA) string {
	part := func(v uint8) string { return wording.Decimal(float64(v)/255, 4) }
	return part(c.R) + " " + part(c.G) + " " + part(c.B)
}

// add writes a rectangle as a path.
func (p *page) add(x, y, w, h int) {
	b := p.number[:0]
	for _, n := range [4]int{x, y, w, h} {
		b = append(strconv.AppendInt(b, int64(n), 10), ' ')
	}
	p.number = append(b, "re\n"...)
	p.shapes.Write(p.number)
}

func (p *page) row(y int, runs []run) {
	for _, list := range byColor(runs) {
		p.paint(list[0].color)
		for _, r := range list {
			p.add(r.from, y, r.to-r.from, 1)
		}
		p.shapes.WriteString("f\n")
	}
	p.flush()
}

func (p *page) fill(r rect, c color.RGBA) {
	p.paint(c)
	p.add(r.x, r.y, r.w, r.h)
	p.shapes.WriteString("f\n")
	p.flush()
}

func (p *page) lines(list []line, pen pen) {
	if len(list) == 0 {
		return
	}
	fmt.Fprintf(&p.shapes, "%s RG %s w\n", rgb(pen.color), number(pen.mm/p.mm))
	for _, l := range list {
		fmt.Fprintf(&p.shapes, "%d %d m %d %d l\n", l.x, l.y, l.x+l.w, l.y+l.h)
	}
	p.shapes.WriteString("S\n")
	p.flush()
}

func (p *page) text(t label) { p.labels = append(p.labels, t) }

// sheetLine says which sheet a page is and which threads are on it.
func (p *page) sheetLine(l *layout, s sheets, i int) {
	words := fmt.Sprintf("Sheet %d of %d: row %d, column %d", i+1, len(s.views), i/s.across+1, i%s.across+1)
	if seen := l.grid.cut(p.view); !seen.empty() {
		ends := l.endsAcross(seen.x, seen.right())
		first, last := ends[0], ends[len(ends)-1]
		picks := [2]int{l.pickAt(seen.y), l.pickAt(seen.bottom() - 1)}
		words += fmt.Sprintf("; ends %d to %d, picks %d to %d", min(first, last), max(first, last), min(picks[0], picks[1]), max(picks[0], picks[1]))
	}
	words += ". Sheets overlap up to the ticks."
	p.write(label{x: float64(p.view.x), y: float64(p.view.y) - 2.5/p.mm, size: factType / p.mm, color: grey(), words: words})
}

// ticks show, outside the drawing, how far the sheets beside this one overlap.
func (p *page) ticks(l *layout, s sheets) {
	const long = 2.0 // millimetres
	p.doc.SetDrawColor(0x20, 0x20, 0x24)
	p.doc.SetLineWidth(0.2)
	right, bottom := p.left+float64(p.view.w)*p.mm, p.top+float64(p.view.h)*p.mm
	for _, at := range laps(p.view.x, p.view.right(), l.width, s.lapped) {
		x := p.left + float64(at-p.view.x)*p.mm
		p.doc.Line(x, p.top-long, x, p.top)
		p.doc.Line(x, bottom, x, bottom+long)
	}
	for _, at := range laps(p.view.y, p.view.bottom(), l.height, s.lapped) {
		y := p.top + float64(at-p.view.y)*p.mm
		p.doc.Line(p.left-long, y, p.left, y)
		p.doc.Line(right, y, right+long, y)
	}
}

// laps are the cells up to which the sheets before and after overlap one that
// shows a stretch of the drawing.
func laps(from, to, all, lapped int) []int {
	var list []int
	if from > 0 {
		list = append(list, from+lapped)
	}
	if to < all {
		list = append(list, to-lapped)
	}
	return list
}
