package clean

import (
	"bytes"
	"errors"
	"fmt"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"sort"
	"strings"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

// context is how many unchanged lines a hunk shows at either side.
const context = 3

// Unsafe is the error for a diff of which CI services, where they print it, would
// run a line as a command.
type Unsafe struct{}

func (Unsafe) Error() string {
	return "a line near the changes holds text that CI services run as a command, such as ##[ or ::"
}

// Diff returns the changes as a unified diff, each hunk headed by the rules that
// asked for it; nothing where there are none. Applied to the file by patch -p0 or
// git apply -p0, it gives After byte for byte: lines are in the encoding of the
// file before, and of After.
//
// The error says why there is no diff: it is Unsafe, or lines of bytes cannot show
// the change, as in UTF-16 or where lone CRs become other line ends.
func (r *Result) Diff() ([]byte, error) {
	if !r.Changed() {
		return nil, nil
	}
	p, err := r.paper()
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	name := headName(r.Source.Path)
	fmt.Fprintf(&b, "--- %s\n+++ %s\n", name, name)
	edits := p.edits(r.changes)
	moved := 0 // by how many lines the edits so far have moved what follows
	for len(edits) > 0 {
		n := 1
		for n < len(edits) && edits[n].from <= edits[n-1].to+2*context {
			n++
		}
		moved += p.hunk(&b, edits[:n], moved)
		edits = edits[n:]
	}
	if wording.HoldsLogCommand(b.Bytes()) {
		return nil, Unsafe{}
	}
	return b.Bytes(), nil
}

// Remarks returns what is done to the file as a whole, a line each, such as that
// its encoding changes.
func (r *Result) Remarks() []string { return r.remarks }

// headName returns a path as the head of a diff names it: as git does, so that no
// name is taken for another, for several lines, or for no file at all. A name
// with blanks in it ends in a tab, since programs take a name to end at a blank.
func headName(name string) string {
	name = wording.PathName(path.Clean(filepath.ToSlash(name)))
	marked := wording.HoldsLogCommand([]byte("--- " + name))
	quoted := strings.HasPrefix(name, `"`)
	if !quoted && (marked || name != strings.TrimSpace(name) || name == "/dev/null") {
		name, quoted = `"`+name+`"`, true
	}
	switch {
	case marked:
		return logBracket.ReplaceAllString(name, `$1\133`)
	case !quoted && strings.Contains(name, " "):
		return name + "\t"
	}
	return name
}

// logBracket is the bracket of a mark that CI services obey, and what stands
// before it.
var logBracket = regexp.MustCompile(`(##[A-Za-z]*)\[`)

// paper is a text cut into lines at each LF, and the lines of the file before and
// after that stand for them.
type paper struct {
	text          []byte
	begin         []int // where each line begins, and last the end of the text
	before, after []string
}

// paper returns the text that the changes apply to, with the lines of the file.
func (r *Result) paper() (*paper, error) {
	p := newPaper(r.base)
	text, err := lint.Apply(r.base, editsOf(r.changes))
	switch {
	case err != nil:
		return nil, err
	case bytes.IndexByte(r.Source.Raw, 0) >= 0 || bytes.IndexByte(r.After, 0) >= 0:
		return nil, errors.New("a diff cannot hold zero bytes, as UTF-16 has them")
	}
	p.before, p.after = slices.Collect(strings.Lines(string(r.Source.Raw))), slices.Collect(strings.Lines(string(r.After)))
	if len(p.before) != p.lines() || len(p.after) != bytes.Count(text, []byte("\n"))+unended(text) {
		return nil, errors.New("a diff cannot show how lone CRs become other line ends")
	}
	return p, nil
}

// unended returns 1 for a text whose last line has no LF, otherwise 0.
func unended(text []byte) int {
	if len(text) == 0 || text[len(text)-1] == '\n' {
		return 0
	}
	return 1
}

func editsOf(changes []change) []schema.Edit {
	edits := make([]schema.Edit, len(changes))
	for i := range changes {
		edits[i] = changes[i].Edit
	}
	return edits
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

// edits returns the lines to change: those of the changes, and those that another
// encoding or line end changes.
func (p *paper) edits(changes []change) []lineEdit {
	var all []lineEdit
	moved := 0
	at := 0
	for _, e := range p.whole(changes) {
		all = p.recoded(all, at, e.from, moved)
		n := len(e.lines)
		e.lines = p.after[e.from+moved : e.from+moved+n]
		all = append(all, e)
		at, moved = e.to, moved+n-(e.to-e.from)
	}
	return p.recoded(all, at, p.lines(), moved)
}

// recoded adds the lines from one to before another whose bytes change although
// their text does not. Lines that follow each other make one edit.
func (p *paper) recoded(all []lineEdit, from, to, moved int) []lineEdit {
	for from < to {
		end := from
		for end < to && p.before[end] != p.after[end+moved] {
			end++
		}
		if end > from {
			all = append(all, lineEdit{from, end, p.after[from+moved : end+moved], []string{schema.FileEncoding}})
		}
		from = max(end, from+1)
	}
	return all
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
		printLine(b, mark, p.before[i])
	}
}

func printLine(b *bytes.Buffer, mark byte, line string) {
	b.WriteByte(mark)
	b.WriteString(line)
	if !strings.HasSuffix(line, "\n") {
		b.WriteString("\n\\ No newline at end of file\n")
	}
}
