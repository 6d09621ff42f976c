package schema

import (
	"bytes"
	"cmp"
	"sort"
	"unicode/utf8"
)

// Source is the text of a file, and finds lines and columns in it. Lines end with
// LF, CRLF or CR. Only one goroutine at a time may use it, because it builds its
// line table on demand.
type Source struct {
	Path     string
	Text     []byte // in UTF-8, without a byte order mark
	Raw      []byte // the bytes of the file; the same as Text for plain UTF-8
	Encoding string // of the file, as in formats.Encodings; "" for plain UTF-8
	Stated   string // the encoding that the user states; "" for none

	// Break is the last byte of every line ending: '\n' if all are LF or CRLF,
	// '\r' if all are CR; 0 if they are mixed or unknown.
	Break byte

	lines []int // the offset at which each line begins
	asked int   // how many positions were found without lines
}

// fewPositions is how many positions are counted one by one before building the
// line table pays.
const fewPositions = 16

// Span is a range of bytes in a Source. The end is exclusive.
type Span struct {
	Start, End int
}

// Compare returns how a span compares with another by its start, then by its end: -1, 0
// or 1.
func (a Span) Compare(b Span) int {
	return cmp.Or(cmp.Compare(a.Start, b.Start), cmp.Compare(a.End, b.End))
}

// Position is a range of lines and columns, counted from 1. Columns count
// characters. The end column is the one after the last character.
type Position struct {
	Line, Column, EndLine, EndColumn int
}

// Position returns the lines and columns of a span. It clips a span that exceeds
// the text.
func (s *Source) Position(at Span) Position {
	var p Position
	p.Line, p.Column = s.lineColumn(at.Start)
	p.EndLine, p.EndColumn = s.lineColumn(max(at.Start, at.End))
	return p
}

func (s *Source) lineColumn(offset int) (line, column int) {
	offset = min(max(offset, 0), len(s.Text))
	if s.lines == nil && s.Break != 0 && s.asked < fewPositions {
		s.asked++
		head := s.Text[:offset]
		start := bytes.LastIndexByte(head, s.Break) + 1
		return bytes.Count(head[:start], []byte{s.Break}) + 1, utf8.RuneCount(head[start:]) + 1
	}
	s.index()
	line = sort.Search(len(s.lines), func(i int) bool { return s.lines[i] > offset })
	return line, utf8.RuneCount(s.Text[s.lines[line-1]:offset]) + 1
}

// LineAt returns the text of the line at an offset, without its ending.
func (s *Source) LineAt(offset int) []byte {
	offset = min(max(offset, 0), len(s.Text))
	if s.Break == 0 {
		line, _ := s.lineColumn(offset)
		return s.Line(line)
	}
	start := bytes.LastIndexByte(s.Text[:offset], s.Break) + 1
	end := len(s.Text)
	if i := bytes.IndexByte(s.Text[offset:], s.Break); i >= 0 {
		end = offset + i
	}
	return bytes.TrimRight(s.Text[start:end], "\r\n")
}

// Line returns the text of a line without its ending; nil after the last line.
func (s *Source) Line(n int) []byte {
	s.index()
	if n < 1 || n > len(s.lines) {
		return nil
	}
	line := s.Text[s.lines[n-1]:]
	if n < len(s.lines) {
		line = s.Text[s.lines[n-1]:s.lines[n]]
	}
	return bytes.TrimRight(line, "\r\n")
}

func (s *Source) index() {
	if s.lines != nil {
		return
	}
	s.lines = append(make([]int, 0, bytes.Count(s.Text, []byte{'\n'})+1), 0)
	for i := 0; i < len(s.Text); i++ {
		switch s.Text[i] {
		case '\r':
			if i+1 < len(s.Text) && s.Text[i+1] == '\n' {
				i++
			}
			s.lines = append(s.lines, i+1)
		case '\n':
			s.lines = append(s.lines, i+1)
		}
	}
}
