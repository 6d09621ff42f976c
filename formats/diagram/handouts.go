package diagram

import (
	"fmt"
	"io"
	"strconv"

	"codeberg.org/go-pdf/fpdf"

	"fettle/schema"
	"fettle/schema/wording"
)

// Handouts is a PDF with one draft a page, after a table of contents. Draft by draft is added
// and laid out; Write draws the pages.
type Handouts struct {
	options Options
	pages   []handout
}

// handout is the page of a draft.
type handout struct {
	name   string
	layout *layout
	page   pageLayout
}

// MostHandouts is the largest number of drafts in a PDF. All pages are in memory at once.
const MostHandouts = 500

// NewHandouts returns a PDF without drafts. Only Page of the options counts for the table of
// contents.
func NewHandouts(o Options) *Handouts { return &Handouts{options: o} }

// Add lays out a draft on a page: the whole draft if its cells are legible then, otherwise one
// repeat, otherwise the whole with small cells. In large type, a repeat may have smaller cells
// too. name is the draft's file in the table of contents. Add returns an error if the draft
// can't be drawn or doesn't fit.
func (h *Handouts) Add(d *schema.Draft, name string, o Options) error {
	if len(h.pages) == MostHandouts {
		return fmt.Errorf("a PDF holds at most %d drafts; make several, or a file for each with --out-dir", MostHandouts)
	}
	l, err := newLayout(d, o, 0)
	if err != nil {
		return err
	}
	l, s, err := l.handout()
	if err != nil {
		return err
	}
	h.pages = append(h.pages, handout{name, l, s})
	return nil
}

// handout finds the part of a draft that fits on one page.
func (l *layout) handout() (*layout, pageLayout, error) {
	if s, fits := l.fitPage(l.cellsOnPage()); fits {
		return l, s, nil
	}
	if !l.options.Whole && !l.options.FitPage {
		for _, least := range []float64{l.options.legibleCell(), minCell} { // in large type, a small repeat is better than a smaller whole
			if part, s := l.repeatOnPage(least); part != nil {
				return part, s, nil
			}
		}
	}
	s, err := l.onOnePage()
	if err == nil && !l.options.FitPage {
		l.options.remark("the drawing has cells of only %s mm, so that it fits on one page; draw it on several with --out-dir", wording.Decimal(l.mm*float64(l.finer), 1))
	}
	return l, s, err
}

// repeatOnPage lays out the first repeat that fits on one page with cells of at least so many
// millimetres. It returns nil if none does.
func (l *layout) repeatOnPage(least float64) (*layout, pageLayout) {
	for _, repeat := range l.repeats() {
		part, err := l.folding(repeat)
		if err != nil {
			continue // the whole draft has the same error
		}
		largest, legible := part.cellsOnPage()
		if l.options.Cell > 0 {
			least = legible
		}
		s, fits := part.fitPage(largest, min(legible, least))
		if !fits {
			continue
		}
		cells := ""
		if mm := part.mm * float64(part.finer); mm < legible {
			cells = fmt.Sprintf(" with cells of %s mm", wording.Decimal(mm, 1))
		}
		l.options.remark("the whole draft is too large for one page, so the drawing shows one repeat, %d ends by %d picks%s; scale all of it to the page with --fit-page", part.ends, part.picks, cells)
		return part, s
	}
	return nil, pageLayout{}
}

// Len returns the number of drafts.
func (h *Handouts) Len() int { return len(h.pages) }

// Measures of the table of contents in millimetres, and the largest cloth that is drawn as
// areas; pages with pictures take less memory.
const (
	contentsLine  = 9.0
	contentsHead  = 16.0
	footRoom      = 4.0
	handoutShapes = 20_000
)

// Write writes the PDF: the table of contents, then the drafts in order.
func (h *Handouts) Write(w io.Writer) error {
	doc := NewPDF("Handouts", h.options.Page)
	wide, high := h.options.Page.Size()
	each := int((high - 2*pageMargin - contentsHead) / contentsLine)
	pages := (len(h.pages) + each - 1) / each
	links := make([]int, len(h.pages))
	for i := range links {
		links[i] = doc.AddLink()
	}
	for n := range pages {
		doc.AddPageFormat("P", fpdf.SizeType{Wd: wide, Ht: high})
		c := contents{doc: doc, wide: wide, first: pages + 1}
		if n == 0 {
			c.write(titleAlone, pageMargin, pageMargin+6, true, "Contents")
		}
		for i := n * each; i < min((n+1)*each, len(h.pages)); i++ {
			c.line(h.pages[i], i, pageMargin+contentsHead+float64(i-n*each)*contentsLine, links[i])
		}
	}
	for i, p := range h.pages {
		if err := addPages(doc, p.layout, p.page, "cloth"+strconv.Itoa(i+1), handoutShapes); err != nil {
			return err
		}
		doc.SetLink(links[i], 0, -1)
		c := contents{doc: doc, wide: p.page.width}
		c.write(sheetType, p.page.width-pageMargin-10, p.page.height-footRoom, false, fmt.Sprintf("page %d", pages+1+i))
	}
	if err := doc.Output(w); err != nil {
		return fmt.Errorf("can't write the PDF: %w", err)
	}
	return nil
}

// contents writes the table of contents.
type contents struct {
	doc   *fpdf.Fpdf
	wide  float64
	first int // the page of the first draft
}

// Sizes of type in the table of contents in millimetres.
const (
	titleAlone   = 7.0
	contentsType = 4.0
)

// line writes the line of a draft, with a link to its page.
func (c *contents) line(p handout, i int, y float64, link int) {
	d := p.layout.draft
	c.write(contentsType, pageMargin, y, true, c.cut(contentsType, true, Title(d)))
	facts := fmt.Sprintf("%s, %s, %s; %s", wording.Counted(d.Ends(), "end"), wording.Counted(d.Picks(), "pick"),
		wording.Counted(p.layout.shafts, "shaft"), Legible(p.name, 200))
	c.write(sheetType, pageMargin, y+4, false, c.cut(sheetType, false, facts))
	number := strconv.Itoa(c.first + i)
	c.doc.SetFont("go", "B", contentsType*points)
	c.write(contentsType, c.wide-pageMargin-c.doc.GetStringWidth(number), y, true, number)
	c.doc.Link(pageMargin, y-contentsType, c.wide-2*pageMargin, contentsLine, link)
}

// cut returns as much of a text as fits beside a page number.
func (c *contents) cut(size float64, bold bool, text string) string {
	c.doc.SetFont("go", map[bool]string{true: "B"}[bold], size*points)
	const numberRoom = 14
	letters := []rune(Settable(text))
	if c.doc.GetStringWidth(string(letters)) <= c.wide-2*pageMargin-numberRoom {
		return string(letters)
	}
	for len(letters) > 0 && c.doc.GetStringWidth(string(letters)+"…") > c.wide-2*pageMargin-numberRoom {
		letters = letters[:len(letters)-1]
	}
	return string(letters) + "…"
}

// write writes a line of text.
func (c *contents) write(size, x, y float64, bold bool, text string) {
	k := ink()
	c.doc.SetFont("go", map[bool]string{true: "B"}[bold], size*points)
	c.doc.SetTextColor(int(k.R), int(k.G), int(k.B))
	c.doc.Text(x, y, Settable(text))
}
