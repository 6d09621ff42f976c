package wif

import (
	"iter"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
)

// locator finds places in the text by reading the sections concerned again, so
// that a draft without findings pays nothing for it.
type locator struct {
	text    []byte
	parts   []part
	inOrder uint64         // kinds of section that stand once, their rows in order
	sought  int            // rows searched for so far
	rows    map[kind][]int // where each row's line begins, plus one; made when first asked for
}

// locator finds places in what has been read so far.
func (r *reader) locator() *locator { return &locator{text: r.text, parts: r.parts[1:]} }

// soFar is locator while a section is still being read.
func (r *reader) soFar(end int) *locator {
	parts := slices.Clone(r.parts[1:])
	parts[len(parts)-1].end = end
	return &locator{text: r.text, parts: parts}
}

// Locate gives the line of a place, else its section's name, else the first
// line of the file.
func (l *locator) Locate(p schema.Place) (schema.Span, string) {
	for k := kindWIF; k < kinds; k++ {
		if sections[k].part != p.Part || p.Part == schema.PartFile || !l.has(k) {
			continue
		}
		if p.Row > 0 && sections[k].form != fields {
			if at, ok := l.row(k, p.Row); ok {
				return at, ""
			}
		}
		if at, ok := l.field(k, p.Field); ok {
			return at, ""
		}
		if at, ok := l.field(k, schema.FieldThreads); ok && p.Field != schema.NoField {
			return at, "" // every warp and every weft should have this one
		}
		if p.Row > 0 && sections[k].form == fields {
			continue // the rows may be in the next section: COLOR TABLE behind COLOR PALETTE
		}
		return l.header(k), ""
	}
	return l.elsewhere(p), ""
}

// field is the line of a single value in the sections of a kind.
func (l *locator) field(k kind, f schema.Field) (schema.Span, bool) {
	if f != schema.NoField {
		for _, key := range sections[k].keys {
			if key.field == f {
				return l.key(k, key.name)
			}
		}
	}
	return schema.Span{}, false
}

// elsewhere is for a place whose section the file does not have.
func (l *locator) elsewhere(p schema.Place) schema.Span {
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

// key is the line of a key in the sections of a kind, under its own name or one
// that is read as it.
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

// keys are the key lines of the sections of a kind, in file order.
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

// row is the line of a row in the sections of a kind.
func (l *locator) row(k kind, n int) (schema.Span, bool) {
	table, ok := l.rows[k]
	if !ok {
		if l.inOrder&(1<<k) != 0 && l.sought < fewLookups {
			l.sought++
			return l.search(k, n)
		}
		table = l.index(k)
	}
	if n < 1 || n > len(table) || table[n-1] == 0 {
		return schema.Span{}, false
	}
	return lex(l.text, table[n-1]-1).span(), true
}

// fewLookups is how many rows are searched for one by one before an index of
// them all is worth making.
const fewLookups = 16

// search finds a row in a section whose rows stand in order, by halving.
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

// nextRow is the first row between two offsets, and its index; 0 for none.
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

// rowOf is the number of the row that a line is, 0 where it is none.
func rowOf(text []byte, l line) int {
	if l.sort == sortKey {
		if v, next := digits(text, l.name.Start); next == l.name.End {
			return int(v)
		}
	}
	return 0
}

// index notes where each row of the sections of a kind begins. Of a row listed
// twice the first counts, and rows beyond belief do not.
func (l *locator) index(k kind) []int {
	var table []int
	listed := 0
	for range l.keys(k) {
		listed++
	}
	for x := range l.keys(k) {
		table = noteRow(table, rowOf(l.text, x), x.start, listed+schema.Belief)
	}
	if l.rows == nil {
		l.rows = map[kind][]int{}
	}
	l.rows[k] = table
	return table
}

func noteRow(table []int, row, at, limit int) []int {
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

// Set changes the value of a key, or adds the key to its section, or that to the
// file.
func (l *locator) Set(p schema.Place, value string) []schema.Edit {
	if answer, ok := map[string]string{"rising": "true", "sinking": "false"}[value]; ok && p.Field == schema.FieldShed {
		value = answer
	}
	for k := kindWIF; k < kinds; k++ {
		for _, key := range sections[k].keys {
			if sections[k].part == p.Part && p.Field != schema.NoField && key.field == p.Field {
				return l.setKey(k, key.name, value)
			}
		}
	}
	return nil
}

// setKey changes the value of a key, or adds it behind the last key of the first
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

// addSection puts a section of one line before the first of those that come
// after it in canonical order.
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

// lastKey is the last line of a section that is a key, else its header.
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

// SetRow changes the numbers of a row.
func (l *locator) SetRow(p schema.Place, numbers []int32) []schema.Edit {
	line, ok := l.listed(p)
	if !ok {
		return nil
	}
	return []schema.Edit{{Span: plainPart(l.text, line.value), New: joined(numbers)}}
}

// SetRows changes the rows that there are, adds those that are missing after the
// last of them, and takes out those beyond.
func (l *locator) SetRows(p schema.Part, rows [][]int32) []schema.Edit {
	for k := kindWIF; k < kinds; k++ {
		if sections[k].part == p && sections[k].form == numbers && l.has(k) {
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
			edits = append(edits, l.dropped(row))
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

// joined is the value of a row of numbers; 0 for none.
func joined(numbers []int32) string {
	if len(numbers) == 0 {
		return "0"
	}
	var b strings.Builder
	for i, n := range numbers {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString(strconv.Itoa(int(n)))
	}
	return b.String()
}

// Renumber changes the number a row goes by.
func (l *locator) Renumber(p schema.Place, row int) []schema.Edit {
	line, ok := l.listed(p)
	if !ok {
		return nil
	}
	return []schema.Edit{{Span: line.name, New: strconv.Itoa(row)}}
}

// listed is the line of a row.
func (l *locator) listed(p schema.Place) (line, bool) {
	for k := kindWIF; k < kinds; k++ {
		if sections[k].part != p.Part || sections[k].form == fields {
			continue
		}
		if at, ok := l.row(k, p.Row); ok {
			return lex(l.text, at.Start), true
		}
	}
	return line{}, false
}

// Drop takes out the line of a row, or the name and the keys of every section of
// a part.
func (l *locator) Drop(p schema.Place) []schema.Edit {
	if p.Row > 0 {
		line, ok := l.listed(p)
		if !ok {
			return nil
		}
		return []schema.Edit{l.dropped(line)}
	}
	var edits []schema.Edit
	for i := range l.parts {
		if q := &l.parts[i]; sections[q.kind].part == p.Part && p.Part != schema.PartFile {
			edits = l.dropLines(edits, q)
		}
	}
	return edits
}

// dropLines takes out a section but for its comments and stray lines. Lines that
// follow each other go in one edit.
func (l *locator) dropLines(edits []schema.Edit, p *part) []schema.Edit {
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

// dropped takes out a line with its break.
func (l *locator) dropped(at line) schema.Edit { return cut(lineStart(l.text, at.start), at.next) }

func cut(from, to int) schema.Edit { return schema.Edit{Span: schema.Span{Start: from, End: to}} }

// lineStart is where the line that holds an offset begins.
func lineStart(text []byte, at int) int {
	for at > 0 && text[at-1] != '\n' && text[at-1] != '\r' {
		at--
	}
	return at
}

// breakOf is the way lines end where a line does, or for the last line of a
// file, which may not end, where the first one does.
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
