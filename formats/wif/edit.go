package wif

import (
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
)

// This file is the locator as a schema.Editor: how the text format is brought to
// say something else by the smallest edits.

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
