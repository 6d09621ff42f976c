package report

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/fatih/color"

	"fettle/schema"
)

// widestLine is how many characters of a source line are shown.
const widestLine = 100

// text writes findings for a person at a terminal: where, how severe, what, by
// which rule, and the line it stands at with a marker below.
type text struct {
	out   *bufio.Writer
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
		place: paint(color.Bold),
		dim:   paint(color.Faint),
		by: map[schema.Severity]*color.Color{schema.Error: paint(color.FgRed, color.Bold),
			schema.Warning: paint(color.FgYellow, color.Bold), schema.Note: paint(color.FgCyan)},
	}
}

func (t *text) File(f File) error {
	for i := range f.Findings {
		t.finding(f, &f.Findings[i])
	}
	return t.out.Flush()
}

func (t *text) finding(f File, found *schema.Finding) {
	p := found.Position
	fmt.Fprintf(t.out, "%s %s: %s %s\n",
		t.place.Sprint(shownPath(f.Path), ":", p.Line, ":", p.Column, ":"),
		t.by[found.Severity].Sprint(found.Severity), found.Message, t.dim.Sprint("["+found.Rule+"]"))
	line := string(f.Source.LineAt(found.Span.Start))
	if strings.TrimSpace(line) == "" {
		return
	}
	number := strconv.Itoa(p.Line)
	shown, marker := underlined(line, p)
	fmt.Fprintf(t.out, "%s %s\n%s %s\n", t.dim.Sprint(number+" |"), shown,
		t.dim.Sprint(strings.Repeat(" ", len(number))+" |"), t.by[found.Severity].Sprint(marker))
}

// shownPath is a path fit to begin a line with: a CI service would take one
// that begins with two colons for a command.
func shownPath(path string) string {
	shown := schema.Plain(path, len(path))
	if strings.HasPrefix(shown, "::") {
		return "./" + shown
	}
	return shown
}

// underlined is a line fit to be shown, cut where it is long, and the marker
// that goes below it.
func underlined(line string, p schema.Position) (shown, marker string) {
	end := p.EndColumn
	if p.EndLine > p.Line {
		end = utf8.RuneCountInString(line) + 1
	}
	first := 1
	if p.Column > widestLine*3/4 {
		first = p.Column - widestLine/4
	}
	var b strings.Builder
	column, last := 0, first+widestLine
	for _, r := range line {
		if column++; column >= last {
			b.WriteString("…")
			break
		}
		if column >= first {
			b.WriteRune(schema.Printable(r))
		}
	}
	start := p.Column - first
	width := max(min(end, last)-p.Column, 1)
	return b.String(), strings.Repeat(" ", start) + strings.Repeat("^", width)
}

func (t *text) Close(Summary) error { return t.out.Flush() }
