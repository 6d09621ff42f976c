package wording

import (
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// LogGuard passes text for people on to a writer, and keeps CI services from
// running any of it as a command. Services read the log of a job and obey two
// kinds of mark in it: two colons that begin a line, also after blanks, as in
// ::error::, and two number signs with a word and a bracket anywhere in a line,
// as in ##[error], ##vso[ or ##teamcity[. A file name or a title of a draft can
// hold either. The guard breaks such a mark with one space, so that it reads
// ": :error::" or "##vso [", and changes nothing else.
//
// A line begins after each of the characters that some service or terminal takes
// for a line break. Color codes at the beginning of a line count as blanks. Text
// may come in pieces of any size.
type LogGuard struct {
	to     io.Writer
	state  logState
	begun  []byte // of a character, written already, whose rest has not come yet
	broken bool
}

// NewLogGuard returns a LogGuard that is at the beginning of a line.
func NewLogGuard(to io.Writer) *LogGuard { return &LogGuard{to: to} }

// Unwrap returns the writer that text is passed on to.
func (g *LogGuard) Unwrap() io.Writer { return g.to }

// Write passes text on. The error is that of the writer.
func (g *LogGuard) Write(text []byte) (int, error) {
	first := len(g.begun)
	whole := append(g.begun, text...)
	out := make([]byte, 0, len(text)+8)
	at := 0
	for at < len(whole) && utf8.FullRune(whole[at:]) {
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
	if _, err := g.to.Write(out); err != nil {
		return 0, err
	}
	return len(text), nil
}

// HoldsLogCommand reports whether a CI service would run a part of a text as a
// command, where the text begins a line.
func HoldsLogCommand(text []byte) bool {
	g := NewLogGuard(io.Discard)
	_, _ = g.Write(text)
	return g.broken
}

// LogSafe returns a text with its marks broken as a LogGuard breaks them. The text
// is to stand within a line, so colons that begin it are left alone.
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

// logState is what a LogGuard knows of the line so far.
type logState struct {
	within bool // something other than blanks stands in the line
	colon  bool // and it is one colon
	escape byte // of a color code: ESC, or [ after it; 0 for none
	mark   hashMark
}

// breaks takes the next character and reports whether a space must go before it.
func (s *logState) breaks(r rune) bool {
	marked := s.mark.ends(r)
	switch {
	case logLineBreak(r):
		s.within, s.colon, s.escape = false, false, 0
	case s.escape == 0x1b && r == '[':
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

func logLineBreak(r rune) bool {
	switch r {
	case '\n', '\r', '\v', '\f', 0x1c, 0x1d, 0x1e, 0x85, 0x2028, 0x2029:
		return true
	}
	return false
}

// hashMark follows a mark of number signs: how many of them stand before the
// character that comes next, and letters after those.
type hashMark struct {
	signs int
	word  bool
}

// ends takes the next character and reports whether it is the bracket that ends
// a mark.
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
