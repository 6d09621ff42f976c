package sheet

import (
	"fmt"
	"io"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gomono"

	"fettle/formats/diagram"
	"fettle/schema/dressing"
	"fettle/schema/wording"
)

// PDF writes the sheet as pages of paper. What is read at the loom is in type of
// 14 points, unless a line of it is too long for the page. Steps follow each
// other on a page as long as they fit; what is small is not broken. Behind it all
// is one repeat of the draft, where that can be read on a page. unset are the
// characters of the sheet that its fonts lack.
func PDF(w io.Writer, p *dressing.Plan, o Options) (unset []rune, err error) {
	s := of(p, o)
	count := newDocument(s.title, o.Paper)
	count.sheet(&s)
	t := newDocument(s.title, o.Paper)
	t.pages = count.doc.PageNo()
	t.sheet(&s)
	if draft := p.Drawing(mostDrawn); draft != nil {
		t.sheets = t.doc.PageNo()
		if err := diagram.AddPages(t.doc, draft, drawingOptions(o)); err != nil {
			return nil, fmt.Errorf("the draft could not be drawn on the sheet: %w", err)
		}
	}
	if err := t.doc.Output(w); err != nil {
		return nil, fmt.Errorf("the sheet could not be written: %w", err)
	}
	return t.unset, nil
}

// sheet sets out the sheet. It is done twice, the first time to count the pages.
func (t *document) sheet(s *sheet) {
	t.heading(s.title, 20, false)
	t.table(&s.facts)
	for i := range s.steps {
		t.place(&s.steps[i])
		t.step(&s.steps[i])
	}
}

// Measures of a page in millimetres.
const (
	margin  = 14.0
	foot    = 12.0 // for the footer
	between = 4.0  // columns
	point   = 25.4 / 72
	leading = 1.4 // of a line, in sizes of its type
)

// Sizes of type in points.
const (
	textType  = 11.0
	tableType = 10.5
	largeType = 14.0
	leastType = 7.0
)

// typeface is a font at a size in points.
type typeface struct {
	family, style string
	size          float64
}

func (f typeface) line() float64 { return f.size * point * leading }

// document is a PDF under way.
type document struct {
	doc    *fpdf.Fpdf
	room   float64 // from margin to margin
	high   float64 // of the page
	y      float64 // where the next line begins
	dry    bool    // only measuring: nothing is written
	pages  int     // of the sheet in all; 0 while they are counted
	sheets int     // pages that belong to the sheet; 0 while it grows
	unset  []rune  // characters that were to be written and the fonts lack, each once
	lacked map[rune]bool
}

func newDocument(title string, paper diagram.Page) *document {
	wide, high := paper.Size()
	t := &document{doc: diagram.NewPDF(diagram.Legible(title, longText), paper), room: wide - 2*margin, high: high, lacked: map[rune]bool{}}
	diagram.AddFont(t.doc, "mono", "", gomono.TTF)
	t.doc.SetFooterFunc(func() {
		if t.sheets == 0 || t.doc.PageNo() <= t.sheets {
			t.doc.SetTextColor(0x55, 0x55, 0x5c)
			page := fmt.Sprintf("page %d of %d", t.doc.PageNo(), t.pages)
			small := typeface{"go", "", 9}
			t.write(small, margin, high-foot+4, title)
			t.write(small, wide-margin-t.width(small, page), high-foot+4, page)
			t.doc.SetTextColor(0, 0, 0)
		}
	})
	t.fresh()
	return t
}

// fresh begins a page.
func (t *document) fresh() {
	t.doc.AddPage()
	t.y = margin
}

// bottom is where the last line of a page ends.
func (t *document) bottom() float64 { return t.high - margin - foot/2 }

// need begins a page where there is no room for a height.
func (t *document) need(high float64) bool {
	if t.dry || t.y+high <= t.bottom() || t.y == margin {
		return false
	}
	t.fresh()
	return true
}

func (t *document) width(f typeface, s string) float64 {
	t.doc.SetFont(f.family, f.style, f.size)
	return t.doc.GetStringWidth(legible(s))
}

// write writes a line whose top is at y.
func (t *document) write(f typeface, x, y float64, s string) {
	if t.dry {
		return
	}
	t.doc.SetFont(f.family, f.style, f.size)
	s = diagram.Legible(s, mostOfLine)
	for _, r := range diagram.Unset(s) {
		if !t.lacked[r] {
			t.lacked[r] = true
			t.unset = append(t.unset, r)
		}
	}
	t.doc.Text(x, y+f.size*point*1.05, diagram.Settable(s))
}

// mostOfLine is how many characters of a line are written.
const mostOfLine = 10_000

