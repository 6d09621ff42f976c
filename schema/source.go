package schema

import (
	"bytes"
	"sort"
	"unicode/utf8"
)

// Source is a file's text and where its lines begin. Lines end at LF, at CRLF
// or at a lone CR. It is not safe for use by several goroutines at once: the
// line table is built when it is first asked for.
type Source struct {
	Path     string
	Text     []byte // in UTF-8, without a byte order mark
	Raw      []byte // the file as it stands; Text itself where that is plain UTF-8
	Encoding string // the encoding of the file, as formats.Encodings names it; "" for plain UTF-8
	Stated   string // the encoding that the person who ran fettle says it is in; "" for none

	// Break is what ends every line: '\n' for LF and for CRLF throughout, '\r'
	// for a lone CR throughout; 0 where that is not known, or they are mixed.
	Break byte

	lines []int // the offset at which each line begins
	asked int   // positions looked up without them
}

// fewPositions is how many positions are counted out one by one before a table
// of all lines is worth making.
const fewPositions = 16

// Span is a range of bytes of a Source, the end not included.
type Span struct {
	Start, End int
}

// Position is a range in lines and columns, both from 1; columns count
// characters. The end column is the one after the last character.
type Position struct {
	Line, Column, EndLine, EndColumn int
}

// Position says where a span stands. A span outside the text is cut to it.
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

// LineAt is the text of the line that an offset lies in, without its ending.
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

// Line is the text of a line without its ending; empty beyond the last.
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
