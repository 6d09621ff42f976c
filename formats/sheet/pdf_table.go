package sheet

import (
	"slices"
	"strings"

	"fettle/schema"
)

// printed is a table laid out for paper. Lengths are in millimetres.
type printed struct {
	*table
	columns  []int // the columns that are shown
	types    []typeface
	widths   []float64
	wide     float64 // width of a lane
	lanes    int     // number of lanes side by side
	headHigh float64
}

// swatchWide is the width of a swatch and the gap after it.
const swatchWide = 7.0

// lanesApart is the gap between the lanes of a table.
const lanesApart = 10.0

// table lays out a table.
func (t *document) table(table *table) []piece {
	p := t.fitted(table)
	if len(p.columns) == 0 {
		return nil
	}
	bound := p.bound()
	rows, all := make([][][]string, len(p.rows)), 0
	for i, row := range p.rows {
		rows[i] = t.rowLines(p, row)
		all += len(rows[i])
	}
	var list []piece
	for i, row := range p.rows {
		lines := rows[i]
		for n := range lines {
			line := piece{high: p.lineHigh(), hold: holdBound, table: p, ruled: n == 0}
			line.draw = func(x, y float64) { t.row(p, x, y, row, lines[n], n == 0) }
			if len(list) > 0 {
				line.at = list[len(list)-1].bottom()
			} else {
				line.above = 2
			}
			list = append(list, line)
		}
		switch {
		case bound[i]:
		case nearEdge(len(list)-1, all, p.lanes):
			list[len(list)-1].hold = holdLead
		default:
			list[len(list)-1].hold = holdRow
		}
	}
	// Tables that fit on a page aren't split, unless they are tall and a part of the page
	// would stay empty. A long table may break between two groups.
	if high := runHigh(list); high <= t.high && !(slices.Contains(bound, true) && high > t.high/3) {
		hold := holdWhole
		if high > tallTable*t.high {
			hold = holdTall
		}
		for i := range list {
			list[i].hold = max(list[i].hold, hold)
		}
	}
	return list
}

// lineHigh returns the height of one line in a row.
func (p *printed) lineHigh() float64 { return p.types[0].line() }

// fitted chooses the type size, the widths and the number of lanes. Lines that don't wrap
// get the largest type that fits. Headings wrap if that makes room for more lanes.
func (t *document) fitted(table *table) *printed {
	p := &printed{table: table, columns: table.shown()}
	size := tableType
	if table.large {
		size = largeType
	}
	for t.measure(p, size, true); p.wide > t.wide && size > leastType && table.large; size-- {
		t.measure(p, size-1, true)
	}
	if p.lanes = t.lanes(p); p.lanes == 1 && len(p.rows) >= 2*minLaneRows {
		t.measure(p, size, false)
		if p.lanes = t.lanes(p); p.lanes == 1 {
			t.measure(p, size, true)
		}
	}
	for k, i := range p.columns {
		if len(p.heads) > 0 {
			f := headType(p.types[k])
			p.headHigh = max(p.headHigh, float64(len(t.wrapped(f, p.heads[i], p.widths[k])))*f.line()+1)
		}
	}
	return p
}

// lanes returns the number of lanes that fit.
func (t *document) lanes(p *printed) int {
	if len(p.heads) == 0 {
		return 1
	}
	return max(min(int((t.wide+lanesApart)/(p.wide+lanesApart)), len(p.rows)/minLaneRows, maxLanes), 1)
}

// measure chooses the type and width of each column. Headings stay on one line if they
// fit. If the table is too wide for the page, the widest columns become narrower.
func (t *document) measure(p *printed, size float64, wholeHeads bool) {
	p.types, p.widths, p.wide = nil, nil, -between
	for k, i := range p.columns {
		f := typeface{"go", "", size}
		if p.even && k == len(p.columns)-1 {
			f.family = "mono"
		}
		wide := 0.0
		for _, row := range p.rows {
			if i < len(row) {
				wide = max(wide, t.cellWidth(row[i], f))
			}
		}
		if i < len(p.heads) && wholeHeads {
			wide = max(wide, t.width(headType(f), p.heads[i]))
		} else if i < len(p.heads) {
			for word := range strings.FieldsSeq(p.heads[i]) {
				wide = max(wide, t.width(headType(f), word))
			}
		}
		p.types, p.widths = append(p.types, f), append(p.widths, wide)
		p.wide += wide + between
	}
	for range p.columns {
		k := slices.Index(p.widths, slices.Max(p.widths))
		if over := min(p.wide-t.wide, p.widths[k]-minColumn); over > 0 && !p.whole {
			p.widths[k] -= over
			p.wide -= over
		}
	}
}