// legible is a line as the fonts can set it.
func legible(s string) string { return diagram.Settable(diagram.Legible(s, mostOfLine)) }

func (t *document) heading(s string, size float64, ruled bool) {
	f := typeface{"go", "B", size}
	lines := t.wrapped(f, s, t.room)
	if t.y > margin {
		t.y += 6
	}
	t.need(float64(len(lines))*f.line() + 30) // room for something below it
	for _, line := range lines {
		t.write(f, margin, t.y, line)
		t.y += f.line()
	}
	if ruled {
		t.rule(0.5, 0)
	}
	t.y += 3
}

// rule draws a line across the page, black or grey.
func (t *document) rule(thick float64, grey int) {
	if t.dry {
		return
	}
	t.doc.SetDrawColor(grey, grey, grey)
	t.doc.SetLineWidth(thick)
	t.doc.Line(margin, t.y, margin+t.room, t.y)
}

func (t *document) part(p part) {
	switch {
	case p.table != nil:
		t.table(p.table)
	case p.ticks != nil:
		t.ticks(p.ticks)
	default:
		t.say(p.say)
	}
}

func (t *document) say(s string) {
	f := typeface{"go", "", textType}
	lines := t.wrapped(f, s, t.room)
	t.need(float64(len(lines)) * f.line())
	for _, line := range lines {
		t.write(f, margin, t.y, line)
		t.y += f.line()
	}
	t.y += 2
}

// ticks sets out boxes in columns.
func (t *document) ticks(labels []string) {
	f := typeface{"go", "", largeType}
	side, wide := boxSide(f), 0.0
	for _, label := range labels {
		wide = max(wide, t.width(f, label))
	}
	each := side + 2 + wide + between*1.5
	per := max(int((t.room+between*1.5)/each), 1)
	for i, label := range labels {
		if t.enough() {
			break
		}
		if i%per == 0 {
			if i > 0 {
				t.y += f.line() * 1.1
			}
			t.need(f.line() * 1.1)
		}
		x := margin + float64(i%per)*each
		t.box(f, x)
		t.write(f, x+side+2, t.y, label)
	}
	t.y += f.line()*1.1 + 2
}

func boxSide(f typeface) float64 { return f.size * point * 0.85 }

// box draws a box to tick beside a line of type.
func (t *document) box(f typeface, x float64) {
	if t.dry {
		return
	}
	t.doc.SetDrawColor(0, 0, 0)
	t.doc.SetLineWidth(0.4)
	side := boxSide(f)
	t.doc.Rect(x, t.y+f.size*point*1.05-side, side, side, "D")
}

// wrapped breaks a text into lines of a width.
func (t *document) wrapped(f typeface, s string, wide float64) []string {
	return wording.Wrap(s, func(line string) bool { return t.width(f, line) <= wide })
}

// small is how high a thing may be that is not to be broken.
func (t *document) small() float64 { return t.high / 3 }

// muchLeft is how much of a page there must be for a long step to begin on it.
const muchLeft = 0.4

// place begins a page for a step that has no room on this one, unless much of
// this one is left and the step is too long to be small.
func (t *document) place(s *step) {
	high, left := t.height(func() { t.step(s) }), t.bottom()-t.y
	if high > left && (high <= t.small() || left < muchLeft*t.high) && t.y > margin {
		t.fresh()
	}
}

// step sets out a step, and keeps each sentence with what it leads.
func (t *document) step(s *step) {
	t.heading(s.title, 15, true)
	for i, p := range s.parts {
		if t.enough() {
			return
		}
		if !t.dry {
			t.keep(s, i)
		}
		t.part(p)
	}
}

// keep begins a page where a part that is small would be broken, or would be cut
// off from what it leads.
func (t *document) keep(s *step, i int) {
	high := t.partHeight(s.parts[i])
	if high > t.small() {
		return
	}
	switch {
	case s.leads(i):
		next := t.partHeight(s.parts[i+1])
		if next > t.small() {
			next = someLines
		}
		high += next
	case s.parts[i].table != nil && i+1 < len(s.parts) && s.parts[i+1].ticks != nil:
		high += someLines / 2 // the boxes belong to it
	}
	t.need(high)
}

// someLines is room for a few lines of a thing that goes on.
const someLines = 30.0

func (t *document) partHeight(p part) float64 { return t.height(func() { t.part(p) }) }

// height is how much room a thing takes, or more than a page.
func (t *document) height(set func()) float64 {
	from, was := t.y, t.dry
	t.y, t.dry = 2*margin, true
	set()
	high := t.y - 2*margin
	t.y, t.dry = from, was
	return high
}

// enough says whether what is measured is known to be longer than a page.
func (t *document) enough() bool { return t.dry && t.y > 2*t.high }
