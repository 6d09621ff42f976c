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

// PDF draws a draft for printing: on one page if it fits with cells of 1.2 mm or more,
// otherwise on several that overlap. If the draft takes more than two, PDF draws one repeat,
// and Remark says so; Whole prevents that. Text is text, and the rest is lines and areas, except
// for a cloth of more than maxShapes cells. It returns an error if the draft can't be drawn
// or written.
func PDF(w io.Writer, d *schema.Draft, o Options) error {
	l, err := newLayout(d, o, 0)
	if err != nil {
		return err
	}
	l, s, err := paginate(l)
	if err != nil {
		return err
	}
	doc := NewPDF(Title(d), o.Page)
	if err := addPages(doc, l, s, "cloth", maxShapes); err != nil {
		return err
	}
	if err := doc.Output(w); err != nil {
		return fmt.Errorf("can't write the PDF: %w", err)
	}
	return nil
}

// maxShapes is the largest number of cloth cells that a PDF has as areas. A larger cloth is a
// picture with one pixel a cell. It prints the same and takes less memory: one bit a cell.
const maxShapes = 1_000_000

// addPages adds the pages of a drawing to a document. A cloth of more than so many cells
// becomes a picture with a name of its own.
func addPages(doc *fpdf.Fpdf, l *layout, s pageLayout, name string, most int) error {
	if l.grid.w*l.grid.h <= most {
		name = ""
	} else {
		var b bytes.Buffer
		if err := png.Encode(&b, l.clothPicture()); err != nil {
			return fmt.Errorf("can't draw the cloth: %w", err)
		}
		doc.RegisterImageOptionsReader(name, fpdf.ImageOptions{ImageType: "PNG"}, &b)
	}
	for i, view := range s.views {
		doc.AddPageFormat("P", fpdf.SizeType{Wd: s.width, Ht: s.height})
		drawPage(doc, l, s, i, view, name)
	}
	return nil
}

// NewPDF returns an empty PDF document for an upright paper, in millimetres, with the font
// "go" in regular ("") and bold ("B"). It has no date, so that the same draft always gives
// the same file.
func NewPDF(title string, paper Page) *fpdf.Fpdf {
	wide, high := paper.Size()
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: wide, Ht: high}})
	doc.SetCatalogSort(true)
	doc.SetCreationDate(time.Unix(0, 0).UTC())
	doc.SetModificationDate(time.Unix(0, 0).UTC())
	doc.SetProducer("fettle", true)
	doc.SetTitle(strings.Map(basicPlane, title), true)
	doc.SetAutoPageBreak(false, 0)
	AddFont(doc, "go", "", Regular())
	AddFont(doc, "go", "B", Bold())
	return doc
}

// basicPlane returns characters of the basic plane; the library can't write others in a
// title.
func basicPlane(r rune) rune {
	if r > 0xffff {
		return unicode.ReplacementChar
	}
	return r
}

// AddFont adds a TrueType font to a document in a style ("" or "B"). It copies the font,
// because fpdf writes into the bytes of some fonts, which would change the next document.
func AddFont(doc *fpdf.Fpdf, family, style string, ttf []byte) {
	doc.AddUTF8FontFromBytes(family, style, bytes.Clone(ttf))
}

// drawPage draws a sheet. If there are several, it also draws its number and where they meet.
// picture is the name of the picture of the cloth, "" for none.
func drawPage(doc *fpdf.Fpdf, l *layout, s pageLayout, i int, view rect, picture string) {
	p := &page{doc: doc, mm: l.mm, view: view, height: s.height}
	if len(s.views) > 1 {
		p.left, p.top = s.left, s.top
	} else {
		p.left, p.top = (s.width-float64(view.w)*l.mm)/2, 0
	}
	p.begin(l, picture)
	if picture == "" {
		l.draw(p, view)
	} else {
		l.drawAround(p, view)
		l.drawOver(p, view)
	}
	p.finish()
	switch {
	case len(s.views) == 1:
	case len(l.stacked) > 0:
		p.writeAbove(s, l.stripsSheet(s, i))
	default:
		p.writeSheetLine(l, s, i)
		for _, t := range l.edgeNumbers(view) {
			p.write(t)
		}
		p.drawTicks(l, s)
	}
}

// page is the current page. Shapes are in cells of the drawing. Text is drawn last.
type page struct {
	doc       *fpdf.Fpdf
	mm        float64
	view      rect
	left, top float64 // the corner of the view on the page, in mm
	height    float64
	shapes    bytes.Buffer
	labels    []label
	fillColor color.RGBA
	number    []byte
}

const points = 72 / 25.4 // in a millimetre

