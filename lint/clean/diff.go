package clean

import (
	"bytes"
	"fmt"
	"slices"
	"sort"
	"strings"
)

// context is how many unchanged lines a hunk shows at either side.
const context = 3

// Diff is the changes as a unified diff, each hunk headed by the rules that
// asked for it; nothing where there are none. A change of the encoding or of all
// line endings is told in a line before it, and the lines are shown as they are
// with that done.
func (r *Result) Diff() []byte {
	if !r.Changed() {
		return nil
	}
	var b bytes.Buffer
	for _, remark := range r.remarks {
		fmt.Fprintf(&b, "%s: file/encoding: %s\n", r.Source.Path, remark)
	}
	if len(r.changes) == 0 {
		return b.Bytes()
	}
	name := r.Source.Path
	if strings.ContainsAny(name, " \t") {
		name += "\t" // else what reads the diff takes the name to end at the blank
	}
	fmt.Fprintf(&b, "--- %s\n+++ %s\n", name, name)
	p := newPaper(r.base)
	edits := p.whole(r.changes)
	moved := 0 // by how many lines the edits so far have moved what follows
	for len(edits) > 0 {
		n := 1
		for n < len(edits) && edits[n].from <= edits[n-1].to+2*context {
			n++
		}
		moved += p.hunk(&b, edits[:n], moved)
		edits = edits[n:]
	}
	return b.Bytes()
}

// paper is a text cut into lines at each LF.
type paper struct {
	text  []byte
	begin []int // where each line begins, and last the end of the text
}

func newPaper(text []byte) *paper {
	p := &paper{text: text, begin: []int{0}}
	for i, c := range text {
		if c == '\n' && i+1 < len(text) {
			p.begin = append(p.begin, i+1)
		}
	}
	if len(text) > 0 {
		p.begin = append(p.begin, len(text))
	}
	return p
}

func (p *paper) lines() int { return len(p.begin) - 1 }

// line is which line an offset lies in, from 0; for the end of the text the one
// that would come next, unless the last goes on there.
func (p *paper) line(offset int) int {
	n := sort.Search(p.lines(), func(i int) bool { return p.begin[i+1] > offset })
	if n == p.lines() && n > 0 && p.text[len(p.text)-1] != '\n' {
		return n - 1
	}
	return n
}

// lineEdit puts other lines in place of those from one to before another, from 0.
type lineEdit struct {
	from, to int
	lines    []string
	rules    []string
}

// whole widens changes to whole lines. Changes in one line make one.
func (p *paper) whole(changes []change) []lineEdit {
	var edits []lineEdit
	for len(changes) > 0 {
		var text strings.Builder
		e := lineEdit{from: p.line(changes[0].Span.Start)}
		at := p.begin[min(e.from, p.lines())]
		n := 0
		for ; n < len(changes) && (n == 0 || p.line(changes[n].Span.Start) <= p.last(at, text.String())); n++ {
			text.Write(p.text[at:changes[n].Span.Start])
			text.WriteString(changes[n].New)
			at = changes[n].Span.End
			e.rules = append(e.rules, changes[n].Rules...)
		}
		e.to = p.last(at, text.String()) + 1
		if e.to <= p.lines() && at < p.begin[e.to] {
			text.Write(p.text[at:p.begin[e.to]])
		}
		e.to = min(e.to, p.lines())
		e.lines = slices.Collect(strings.Lines(text.String()))
		p.narrow(&e)
		edits = append(edits, e)
		changes = changes[n:]
	}
	return edits
}

// narrow takes the lines out at either end that stay as they are.
func (p *paper) narrow(e *lineEdit) {
	same := func(i int, line string) bool { return string(p.text[p.begin[i]:p.begin[i+1]]) == line }
	for e.from < e.to && len(e.lines) > 0 && same(e.from, e.lines[0]) {
		e.from++
		e.lines = e.lines[1:]
	}
	for e.from < e.to && len(e.lines) > 0 && same(e.to-1, e.lines[len(e.lines)-1]) {
		e.to--
		e.lines = e.lines[:len(e.lines)-1]
	}
}

// last is the last line that has to be written anew where the text up to an
// offset has become another: the one it lies in, unless both stop at a line's
// end.
func (p *paper) last(at int, text string) int {
	line := p.line(at)
	if at == p.begin[min(line, p.lines())] && (text == "" || strings.HasSuffix(text, "\n")) {
		return line - 1
	}
	return line
}

// hunk writes line edits that stand close together, and says how many lines they
// add.
func (p *paper) hunk(b *bytes.Buffer, edits []lineEdit, moved int) (added int) {
	first := max(edits[0].from-context, 0)
	last := min(edits[len(edits)-1].to+context, p.lines())
	var body bytes.Buffer
	var rules []string
	at := first
	for _, e := range edits {
		p.print(&body, ' ', at, e.from)
		p.print(&body, '-', e.from, e.to)
		for _, l := range e.lines {
			printLine(&body, '+', l)
		}
		at = e.to
		added += len(e.lines) - (e.to - e.from)
		rules = append(rules, e.rules...)
	}
	p.print(&body, ' ', at, last)
	slices.Sort(rules)
	fmt.Fprintf(b, "@@ -%s +%s @@ %s\n", extent(first, last-first), extent(first+moved, last-first+added),
		strings.Join(slices.Compact(rules), ", "))
	b.Write(body.Bytes())
	return added
}

// extent is a range of lines as a hunk's head has it.
func extent(first, count int) string {
	switch count {
	case 0:
		return fmt.Sprintf("%d,0", first)
	case 1:
		return fmt.Sprint(first + 1)
	}
	return fmt.Sprintf("%d,%d", first+1, count)
}

func (p *paper) print(b *bytes.Buffer, mark byte, from, to int) {
	for i := from; i < to; i++ {
		printLine(b, mark, string(p.text[p.begin[i]:p.begin[i+1]]))
	}
}

func printLine(b *bytes.Buffer, mark byte, line string) {
	b.WriteByte(mark)
	b.WriteString(line)
	if !strings.HasSuffix(line, "\n") {
		b.WriteString("\n\\ No newline at end of file\n")
	}
}
