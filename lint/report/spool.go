package report

import (
	"bytes"
	"io"
	"os"
)

// spool holds a part of a report that is found before its place in the report has
// come: in memory while it is short, then in a temporary file.
type spool struct {
	scratch func() (*os.File, error) // nil: it stays in memory
	file    *os.File                 // what came before
	end     bytes.Buffer
	written bool
}

// mostInMemory is how many bytes of a spool are held in memory.
const mostInMemory = 1 << 18

func (s *spool) Write(text []byte) (int, error) {
	s.written = true
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
