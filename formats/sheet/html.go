package sheet

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"

	"fettle/formats/diagram"
	"fettle/schema/dressing"
)

//go:embed sheet.tmpl
var sheetTemplate string

// HTML writes the sheet as one page of HTML that needs nothing beside it and no
// scripts. Printed, short steps stay on one page, and it can be read in black and
// white.
func HTML(w io.Writer, p *dressing.Plan, o Options) error {
	t, err := template.New("sheet").Parse(sheetTemplate)
	if err != nil {
		return fmt.Errorf("the sheet's page is not as it should be: %w", err)
	}
	s := of(p, o)
	page := htmlPage{Title: s.title, Paper: o.Paper.String(), Facts: htmlTableOf(&s.facts, "facts")}
	for i := range s.steps {
		step := htmlStep{Title: s.steps[i].title, Short: s.steps[i].short(), Parts: htmlParts(&s.steps[i])}
		page.Steps = append(page.Steps, step)
	}
	if drawn := drawingOf(p, o); drawn != "" {
		page.Steps = append(page.Steps, htmlStep{Title: drawingTitle, Short: true, Parts: []htmlPart{{Drawing: drawn}}})
	}
	var b bytes.Buffer
	if err := t.Execute(&b, page); err != nil {
		return fmt.Errorf("the sheet could not be set out: %w", err)
	}
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("the sheet could not be written: %w", err)
	}
	return nil
}

// htmlPage is what the template sets out. So are the other types here.
type htmlPage struct {
	Title string
	Paper string
	Facts htmlTable
	Steps []htmlStep
}

type htmlStep struct {
	Title string
	Short bool // stays on one page
	Parts []htmlPart
}

type htmlPart struct {
	Say     string
	Leads   bool // stays with what follows
	Table   *htmlTable
	Ticks   []string
	Drawing template.HTML
}

type htmlTable struct {
	Class  string
	Heads  []htmlCell
	Bodies []htmlBody
}

// htmlBody is rows that belong together: a group, or a whole table.
type htmlBody struct {
	Short bool // stays on one page
	Rows  [][]htmlCell
}

type htmlCell struct {
	Text   string
	Right  bool
	Box    bool
	Swatch string     // a color to show beside the text
	Lines  [][]string // of a line to be read at the loom: its pieces
}

func htmlParts(s *step) []htmlPart {
	var list []htmlPart
	for i, p := range s.parts {
		switch {
		case p.table != nil:
			t := htmlTableOf(p.table, classOf(p.table))
			list = append(list, htmlPart{Table: &t})
		case p.ticks != nil:
			list = append(list, htmlPart{Ticks: p.ticks})
		default:
			list = append(list, htmlPart{Say: p.say, Leads: s.leads(i)})
		}
	}
	return list
}

func classOf(t *table) string {
	switch {
	case t.whole:
		return "large even whole"
	case t.even:
		return "large even"
	case t.large:
		return "large"
	}
	return ""
}

func htmlTableOf(t *table, class string) htmlTable {
	h := htmlTable{Class: class}
	shown := t.shown()
	if len(t.heads) > 0 {
		h.Heads = htmlRow(t, shown, t.heads, false)
	}
	for _, rows := range t.groups() {
		body := htmlBody{Short: len(rows) <= mostTogether*2/3}
		for _, row := range rows {
			body.Rows = append(body.Rows, htmlRow(t, shown, row, true))
		}
		h.Bodies = append(h.Bodies, body)
	}
	return h
}

// htmlRow is the cells of a row in the columns that are shown.
func htmlRow(t *table, shown []int, row []string, body bool) []htmlCell {
	cells := make([]htmlCell, 0, len(shown))
	for k, i := range shown {
		c := htmlCell{Right: i < len(t.right) && t.right[i]}
		if i < len(row) {
			c.Text = row[i]
		}
		c.Box = c.Text == box
		if isColor(c.Text) {
			c.Swatch = c.Text
		}
		if body && t.even && k == len(shown)-1 {
			for line := range strings.SplitSeq(c.Text, "\n") {
				c.Lines = append(c.Lines, strings.Split(line, piecesApart))
			}
		}
		cells = append(cells, c)
	}
	return cells
}

// drawingTitle heads the drawing of the draft.
const drawingTitle = "The draft"

// drawingOf is one repeat of the draft as a picture, if it is small enough to be
// read on a page.
func drawingOf(p *dressing.Plan, o Options) template.HTML {
	var b bytes.Buffer
	draft := p.Drawing(mostDrawn)
	if draft == nil || diagram.SVG(&b, draft, drawingOptions(o), "draft-") != nil {
		return ""
	}
	return template.HTML(b.String()) // the drawing escapes what it takes from the draft
}