// minColumn is the smallest width of a column.
const minColumn = 30.0

func (t *document) cellWidth(cell string, f typeface) float64 {
	if cell == box {
		return boxSide(f)
	}
	wide := 0.0
	for line := range strings.SplitSeq(cell, "\n") {
		wide = max(wide, t.width(f, line))
	}
	if _, hex := colorIn(cell); hex != "" {
		wide += swatchWide
	}
	return wide
}

// colorIn returns the color that a cell consists of, and the mark of a change of shuttle
// before it; hex is "" for another cell.
func colorIn(cell string) (mark, hex string) {
	hex, marked := strings.CutPrefix(cell, change)
	if _, err := schema.ParseColor(hex); err != nil {
		return "", ""
	}
	if marked {
		mark = change
	}
	return mark, hex
}

func headType(f typeface) typeface { return typeface{"go", "B", min(f.size, tableType)} }

// heads writes the headings of a table.
func (t *document) heads(p *printed, x, y float64) {
	if p.headHigh == 0 {
		return
	}
	t.rule(x, y+p.headHigh-0.5, p.wide, 0.3, 0)
	for k, i := range p.columns {
		f := headType(p.types[k])
		for n, line := range t.wrapped(f, p.heads[i], p.widths[k]) {
			t.write(f, t.at(p, k, x, f, line), y+float64(n)*f.line(), line)
		}
		x += p.widths[k] + between
	}
}

// at returns the x position of a line in column k, whose left edge is at x.
func (t *document) at(p *printed, k int, x float64, f typeface, line string) float64 {
	if i := p.columns[k]; i < len(p.right) && p.right[i] {
		return x + p.widths[k] - t.width(f, line)
	}
	return x
}

// rowLines returns the lines of a row, each with the text of every column.
func (t *document) rowLines(p *printed, row []string) [][]string {
	lines := [][]string{make([]string, len(p.columns))}
	for k, i := range p.columns {
		if i >= len(row) || row[i] == "" {
			continue
		}
		for n, text := range t.wrapped(p.types[k], row[i], p.widths[k]) {
			if n == len(lines) {
				lines = append(lines, make([]string, len(p.columns)))
			}
			lines[n][k] = text
		}
	}
	return lines
}

// row draws a line of a row. The first line has the box and the swatch.
func (t *document) row(p *printed, x, y float64, row, line []string, first bool) {
	for k, i := range p.columns {
		f := p.types[k]
		switch {
		case first && i < len(row) && row[i] == box:
			t.box(f, x, y)
		case first && i < len(row) && t.color(f, x, y, row[i]):
		case line[k] != "":
			t.write(f, t.at(p, k, x, f, line[k]), y, line[k])
		}
		x += p.widths[k] + between
	}
}

// color writes a cell that consists of a color, after its swatch, and reports whether it
// does.
func (t *document) color(f typeface, x, y float64, cell string) bool {
	mark, hex := colorIn(cell)
	if hex == "" {
		return false
	}
	t.write(f, x, y, mark)
	x += t.width(f, mark)
	t.swatch(f, x, y, hex)
	t.write(f, x+swatchWide, y, hex)
	return true
}

func (t *document) swatch(f typeface, x, y float64, hex string) {
	c, err := schema.ParseColor(hex)
	if err != nil {
		return
	}
	t.doc.SetFillColor(int(c.R), int(c.G), int(c.B))
	t.doc.SetDrawColor(0, 0, 0)
	t.doc.SetLineWidth(0.2)
	t.doc.Rect(x, y+0.6, swatchWide-2, f.size*point*0.85, "DF")
}
