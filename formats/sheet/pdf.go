package sheet

import (
	"fmt"
	"io"
	"strings"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gomono"

	"fettle/formats/diagram"
	"fettle/schema/dressing"
	"fettle/schema/wording"
)

// PDF writes the sheet as pages. Lines read at the loom are in 14-point type, unless they
// are too long for the page. Tables that fit on a page aren't split, except tall ones
// where a part of the page would stay empty. PDF returns the characters that its fonts
// lack.
func PDF(w io.Writer, p *dressing.Plan, o Options) (unset []rune, err error) {
	s := of(p, o)
	t := newDocument(s.title, o.Paper)
	pages := t.pages(t.sheet(&s))
	for i, page := range pages {
		t.doc.AddPage()
		t.draw(page)
		t.footer(s.title, fmt.Sprintf("page %d of %d", i+1, len(pages)))
	}
	if err := t.doc.Output(w); err != nil {
		return nil, fmt.Errorf("the sheet could not be written: %w", err)
	}
	return t.unset, nil
}

// Measures of a page in millimetres.
const (
	margin  = 14.0
	foot    = 2.0 // between the text and the footer in the margin
	between = 4.0 // gap between columns
	point   = 25.4 / 72
	leading = 1.3 // line height, as a multiple of the type size
)

// Sizes of type in points.
const (
	titleType   = 20.0
	headingType = 13.0
	textType    = 11.0
	tableType   = 10.5
	largeType   = 14.0
	footerType  = 9.0
	leastType   = 7.0
)

// typeface is a font and its size in points.
type typeface struct {
	family, style string
	size          float64
}

func (f typeface) line() float64 { return f.size * point * leading }

// document is the PDF being written.
type document struct {
	doc        *fpdf.Fpdf
	wide, high float64 // size of a page inside the margins
	unset      []rune  // characters that the fonts lack, without duplicates
	lacked     map[rune]bool
}

func newDocument(title string, paper diagram.Page) *document {
	wide, high := paper.Size()
	t := &document{
		doc:  diagram.NewPDF(diagram.Legible(title, longText), paper),
		wide: wide - 2*margin, high: high - 2*margin - foot, lacked: map[rune]bool{},
	}
	diagram.AddFont(t.doc, "mono", "", gomono.TTF)
	return t
}

func (t *document) footer(title, page string) {
	f, y := typeface{"go", "", footerType}, margin+t.high+foot+1
	t.doc.SetTextColor(0x55, 0x55, 0x5c)
	t.write(f, margin, y, title)
	t.write(f, margin+t.wide-t.width(f, page), y, page)
	t.doc.SetTextColor(0, 0, 0)
}

func (t *document) width(f typeface, s string) float64 {
	t.doc.SetFont(f.family, f.style, f.size)
	return t.doc.GetStringWidth(legible(s))
}

