package report

import (
	"bytes"
	"io"
	"os"
)

// spool keeps a part of a report until it can be written: in memory while it is short,
// then in a temporary file.
type spool struct {
	scratch func() (*os.File, error) // nil keeps all in memory
	file    *os.File                 // everything but the last part
	end     bytes.Buffer
	written bool
}

// mostInMemory is the most bytes of a spool in memory.
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

// WriteTo writes the whole spool.
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
