package sheet

import (
	"strings"

	"fettle/schema"
)

// printed is a table as it goes onto pages: its columns with their type and
// width.
type printed struct {
	*table
	columns []int // that are shown
	types   []typeface
	widths  []float64
}

// swatchWide is how much room a swatch takes, with the gap behind it.
const swatchWide = 7.0

// table sets a table out. Its headings come again on each page.
func (t *document) table(table *table) {
	p := t.fitted(table)
	t.heads(p)
	high := 0.0
	for i, row := range p.rows {
		if t.enough() {
			return
		}
		var lines [][]string
		lines, high = t.rowLines(p, row)
		if t.need(t.with(p, i, high)) {
			t.heads(p)
		} else if i > 0 {
			t.rule(0.1, 0xb4)
		}
		t.row(p, lines, row)
		t.y += high
	}
	t.y += 3
}

// with is how much room a row takes with what stays on its page: the row below
// that goes on from it, and of a row that begins a group the whole group, where
// that is small.
func (t *document) with(p *printed, i int, high float64) float64 {
	if t.dry {
		return 0
	}
	goesOn := func(i int) bool { return p.rows[i][p.columns[0]] == "" }
	if i+1 >= len(p.rows) || goesOn(i) {
		return high
	}
	begins := i == 0 || goesOn(i-1)
	for k := i + 1; k < len(p.rows); k++ {
		_, more := t.rowLines(p, p.rows[k])
		if goesOn(k) {
			return high + more
		}
		if high += more; !begins || high > t.small() {
			break // there are no groups here, or this one is long
		}
	}
	_, high = t.rowLines(p, p.rows[i])
	return high
}

// fitted chooses the size of type of a table: the usual one, or for lines to be
// read at the loom, which do not break, the largest that has room for them.
func (t *document) fitted(table *table) *printed {
	p := &printed{table: table, columns: table.shown()}
	if !table.large {
		t.measure(p, tableType, tableType)
		return p
	}
	for size := largeType; ; size-- {
		if t.measure(p, size, size) <= t.room || size <= leastType {
			return p
		}
	}
}

// measure gives each column its type and width, and says how wide all are. The
// last column takes what room there is left.
func (t *document) measure(p *printed, size, last float64) float64 {
	p.types, p.widths = nil, nil
	used := 0.0
	for k, i := range p.columns {
		f := typeface{"go", "", size}
		if p.even && k == len(p.columns)-1 {
			f = typeface{"mono", "", last}
		}
		wide := t.columnWidth(p, i, f)
		p.types, p.widths = append(p.types, f), append(p.widths, wide)
		used += wide + between
	}
	used -= between
	if n := len(p.columns) - 1; n >= 0 && used > t.room && !p.whole {
		p.widths[n] = max(p.widths[n]-(used-t.room), 30)
		return t.room
	}
	return used
}

func (t *document) columnWidth(p *printed, column int, f typeface) float64 {
	wide := 0.0
	if column < len(p.heads) {
		wide = t.width(headType(f), p.heads[column])
	}
	for _, row := range p.rows {
		if column < len(row) {
			wide = max(wide, t.cellWidth(row[column], f))
		}
	}
	return wide
}

func (t *document) cellWidth(cell string, f typeface) float64 {
	if cell == box {
		return boxSide(f)
	}
	wide := 0.0
	for line := range strings.SplitSeq(cell, "\n") {
		wide = max(wide, t.width(f, line))
	}
	if isColor(cell) {
		wide += swatchWide
	}
	return wide
}

func isColor(cell string) bool {
	_, err := schema.ParseColor(cell)
	return err == nil
}

func headType(f typeface) typeface { return typeface{"go", "B", min(f.size, tableType)} }

func (t *document) heads(p *printed) {
	if len(p.heads) == 0 {
		return
	}
	high := 0.0
	x := margin
	for k, i := range p.columns {
		f := headType(p.types[k])
		for n, line := range t.wrapped(f, p.heads[i], p.widths[k]) {
			t.write(f, t.at(p, k, x, f, line), t.y+float64(n)*f.line(), line)
			high = max(high, float64(n+1)*f.line())
		}
		x += p.widths[k] + between
	}
	t.y += high + 0.5
	t.rule(0.3, 0)
	t.y += 0.5
}

// at is where a line begins in a column, whose left edge is at x.
func (t *document) at(p *printed, k int, x float64, f typeface, line string) float64 {
	if i := p.columns[k]; i < len(p.right) && p.right[i] {
		return x + p.widths[k] - t.width(f, line)
	}
	return x
}

// rowLines are the lines of each cell, and how high the row is.
func (t *document) rowLines(p *printed, row []string) (lines [][]string, high float64) {
	for k, i := range p.columns {
		var cell []string
		if i < len(row) && row[i] != "" {
			cell = t.wrapped(p.types[k], row[i], p.widths[k])
		}
		lines = append(lines, cell)
		high = max(high, float64(max(len(cell), 1))*p.types[k].line())
	}
	return lines, high
}

func (t *document) row(p *printed, lines [][]string, row []string) {
	x := margin
	for k, i := range p.columns {
		f := p.types[k]
		switch {
		case i < len(row) && row[i] == box:
			t.box(f, x)
		case i < len(row) && isColor(row[i]):
			t.swatch(f, x, row[i])
			t.write(f, x+swatchWide, t.y, row[i])
		default:
			for n, line := range lines[k] {
				t.write(f, t.at(p, k, x, f, line), t.y+float64(n)*f.line(), line)
			}
		}
		x += p.widths[k] + between
	}
}

func (t *document) swatch(f typeface, x float64, hex string) {
	c, err := schema.ParseColor(hex)
	if err != nil || t.dry {
		return
	}
	t.doc.SetFillColor(int(c.R), int(c.G), int(c.B))
	t.doc.SetDrawColor(0, 0, 0)
	t.doc.SetLineWidth(0.2)
	t.doc.Rect(x, t.y+0.6, swatchWide-2, f.size*point*0.85, "DF")
}
