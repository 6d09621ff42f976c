package wording

import (
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// LogGuard writes text for people, and keeps CI services from running any of it
// as a command. Services read the log of a job and obey two kinds of mark: two
// colons at the beginning of a line, as in ::error::, even after blanks; and two
// number signs with a word and a bracket anywhere in a line, as in ##[error],
// ##vso[ or ##teamcity[. A file name or a title can contain either. The guard
// inserts one space to break a mark, as in ": :error::" or "##vso [", and changes
// nothing else.
//
// Every character that some service or terminal treats as a line break begins a
// line. Color codes at the beginning of a line count as blanks. Text can arrive in
// pieces of any size.
type LogGuard struct {
	to     io.Writer
	state  logState
	begun  []byte // the first bytes of a character, already written; the rest is yet to come
	out    []byte // room for the text of one Write
	broken bool
}

// NewLogGuard returns a LogGuard at the beginning of a line.
func NewLogGuard(to io.Writer) *LogGuard { return &LogGuard{to: to} }

// Unwrap returns the writer that the guard writes to.
func (g *LogGuard) Unwrap() io.Writer { return g.to }

// Write writes text with its marks broken. Errors come from the writer.
func (g *LogGuard) Write(text []byte) (int, error) {
	first := len(g.begun)
	whole := text
	if first > 0 {
		whole = append(g.begun, text...)
	}
	out := g.out[:0]
	at := 0
	for at < len(whole) && utf8.FullRune(whole[at:]) {
		if n := g.state.harmless(whole[at:]); n > 0 {
			out = append(out, whole[max(at, first):max(at+n, first)]...)
			at += n
			continue
		}
		r, size := utf8.DecodeRune(whole[at:])
		if g.state.breaks(r) {
			g.broken = true
			out = append(out, ' ')
		}
		out = append(out, whole[max(at, first):max(at+size, first)]...)
		at += size
	}
	out = append(out, whole[max(at, first):]...)
	g.begun = append([]byte(nil), whole[at:]...)
	g.out = out
	if _, err := g.to.Write(out); err != nil {
		return 0, err
	}
	return len(text), nil
}

// HoldsLogCommand reports whether a CI service would run part of a text as a
// command, if the text begins a line.
func HoldsLogCommand(text []byte) bool {
	g := NewLogGuard(io.Discard)
	_, _ = g.Write(text)
	return g.broken
}

// LogSafe returns a text with its marks broken. The text must not begin a line:
// LogSafe leaves colons at its beginning alone.
func LogSafe(text string) string {
	s := logState{within: true}
	var b strings.Builder
	for _, r := range text {
		if s.breaks(r) {
			b.WriteByte(' ')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// logState is the state of a LogGuard within a line.
type logState struct {
	within bool // the line has something other than blanks
	colon  bool // that is a single colon
	escape byte // the last byte of a color code: ESC or [; 0 for none
	mark   hashMark
}

// breaks takes the next character and reports whether it needs a space before it.
func (s *logState) breaks(r rune) bool {
	marked := s.mark.ends(r)
	if s.escape == 0x1b && r != '[' {
		s.escape = 0 // no color code
	}
	switch {
	case logLineBreak(r):
		s.within, s.colon, s.escape = false, false, 0
	case s.escape == 0x1b:
		s.escape = '['
	case s.escape == '[' && (r < '@' || r > '~'):
	case s.escape != 0:
		s.escape = 0
	case s.within:
		second := s.colon && r == ':'
		s.colon = false
		return marked || second
	case r == 0x1b:
		s.escape = 0x1b
	case !unicode.IsSpace(r) && unicode.IsGraphic(r):
		s.within, s.colon = true, r == ':'
	}
	return marked
}

// harmless returns the length of the text, from its beginning, that neither is part of a
// mark nor changes the state.
func (s *logState) harmless(text []byte) int {
	if !s.within || s.colon || s.escape != 0 || s.mark != (hashMark{}) {
		return 0
	}
	for i, c := range text {
		if c < ' ' || c == '#' || c >= utf8.RuneSelf {
			return i
		}
	}
	return len(text)
}

func logLineBreak(r rune) bool {
	switch r {
	case '\n', '\r', '\v', '\f', 0x1c, 0x1d, 0x1e, 0x85, 0x2028, 0x2029:
		return true
	}
	return false
}

// hashMark recognizes a mark of number signs. It counts the signs, and notes
// whether letters follow them.
type hashMark struct {
	signs int
	word  bool
}

// ends takes the next character and reports whether it is the bracket that
// completes a mark.
func (m *hashMark) ends(r rune) bool {
	switch {
	case r == '#' && !m.word:
		m.signs++
		return false
	case r == '#':
		*m = hashMark{signs: 1}
		return false
	case m.signs >= 2 && (r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z'):
		m.word = true
		return false
	}
	marked := r == '[' && m.signs >= 2
	*m = hashMark{}
	return marked
}
