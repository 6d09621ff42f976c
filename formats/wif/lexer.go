package wif

import "fettle/schema"

// lineSort is a sort of line.
type lineSort uint8

const (
	sortBlank   lineSort = iota
	sortComment          // begins with a semicolon
	sortSection          // [NAME]
	sortKey              // name = value
	sortStray            // anything else
)

// line is one line of the file, in byte offsets.
type line struct {
	sort       lineSort
	start, end int         // without white space at the ends
	next       int         // where the next line begins
	name       schema.Span // of a section or a key
	value      schema.Span // of a key
	rest       schema.Span // after a section's bracket
	unclosed   bool        // a section without its closing bracket
}

// lex reads the line that begins at an offset. It reads each byte a fixed number of
// times and allocates nothing.
func lex(text []byte, at int) line {
	end := at
	for end < len(text) && text[end] != '\n' && text[end] != '\r' {
		end++
	}
	l := line{next: afterBreak(text, end)}
	l.start, l.end = edges(text, at, end)
	if l.start == l.end {
		return l
	}
	switch text[l.start] {
	case ';':
		l.sort = sortComment
	case '[':
		l.section(text)
	default:
		l.key(text)
	}
	return l
}

func (l *line) section(text []byte) {
	l.sort = sortSection
	closing := l.start + 1
	for closing < l.end && text[closing] != ']' {
		closing++
	}
	l.unclosed = closing == l.end
	l.name.Start, l.name.End = edges(text, l.start+1, closing)
	l.rest.Start, l.rest.End = edges(text, min(closing+1, l.end), l.end)
	if l.name.Start == l.name.End {
		l.sort = sortStray
	}
}

func (l *line) key(text []byte) {
	l.sort = sortStray
	for i := l.start; i < l.end; i++ {
		if text[i] == '=' {
			l.name.Start, l.name.End = edges(text, l.start, i)
			l.value.Start, l.value.End = edges(text, i+1, l.end)
			if l.name.Start < l.name.End {
				l.sort = sortKey
			}
			return
		}
	}
}

// span returns the line without white space at its ends.
func (l line) span() schema.Span { return schema.Span{Start: l.start, End: l.end} }

// afterBreak returns the offset after the line break at an offset: CRLF, LF or CR.
func afterBreak(text []byte, at int) int {
	if at < len(text) && text[at] == '\r' {
		at++
		if at < len(text) && text[at] == '\n' {
			at++
		}
	} else if at < len(text) {
		at++
	}
	return at
}

// trim drops white space at both ends of a range.
func trim(text []byte, from, to int) (start, end int) {
	for from < to && blank(text[from]) {
		from++
	}
	for to > from && blank(text[to-1]) {
		to--
	}
	return from, to
}

// edges drops white space, odd spaces and end-of-file marks at both ends of a range.
func edges(text []byte, from, to int) (start, end int) {
	for {
		from, to = trim(text, from, to)
		switch {
		case from == to:
			return from, to
		case text[from] < 0x80 && text[to-1] < 0x80 && text[from] != endOfText:
			return from, to
		}
		head, tail := oddSpaceAt(text[from:to]), oddSpaceBefore(text[from:to])
		if head == 0 && tail == 0 {
			return from, to
		}
		from += head
		to = max(from, to-tail)
	}
}

// row reads a row in its plain form, 12=3 or 12=3,4, from an offset: its index, its
// first number and, if it has several, all of them, appended to more. ok is false for
// any other form (white space, signs, comments, more than nine digits).
func row(text []byte, at int, more []int32) (index, first int32, list []int32, next int, ok bool) {
	i := at
	index, i = digits(text, i)
	if i == at || i >= len(text) || text[i] != '=' {
		return 0, 0, nil, at, false
	}
	from := i + 1
	first, i = digits(text, from)
	if i == from {
		return 0, 0, nil, at, false
	}
	list = more
	for i < len(text) && text[i] == ',' {
		if len(list) == 0 {
			list = append(list, first)
		}
		var v int32
		from = i + 1
		v, i = digits(text, from)
		if i == from {
			return 0, 0, nil, at, false
		}
		list = append(list, v)
	}
	if i < len(text) && text[i] != '\n' && text[i] != '\r' {
		return 0, 0, nil, at, false
	}
	return index, first, list, afterBreak(text, i), true
}

// shortRow reads the row of most tables, 12=3, from an offset: its index, its number and
// where the next line begins. For any other line next is at.
func shortRow(text []byte, at int) (index, number int32, next int) {
	index, i := digits(text, at)
	if i == at || i >= len(text) || text[i] != '=' {
		return 0, 0, at
	}
	from := i + 1
	number, i = digits(text, from)
	if i == from || i < len(text) && text[i] != '\n' && text[i] != '\r' {
		return 0, 0, at
	}
	return index, number, afterBreak(text, i)
}

// digits reads a whole number of one to nine digits. If there is none, or a longer
// one, it returns the same offset.
func digits(text []byte, at int) (v int32, next int) {
	for i, c := range text[at:] {
		digit := c - '0' // over 9 for anything else
		switch {
		case digit > 9:
			return v, at + i
		case i == 9:
			return 0, at
		}
		v = v*10 + int32(digit)
	}
	return v, len(text)
}