// begin starts drawing within the view, in cells, over the picture of the cloth if there is
// one.
func (p *page) begin(l *layout, picture string) {
	unit := p.mm * points
	p.doc.ClipRect(p.left, p.top, float64(p.view.w)*p.mm, float64(p.view.h)*p.mm, false)
	if picture != "" && !l.grid.intersect(p.view).empty() {
		p.doc.ImageOptions(picture, p.left+float64(l.grid.x-p.view.x)*p.mm, p.top+float64(l.grid.y-p.view.y)*p.mm,
			float64(l.grid.w)*p.mm, float64(l.grid.h)*p.mm, false, fpdf.ImageOptions{AllowNegativePosition: true}, 0, "")
	}
	p.doc.RawWriteStr(fmt.Sprintf("q %.5f 0 0 %.5f %.5f %.5f cm", unit, -unit,
		(p.left-float64(p.view.x)*p.mm)*points, (p.height-p.top+float64(p.view.y)*p.mm)*points))
}

// flush moves the shapes to the page.
func (p *page) flush() {
	p.doc.RawWriteBuf(&p.shapes)
	p.shapes.Reset()
}

func (p *page) finish() {
	p.doc.RawWriteStr("Q")
	for _, t := range p.labels {
		p.write(t)
	}
	p.doc.ClipEnd()
}

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

// add adds a rectangle to the path.
func (p *page) add(x, y, w, h int) {
	b := p.number[:0]
	for _, n := range [4]int{x, y, w, h} {
		b = append(strconv.AppendInt(b, int64(n), 10), ' ')
	}
	p.number = append(b, "re\n"...)
	p.shapes.Write(p.number)
}

func (p *page) row(y, high int, runs []run) {
	for _, list := range byColor(runs) {
		p.paint(list[0].color)
		for _, r := range list {
			p.add(r.from, y, r.to-r.from, high)
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

func (p *page) strokes(list []stroke, pen pen) {
	if len(list) == 0 {
		return
	}
	fmt.Fprintf(&p.shapes, "%s RG %s w\n", rgb(pen.color), number(pen.mm/p.mm))
	for _, l := range list {
		fmt.Fprintf(&p.shapes, "%s %s m %s %s l\n", number(l.x1), number(l.y1), number(l.x2), number(l.y2))
	}
	p.shapes.WriteString("S\n")
	p.flush()
}

func (p *page) text(t label) { p.labels = append(p.labels, t) }

// writeSheetLine writes which sheet a page is and which threads it shows.
func (p *page) writeSheetLine(l *layout, s pageLayout, i int) {
	words := fmt.Sprintf("Sheet %d of %d: row %d, column %d", i+1, len(s.views), i/s.across+1, i%s.across+1)
	var shown []string
	if b, seen := l.inView(l.warpOwner(), p.view); !seen.empty() {
		first, last := l.drawnEnds(b, seen)
		shown = append(shown, fmt.Sprintf("ends %d to %d", first, last))
	}
	if b, seen := l.inView(l.weftOwner(), p.view); !seen.empty() {
		a, z := l.pickAt(b, seen.y), l.pickAt(b, seen.bottom()-1)
		shown = append(shown, fmt.Sprintf("picks %d to %d", min(a, z), max(a, z)))
	}
	if len(shown) > 0 {
		words += "; " + strings.Join(shown, ", ")
	}
	p.writeAbove(s, words+". Sheets overlap up to the ticks.")
}

// writeAbove writes a line above the view.
func (p *page) writeAbove(s pageLayout, words string) {
	p.write(label{x: float64(p.view.x), y: float64(p.view.y) - (s.top-pageMargin-headingRoom+2.5)/p.mm, size: sheetType / p.mm, color: grey(), words: words})
}

// drawTicks shows, outside the drawing, how far the sheets beside this one overlap.
func (p *page) drawTicks(l *layout, s pageLayout) {
	p.doc.SetDrawColor(0x20, 0x20, 0x24)
	p.doc.SetLineWidth(0.2)
	right, bottom := p.left+float64(p.view.w)*p.mm, p.top+float64(p.view.h)*p.mm
	for _, at := range sharedEdges(p.view.x, p.view.right(), l.width, s.shared) {
		x := p.left + float64(at-p.view.x)*p.mm
		p.doc.Line(x, p.top-tickLong, x, p.top)
		p.doc.Line(x, bottom, x, bottom+tickLong)
	}
	for _, at := range sharedEdges(p.view.y, p.view.bottom(), l.height, s.shared) {
		y := p.top + float64(at-p.view.y)*p.mm
		p.doc.Line(p.left-tickLong, y, p.left, y)
		p.doc.Line(right, y, right+tickLong, y)
	}
}

// sharedEdges returns the cells up to which the neighbouring sheets overlap one that shows a
// stretch of the drawing.
func sharedEdges(from, to, all, lapped int) []int {
	var list []int
	if from > 0 {
		list = append(list, from+lapped)
	}
	if to < all {
		list = append(list, to-lapped)
	}
	return list
}
