package wif

import (
	"iter"
	"slices"
	"strconv"

	"fettle/schema"
	"fettle/schema/wording"
)

// locator finds places by reading their sections again, so that it costs nothing if
// there are no findings.
type locator struct {
	text     []byte
	parts    []part
	inOrder  uint64         // kinds of section that occur once, with their rows in order
	searches int            // rows searched for so far
	rows     map[kind][]int // where the line of each row begins, plus one; made on demand
}

// locator returns a locator for the sections read so far.
func (r *reader) locator() *locator { return &locator{text: r.text, parts: r.parts[1:]} }

// locatorUpTo returns one that also finds the lines of the current section up to an
// offset.
func (r *reader) locatorUpTo(end int) *locator {
	parts := slices.Clone(r.parts[1:])
	parts[len(parts)-1].end = end
	return &locator{text: r.text, parts: parts}
}

// Locate returns the line of a place, otherwise the header of its section, otherwise
// the first header of the file.
func (l *locator) Locate(p schema.Place) (schema.Span, string) {
	for k := kindWIF; k < kinds; k++ {
		if sections[k].part != p.Part || p.Part == schema.PartFile || !l.has(k) {
			continue
		}
		if p.Row > 0 && sections[k].form != formFields {
			if at, ok := l.row(k, p.Row); ok {
				return at, ""
			}
		}
		if at, ok := l.field(k, p.Field); ok {
			return at, ""
		}
		if at, ok := l.field(k, schema.FieldThreads); ok && p.Field != schema.NoField {
			return at, "" // every WARP and WEFT should have this key
		}
		if p.Row > 0 && sections[k].form == formFields {
			continue // the rows may be in the next section: COLOR TABLE after COLOR PALETTE
		}
		return l.header(k), ""
	}
	return l.nearestSection(p), ""
}

// field returns the line of a single value in the sections of a kind.
func (l *locator) field(k kind, f schema.Field) (schema.Span, bool) {
	if name := k.nameOf(f); name != "" {
		return l.key(k, name)
	}
	return schema.Span{}, false
}

// nearestSection returns the header that is closest to a place the file doesn't have.
func (l *locator) nearestSection(p schema.Place) schema.Span {
	near := kindUnknown
	switch p.Part {
	case schema.PartWarp, schema.PartWarpColors, schema.PartWarpSpacings, schema.PartWarpThicknesses, schema.PartThreading:
		near = kindWarp
		if !l.has(near) {
			near = kindThreading
		}
	case schema.PartWeft, schema.PartWeftColors, schema.PartWeftSpacings, schema.PartWeftThicknesses,
		schema.PartTreadling, schema.PartLiftPlan:
		near = kindWeft
	case schema.PartPalette:
		near = kindColorPalette
	}
	if near != kindUnknown && l.has(near) {
		return l.header(near)
	}
	if len(l.parts) > 0 {
		return l.parts[0].header
	}
	return schema.Span{}
}

func (l *locator) has(k kind) bool {
	for i := range l.parts {
		if l.parts[i].kind == k {
			return true
		}
	}
	return false
}

func (l *locator) header(k kind) schema.Span {
	for i := range l.parts {
		if l.parts[i].kind == k {
			return l.parts[i].header
		}
	}
	return schema.Span{}
}

// key returns the line of a key, under its own name or a misspelt one.
func (l *locator) key(k kind, name string) (schema.Span, bool) {
	var misspelt schema.Span
	found := false
	for line := range l.keys(k) {
		text := l.text[line.name.Start:line.name.End]
		if sameName(text, name) {
			return line.span(), true
		}
		if i := k.nearKey(text); !found && i >= 0 && sections[k].keys[i].name == name {
			misspelt, found = line.span(), true
		}
	}
	return misspelt, found
}

// keys yields the key lines of all sections of a kind, in file order.
func (l *locator) keys(k kind) iter.Seq[line] {
	return func(use func(line) bool) {
		for i := range l.parts {
			if l.parts[i].kind != k {
				continue
			}
			for at := l.parts[i].body; at < l.parts[i].end; {
				x := lex(l.text, at)
				if x.sort == sortKey && !use(x) {
					return
				}
				at = x.next
			}
		}
	}
}

// row returns the line of a row in the sections of a kind.
func (l *locator) row(k kind, n int) (schema.Span, bool) {
	table, ok := l.rows[k]
	if !ok {
		if l.inOrder&(1<<k) != 0 && l.searches < maxSearches {
			l.searches++
			return l.search(k, n)
		}
		table = l.index(k)
	}
	if n < 1 || n > len(table) || table[n-1] == 0 {
		return schema.Span{}, false
	}
	return lex(l.text, table[n-1]-1).span(), true
}

