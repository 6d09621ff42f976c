package report

import (
	"bufio"
	"bytes"
	"io"
	"os"

	"fettle/schema"
)

// writeJSON writes a value as schema.JSON has it.
func writeJSON(to *bufio.Writer, v any, l layout) error {
	text, err := schema.JSON(v, l.prefix, l.indent)
	if err != nil {
		return err
	}
	_, err = to.Write(text)
	return err
}

// layout is how JSON is laid out: the beginning of each line, and what each level
// adds to it. The zero value is one line without spaces.
type layout struct{ prefix, indent string }

func (l layout) deeper() layout { return layout{l.prefix + l.indent, l.indent} }

// line begins a new line.
func (l layout) line(to *bufio.Writer) {
	if l.indent != "" {
		to.WriteString("\n" + l.prefix)
	}
}

// list is a key of an object that holds a list. write writes an element.
type list struct {
	key   string
	n     int
	write func(i int, l layout) error
}

// writeObject writes an object with its lists last, an element at a time. object
// holds the other keys, at least one.
func writeObject(to *bufio.Writer, object any, l layout, lists ...list) error {
	text, err := schema.JSON(object, l.prefix, l.indent)
	if err != nil {
		return err
	}
	to.Write(bytes.TrimRight(text[:len(text)-1], "\n ")) // the brace comes last
	for _, x := range lists {
		to.WriteByte(',')
		l.deeper().line(to)
		to.WriteString(`"` + x.key + `":`)
		if l.indent != "" {
			to.WriteByte(' ')
		}
		if err := x.writeTo(to, l.deeper()); err != nil {
			return err
		}
	}
	l.line(to)
	return to.WriteByte('}')
}

func (x list) writeTo(to *bufio.Writer, l layout) error {
	to.WriteByte('[')
	for i := range x.n {
		if i > 0 {
			to.WriteByte(',')
		}
		l.deeper().line(to)
		if err := x.write(i, l.deeper()); err != nil {
			return err
		}
	}
	if x.n > 0 {
		l.line(to)
	}
	return to.WriteByte(']')
}

// spool holds a part of a report that is found before its place in the report has
// come: in memory while it is short, then in a temporary file.
type spool struct {
	scratch func() (*os.File, error) // nil: it stays in memory
	file    *os.File                 // what came before
	end     bytes.Buffer
	any     bool
}

// mostInMemory is how many bytes of a spool are held in memory.
const mostInMemory = 1 << 18

func (s *spool) Write(text []byte) (int, error) {
	s.any = true
	s.end.Write(text)
	if s.end.Len() < mostInMemory || s.scratch == nil {
		return len(text), nil
	}
	if s.file == nil {
		file, err := s.scratch()
		if err != nil {
			return 0, err
		}
		s.file = file
	}
	_, err := s.end.WriteTo(s.file)
	return len(text), err
}

// WriteTo writes all that the spool holds.
func (s *spool) WriteTo(to io.Writer) (int64, error) {
	if s.file == nil {
		return s.end.WriteTo(to)
	}
	if _, err := s.file.Seek(0, io.SeekStart); err != nil {
		return 0, err
	}
	n, err := io.Copy(to, s.file)
	if err != nil {
		return n, err
	}
	more, err := s.end.WriteTo(to)
	return n + more, err
}