// write writes a line with its top at y.
func (t *document) write(f typeface, x, y float64, s string) {
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

// mostOfLine limits the characters written of one line.
const mostOfLine = 10_000

// legible replaces the characters that the fonts lack.
func legible(s string) string { return diagram.Settable(diagram.Legible(s, mostOfLine)) }

// wrapped breaks a text into lines of at most this width.
func (t *document) wrapped(f typeface, s string, wide float64) []string {
	lines := wording.Wrap(unbroken(s), func(line string) bool { return t.width(f, spaced(line)) <= wide })
	for i := range lines {
		lines[i] = spaced(lines[i])
	}
	return lines
}

// rule draws a line, black or grey.
func (t *document) rule(x, y, wide, thick float64, grey int) {
	t.doc.SetDrawColor(grey, grey, grey)
	t.doc.SetLineWidth(thick)
	t.doc.Line(x, y, x+wide, y)
}

func (t *document) sheet(s *sheet) []piece {
	list := t.heading(s.title, titleType, false)
	list = append(list, t.table(&s.facts)...)
	for i := range s.steps {
		list = append(list, t.step(&s.steps[i])...)
	}
	return list
}

// step lays out a step. leads decides which parts stay on the same page as the next.
func (t *document) step(s *step) []piece {
	list := t.heading(s.title, headingType, true)
	for i, p := range s.parts {
		if i > 0 && p.ticks != nil && t.besideTicks(s.parts[i-1].say, p.ticks) {
			list = append(list[:len(list)-1], t.ticks(p.ticks, s.parts[i-1].say)...)
		} else {
			list = append(list, t.part(p)...)
		}
		last := &list[len(list)-1]
		switch {
		case s.leads(i):
			last.hold = holdLead
		case i+1 < len(s.parts):
			last.hold = holdPart
		default:
			last.hold = holdStep
		}
	}
	return list
}

func (t *document) part(p part) []piece {
	switch {
	case p.table != nil:
		return t.table(p.table)
	case p.ticks != nil:
		return t.ticks(p.ticks, "")
	case p.drawing != nil:
		_, high := p.drawing.Size()
		return []piece{{above: 2, high: high, draw: func(x, y float64) { p.drawing.AddTo(t.doc, x, y) }}}
	}
	return t.lines(textFace(), p.say, 2)
}

// lines lays out a text. Its lines stay on one page.
func (t *document) lines(f typeface, text string, above float64) []piece {
	var list []piece
	for _, line := range t.wrapped(f, text, t.wide) {
		list = append(list, piece{above: above, high: f.line(), hold: holdLead, draw: func(x, y float64) { t.write(f, x, y, line) }})
		above = 0
	}
	return list
}

func (t *document) heading(s string, size float64, ruled bool) []piece {
	list := t.lines(typeface{"go", "B", size}, s, 4.5)
	if ruled {
		list = append(list, piece{high: 1, draw: func(x, y float64) { t.rule(x, y, t.wide, 0.5, 0) }})
	}
	list[len(list)-1].hold = holdHeading
	return list
}

// tickWidth returns the width of the widest box with its label and the gap after it.
func (t *document) tickWidth(labels []string) float64 {
	wide := 0.0
	for _, label := range labels {
		wide = max(wide, t.width(tickFace(), label))
	}
	return boxSide(tickFace()) + 2 + wide + between*1.5
}

func tickFace() typeface { return typeface{"go", "", largeType} }

// besideTicks reports whether a sentence and all its boxes fit on one line.
func (t *document) besideTicks(say string, labels []string) bool {
	used := float64(len(labels))*t.tickWidth(labels) + between + t.width(textFace(), say)
	return say != "" && !strings.Contains(say, "\n") && used-between*1.5 <= t.wide
}

func textFace() typeface { return typeface{"go", "", textType} }

// ticks lays out boxes in lines, which stay on one page if they are few. The sentence, if
// any, comes first.
func (t *document) ticks(labels []string, say string) []piece {
	f, each, start := tickFace(), t.tickWidth(labels), 0.0
	if say != "" {
		start = t.width(textFace(), say) + between
	}
	per := max(int((t.wide-start+between*1.5)/each), 1)
	hold := holdLead
	if len(labels) > per*2*fewRows {
		hold = holdPart
	}
	var list []piece
	for from := 0; from < len(labels); from += per {
		some := labels[from:min(from+per, len(labels))]
		list = append(list, piece{high: f.line() * 1.1, hold: hold, draw: func(x, y float64) {
			t.write(textFace(), x, y+(f.size-textType)*point, say)
			for i, label := range some {
				at := x + start + float64(i)*each
				t.box(f, at, y)
				t.write(f, at+boxSide(f)+2, y, label)
			}
		}})
	}
	list[0].above = 2
	return list
}

func boxSide(f typeface) float64 { return f.size * point * 0.85 }

// box draws a box to tick beside a line of type.
func (t *document) box(f typeface, x, y float64) {
	t.doc.SetDrawColor(0, 0, 0)
	t.doc.SetLineWidth(0.4)
	side := boxSide(f)
	t.doc.Rect(x, y+f.size*point*1.05-side, side, side, "D")
}