// maxSearches is how many rows are searched for before an index is faster.
const maxSearches = 16

// search finds a row by bisection. The rows must be in order.
func (l *locator) search(k kind, n int) (schema.Span, bool) {
	var lo, hi int
	for i := range l.parts {
		if l.parts[i].kind == k {
			lo, hi = l.parts[i].body, l.parts[i].end
		}
	}
	for lo < hi {
		at := (lo + hi) / 2
		for at > lo && l.text[at-1] != '\n' && l.text[at-1] != '\r' {
			at--
		}
		line, index := l.nextRow(at, hi)
		switch {
		case index == n:
			return line.span(), true
		case index > 0 && index < n:
			lo = line.next
		default:
			hi = at
		}
	}
	return schema.Span{}, false
}

// nextRow returns the first row between two offsets, and its number; 0 for none.
func (l *locator) nextRow(at, end int) (line, int) {
	for at < end {
		x := lex(l.text, at)
		if row := rowOf(l.text, x); row > 0 {
			return x, row
		}
		at = x.next
	}
	return line{}, 0
}

// rowOf returns the row number of a line, 0 if it isn't a row.
func rowOf(text []byte, l line) int {
	if l.sort == sortKey {
		if v, next := digits(text, l.name.Start); next == l.name.End {
			return int(v)
		}
	}
	return 0
}

// index records where each row of the sections of a kind begins. The first of
// duplicate rows wins; rows beyond schema.MostExtraRows don't count.
func (l *locator) index(k kind) []int {
	var table []int
	listed := 0
	for range l.keys(k) {
		listed++
	}
	for x := range l.keys(k) {
		table = addRow(table, rowOf(l.text, x), x.start, listed+schema.MostExtraRows)
	}
	if l.rows == nil {
		l.rows = map[kind][]int{}
	}
	l.rows[k] = table
	return table
}

func addRow(table []int, row, at, limit int) []int {
	if row < 1 || row > limit {
		return table
	}
	if row > len(table) {
		table = append(table, make([]int, row-len(table))...)
	}
	if table[row-1] == 0 {
		table[row-1] = at + 1
	}
	return table
}

// Set changes the value of a key, or adds the key, with its section if need be.
func (l *locator) Set(p schema.Place, value string) []schema.Edit {
	if answer, ok := map[string]string{"rising": "true", "sinking": "false"}[value]; ok && p.Field == schema.FieldShed {
		value = answer
	}
	for k := kindWIF; k < kinds; k++ {
		if name := k.nameOf(p.Field); name != "" && sections[k].part == p.Part {
			return l.setKey(k, name, value)
		}
	}
	return nil
}

// setKey changes the value of a key, or adds the key after the last one of the first
// section of a kind.
func (l *locator) setKey(k kind, name, value string) []schema.Edit {
	if at, ok := l.key(k, name); ok {
		line := lex(l.text, at.Start)
		return []schema.Edit{{Span: plainPart(l.text, line.value), New: value}}
	}
	for i := range l.parts {
		if p := &l.parts[i]; p.kind == k {
			last := l.lastKey(p)
			return []schema.Edit{{Span: schema.Span{Start: last.end, End: last.end}, New: breakOf(l.text, last) + name + "=" + value}}
		}
	}
	return l.addSection(k, name+"="+value)
}

// addSection adds a section with one line, in canonical order.
func (l *locator) addSection(k kind, only string) []schema.Edit {
	for i := range l.parts {
		if p := &l.parts[i]; p.kind > k {
			at := lineStart(l.text, p.header.Start)
			eol := breakOf(l.text, lex(l.text, at))
			return []schema.Edit{{Span: schema.Span{Start: at, End: at}, New: "[" + sections[k].name + "]" + eol + only + eol + eol}}
		}
	}
	return nil
}

// lastKey returns the last key line of a section, otherwise its header.
func (l *locator) lastKey(p *part) line {
	last := lex(l.text, p.header.Start)
	for at := p.body; at < p.end; {
		line := lex(l.text, at)
		if line.sort == sortKey {
			last = line
		}
		at = line.next
	}
	return last
}

// SetRow changes the numbers in a row.
func (l *locator) SetRow(p schema.Place, numbers []int32) []schema.Edit {
	line, ok := l.rowLine(p)
	if !ok {
		return nil
	}
	return []schema.Edit{{Span: plainPart(l.text, line.value), New: joined(numbers)}}
}

