package report

import (
	"bufio"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/fatih/color"

	"fettle/schema"
	"fettle/schema/wording"
)

// widestLine is the longest excerpt of a source line in a report, in characters.
const widestLine = 100

// text writes findings for a terminal: place, severity, message and rule, then the line
// of the draft with a marker below.
type text struct {
	out   *bufio.Writer
	plain bool // without colors
	place *color.Color
	dim   *color.Color
	by    map[schema.Severity]*color.Color
}

func newText(to io.Writer, o Options) Writer {
	paint := func(attributes ...color.Attribute) *color.Color {
		c := color.New(attributes...)
		if o.Color {
			c.EnableColor()
		} else {
			c.DisableColor()
		}
		return c
	}
	return &text{
		out:   bufio.NewWriter(to),
		plain: !o.Color,
		place: paint(color.Bold),
		dim:   paint(color.Faint),
		by: map[schema.Severity]*color.Color{schema.Error: paint(color.FgRed, color.Bold),
			schema.Warning: paint(color.FgYellow, color.Bold), schema.Note: paint(color.FgCyan)},
	}
}

func (t *text) File(f File) error {
	if len(f.Findings) == 0 {
		return nil
	}
	path := wording.PathName(f.Path)
	for i := range f.Findings {
		t.finding(f.Source, path, &f.Findings[i])
	}
	return t.out.Flush()
}

func (t *text) finding(src *schema.Source, path string, found *schema.Finding) {
	p, severity := found.Position, t.by[found.Severity]
	number := strconv.Itoa(p.Line)
	t.paint(t.place, path, ":", number, ":", strconv.Itoa(p.Column), ":")
	t.paint(nil, " ")
	t.paint(severity, found.Severity.String())
	t.paint(nil, ": ", found.Message, " ")
	t.paint(t.dim, "[", found.Rule, "]")
	if line := src.LineAt(found.Span.Start); isShown(line, found.Rule) {
		shown, marker := underlined(line, p)
		t.paint(nil, "\n")
		t.paint(t.dim, number, " |")
		t.paint(nil, " ", shown, "\n")
		t.paint(t.dim, strings.Repeat(" ", len(number)), " |")
		t.paint(nil, " ")
		t.paint(severity, marker)
	}
	t.paint(nil, "\n")
}

// paint writes words in a color, or plain if c is nil. The next Flush returns its error.
func (t *text) paint(c *color.Color, words ...string) {
	if c != nil && !t.plain {
		words = []string{c.Sprint(strings.Join(words, ""))}
	}
	for _, word := range words {
		t.out.WriteString(word)
	}
}

// underlined returns a line in printable characters, cut if it is long, and its marker.
func underlined(line []byte, p schema.Position) (shown, marker string) {
	end := p.EndColumn
	if p.EndLine > p.Line {
		end = utf8.RuneCount(line) + 1
	}
	first := 1
	if p.Column > widestLine*3/4 {
		first = p.Column - widestLine/4
	}
	last := first + widestLine
	width := max(min(end, last)-p.Column, 1)
	return excerpt(line, first, last), strings.Repeat(" ", p.Column-first) + strings.Repeat("^", width)
}

// excerpt returns the columns first to last-1 of a line in printable characters.
func excerpt(line []byte, first, last int) string {
	var b strings.Builder
	b.Grow(min(len(line), utf8.UTFMax*(last-first)))
	column := 0
	for _, r := range string(line) {
		if column++; column >= last {
			b.WriteString("…")
			break
		}
		if column >= first {
			b.WriteRune(wording.Printable(r))
		}
	}
	return b.String()
}

// Missed writes nothing: the command prints each reason once for all its files.
func (t *text) Missed(Missed) error { return nil }

func (t *text) Close(Summary) error { return t.out.Flush() }
