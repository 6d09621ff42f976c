package wif

import (
	"iter"
	"slices"

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