// SetRows changes the rows that the file has, adds missing ones after the last, and
// deletes the rest.
func (l *locator) SetRows(p schema.Part, rows [][]int32) []schema.Edit {
	for k := kindWIF; k < kinds; k++ {
		if sections[k].part == p && sections[k].form == formNumbers && l.has(k) {
			return l.setRows(k, rows)
		}
	}
	return nil
}

func (l *locator) setRows(k kind, rows [][]int32) (edits []schema.Edit) {
	table := l.index(k)
	last, more := lex(l.text, l.header(k).Start), ""
	for _, at := range table {
		if at-1 > last.start {
			last = lex(l.text, at-1)
		}
	}
	for n := 1; n <= max(len(rows), len(table)); n++ {
		var row line
		there := n <= len(table) && table[n-1] > 0
		if there {
			row = lex(l.text, table[n-1]-1)
		}
		switch {
		case there && n > len(rows):
			edits = append(edits, l.deleteLine(row))
		case there:
			edits = append(edits, schema.Edit{Span: plainPart(l.text, row.value), New: joined(rows[n-1])})
		case n <= len(rows):
			more += breakOf(l.text, last) + strconv.Itoa(n) + "=" + joined(rows[n-1])
		}
	}
	at := slices.IndexFunc(edits, func(e schema.Edit) bool { return e.Span.End == last.end })
	switch {
	case more == "":
	case at >= 0:
		edits[at].New += more
	default:
		edits = append(edits, schema.Edit{Span: schema.Span{Start: last.end, End: last.end}, New: more})
	}
	return edits
}

// joined returns the numbers of a row as text; "0" for none.
func joined(numbers []int32) string { return wording.JoinNumbers(numbers, ",", "0") }

// Renumber changes the number of a row.
func (l *locator) Renumber(p schema.Place, row int) []schema.Edit {
	line, ok := l.rowLine(p)
	if !ok {
		return nil
	}
	return []schema.Edit{{Span: line.name, New: strconv.Itoa(row)}}
}

// rowLine returns the line of a row.
func (l *locator) rowLine(p schema.Place) (line, bool) {
	for k := kindWIF; k < kinds; k++ {
		if sections[k].part != p.Part || sections[k].form == formFields {
			continue
		}
		if at, ok := l.row(k, p.Row); ok {
			return lex(l.text, at.Start), true
		}
	}
	return line{}, false
}

// Drop deletes the line of a row, or the headers and keys of all sections of a part.
func (l *locator) Drop(p schema.Place) []schema.Edit {
	if p.Row > 0 {
		line, ok := l.rowLine(p)
		if !ok {
			return nil
		}
		return []schema.Edit{l.deleteLine(line)}
	}
	var edits []schema.Edit
	for i := range l.parts {
		if q := &l.parts[i]; sections[q.kind].part == p.Part && p.Part != schema.PartFile {
			edits = l.deleteSection(edits, q)
		}
	}
	return edits
}

// deleteSection deletes a section, but not its comments and stray lines. Consecutive
// lines make one edit.
func (l *locator) deleteSection(edits []schema.Edit, p *part) []schema.Edit {
	from := lineStart(l.text, p.header.Start)
	add := func(to int) {
		if to > from {
			edits = append(edits, cut(from, to))
		}
	}
	for at := from; at < p.end; {
		line := lex(l.text, at)
		if line.sort == sortComment || line.sort == sortStray {
			add(at)
			from = line.next
		}
		at = line.next
	}
	add(p.end)
	return edits
}

// deleteLine deletes a line with its line break.
func (l *locator) deleteLine(at line) schema.Edit { return cut(lineStart(l.text, at.start), at.next) }

func cut(from, to int) schema.Edit { return schema.Edit{Span: schema.Span{Start: from, End: to}} }

// lineStart returns where the line at an offset begins.
func lineStart(text []byte, at int) int {
	for at > 0 && text[at-1] != '\n' && text[at-1] != '\r' {
		at--
	}
	return at
}

// breakOf returns the line break after a line or, if it has none, after the first line
// of the file.
func breakOf(text []byte, l line) string {
	end := l.next
	for end > l.end && (text[end-1] == '\n' || text[end-1] == '\r') {
		end--
	}
	if end < l.next {
		return string(text[end:l.next])
	}
	if first := lex(text, 0); first.next < len(text) {
		return breakOf(text, first)
	}
	return "\n"
}
