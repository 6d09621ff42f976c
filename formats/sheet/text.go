package sheet

import (
	"bytes"
	"slices"
	"strings"
	"unicode/utf8"

	"fettle/formats/diagram"
	"fettle/schema/dressing"
	"fettle/schema/wording"
)

// columnsWide is the width of the text sheet in characters.
const columnsWide = 80

// Text writes the sheet as plain text in UTF-8, 80 columns wide, with LF line endings.
func Text(p *dressing.Plan, o Options) []byte {
	s := of(p, o)
	t := &page{}
	t.heading(s.title, '=')
	t.blank()
	t.table(&s.facts)
	for _, step := range s.steps {
		t.blank()
		t.heading(step.title, '-')
		for _, part := range t.inText(step.parts) {
			t.blank()
			t.part(part)
		}
	}
	return t.Bytes()
}

// inText returns the parts of a step, and draws their drawing. If plain text has no room for it,
// one sentence replaces it and all that describes it.
func (t *page) inText(parts []part) []part {
	for i, p := range parts {
		if p.drawing == nil {
			continue
		}
		lines, err := drawn(p.drawing)
		switch {
		case err != nil:
			parts[i] = part{say: capital(err.Error()) + "."}
		case lines == nil:
			return []part{{say: "The draft is too large for plain text; write the sheet as PDF or HTML to see it."}}
		}
		t.drawing = lines
	}
	return parts
}

// drawn returns the lines of a drawing in characters, none if it is too large.
func drawn(p *diagram.Picture) ([]string, error) {
	var b bytes.Buffer
	if err := p.Text(&b); err != nil {
		return nil, err
	}
	lines := strings.Split(strings.Trim(b.String(), "\n"), "\n")
	wide := func(line string) bool { return len(gap)+len(line) > columnsWide }
	if len(lines) > mostDrawnLines || slices.ContainsFunc(lines, wide) {
		return nil, nil
	}
	return lines, nil
}

// page is the text being written.
type page struct {
	bytes.Buffer
	drawing []string // the lines of the step's drawing
}

func (t *page) blank() { t.WriteByte('\n') }

func (t *page) line(s string) {
	t.WriteString(strings.TrimRight(spaced(s), " "))
	t.WriteByte('\n')
}

func (t *page) heading(s string, under byte) {
	t.line(s)
	t.line(strings.Repeat(string(under), utf8.RuneCountInString(s)))
}

func (t *page) part(p part) {
	switch {
	case p.table != nil:
		t.table(p.table)
	case p.ticks != nil:
		t.ticks(p.ticks)
	case p.drawing != nil:
		for _, line := range t.drawing {
			t.line(gap + line)
		}
	default:
		for _, line := range wording.Wrap(unbroken(p.say), wording.Columns(columnsWide)) {
			t.line(line)
		}
	}
}

// mostDrawnLines limits the lines of a drawing in characters.
const mostDrawnLines = 60

// gap separates columns and indents the first.
const gap = "  "

func (t *page) table(table *table) {
	widths := widthsOf(table)
	if len(table.heads) > 0 {
		t.row(table, widths, table.heads)
	}
	for _, row := range table.rows {
		t.row(table, widths, row)
	}
}

// Widths of a last column that takes several lines. A table is wider than the sheet only if
// its figures are absurdly large.
const usualLast, leastLast = 12, 6

// widthsOf returns the width of each column, 0 for hidden ones. If a table is too wide, the
// last column gets the remaining width. If that is little, headings take two lines, and then the
// widest column several.
func widthsOf(t *table) []int {
	var widths []int
	for _, row := range t.rows {
		for i, cell := range row {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], cellWidth(cell))
		}
	}
	spare := make([]int, len(widths)) // what a heading in two lines saves
	for i, head := range t.heads {
		if i < len(widths) && widths[i] > 0 {
			cells := widths[i]
			widths[i] = max(cells, cellWidth(head))
			spare[i] = widths[i] - max(cells, inTwoLines(head))
		}
	}
	used, last := 0, 0
	for i, n := range widths {
		if n > 0 {
			used += len(gap) + n
			last = i
		}
	}
	over := func() int { return used - columnsWide - max(widths[last]-usualLast, 0) }
	widest := 0 // of the others
	for i := range widths {
		if over() > 0 {
			widths[i], used = widths[i]-spare[i], used-spare[i]
		}
		if i != last && widths[i] > widths[widest] {
			widest = i
		}
	}
	if less := min(over(), widths[widest]-usualLast); less > 0 && widest != last {
		widths[widest], used = widths[widest]-less, used-less
	}
	if used > columnsWide {
		widths[last] = max(widths[last]-(used-columnsWide), min(widths[last], leastLast))
	}
	return widths
}

// inTwoLines returns the smallest width in which a heading takes two lines.
func inTwoLines(head string) int {
	words := strings.Fields(head)
	least := cellWidth(head)
	for i := range words {
		least = min(least, max(cellWidth(strings.Join(words[:i], " ")), cellWidth(strings.Join(words[i:], " "))))
	}
	return least
}

func cellWidth(cell string) int {
	width := 0
	for line := range strings.SplitSeq(cell, "\n") {
		width = max(width, utf8.RuneCountInString(line))
	}
	return width
}

// row writes a row, in as many lines as its longest cell takes.
func (t *page) row(table *table, widths []int, cells []string) {
	lines := make([][]string, len(widths))
	most := 0
	for i := range widths {
		if widths[i] > 0 && i < len(cells) {
			lines[i] = wording.Wrap(unbroken(cells[i]), wording.Columns(widths[i]))
			most = max(most, len(lines[i]))
		}
	}
	for n := range most {
		var b strings.Builder
		for i, width := range widths {
			if width == 0 {
				continue
			}
			cell := ""
			if n < len(lines[i]) {
				cell = lines[i][n]
			}
			b.WriteString(gap + pad(cell, width, i < len(table.right) && table.right[i]))
		}
		t.line(b.String())
	}
}

func pad(s string, width int, right bool) string {
	space := strings.Repeat(" ", max(width-utf8.RuneCountInString(s), 0))
	if right {
		return space + s
	}
	return s + space
}

// ticks writes boxes in columns.
func (t *page) ticks(labels []string) {
	width := 0
	for _, label := range labels {
		width = max(width, len(label))
	}
	each := len(gap) + len(box) + 1 + width
	for from, per := 0, columnsWide/each; from < len(labels); from += per {
		var b strings.Builder
		for _, label := range labels[from:min(from+per, len(labels))] {
			b.WriteString(gap + box + " " + pad(label, width, false))
		}
		t.line(b.String())
	}
}
