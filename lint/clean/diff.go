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
	changes := r.trace.changes(r.base)
	p, err := r.paper(changes)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	name := headName(r.Source.Path)
	fmt.Fprintf(&b, "--- %s\n+++ %s\n", name, name)
	edits := p.edits(changes)
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

// lines is a text cut into lines after each LF.
type lines struct {
	text  []byte
	begin []uint32 // where each line begins, and last the end of the text
}

func linesOf(text []byte) lines {
	l := lines{text, make([]uint32, 1, bytes.Count(text, []byte("\n"))+2)}
	for i, c := range text {
		if c == '\n' && i+1 < len(text) {
			l.begin = append(l.begin, uint32(i+1))
		}
	}
	if len(text) > 0 {
		l.begin = append(l.begin, uint32(len(text)))
	}
	return l
}

func (l *lines) count() int { return len(l.begin) - 1 }

// start returns where a line begins, from 0; for the one after the last the end of the text.
func (l *lines) start(i int) int { return int(l.begin[min(i, l.count())]) }

func (l *lines) line(i int) []byte { return l.text[l.begin[i]:l.begin[i+1]] }

// numbers returns a number for each line, the same for equal ones. It adds new
// lines to those that have a number.
func (l *lines) numbers(known map[string]rune) []rune {
	list := make([]rune, l.count())
	for i := range list {
		line := l.line(i)
		n, found := known[string(line)]
		if !found {
			n = rune(len(known))
			known[string(line)] = n
		}
		list[i] = n
	}
	return list
}

// holding returns which line an offset lies in, from 0; for the end of the text the
// one that would come next, unless the last goes on there.
func (l *lines) holding(offset int) int {
	n := sort.Search(l.count(), func(i int) bool { return int(l.begin[i+1]) > offset })
	if n == l.count() && n > 0 && l.text[len(l.text)-1] != '\n' {
		return n - 1
	}
	return n
}

// paper is the text that changes apply to, and the lines of the file before and
// after that stand for its lines.
type paper struct {
	lines
	before, after lines
}

// paper returns the text that the changes apply to, with the lines of the file.
func (r *Result) paper(changes []change) (*paper, error) {
	text, err := lint.Apply(r.base, editsOf(changes))
	switch {
	case err != nil:
		return nil, err
	case bytes.IndexByte(r.Source.Raw, 0) >= 0 || bytes.IndexByte(r.After, 0) >= 0:
		return nil, errors.New("a diff cannot hold zero bytes, as UTF-16 has them")
	}
	p := &paper{linesOf(r.base), linesOf(r.Source.Raw), linesOf(r.After)}
	if changed := linesOf(text); p.before.count() != p.count() || p.after.count() != changed.count() {
		return nil, errors.New("a diff cannot show how lone CRs become other line ends")
	}
	return p, nil
}

func editsOf(changes []change) []schema.Edit {
	edits := make([]schema.Edit, len(changes))
	for i := range changes {
		edits[i] = changes[i].Edit
	}
	return edits
}

// lineEdit replaces lines, from one to before another, by as many lines of the
// file after.
type lineEdit struct {
	from, to int // from 0
	count    int
	rules    []string
}

// edits returns the lines to change: those of the changes, and those that another
// encoding or line end changes.
func (p *paper) edits(changes []change) []lineEdit {
	var all []lineEdit
	moved := 0
	at := 0
	for _, e := range p.whole(changes) {
		all = append(p.recoded(all, at, e.from, moved), e)
		at, moved = e.to, moved+e.count-(e.to-e.from)
	}
	return p.recoded(all, at, p.count(), moved)
}

// recoded adds the lines from one to before another whose bytes change although
// their text does not. Lines that follow each other make one edit.
func (p *paper) recoded(all []lineEdit, from, to, moved int) []lineEdit {
	for from < to {
		end := from
		for end < to && !bytes.Equal(p.before.line(end), p.after.line(end+moved)) {
			end++
		}
		if end > from {
			all = append(all, lineEdit{from, end, end - from, []string{schema.FileEncoding}})
		}
		from = max(end, from+1)
	}
	return all
}

// whole widens changes to whole lines. Changes in one line make one.
func (p *paper) whole(changes []change) []lineEdit {
	var edits []lineEdit
	var text []byte
	for len(changes) > 0 {
		e := lineEdit{from: p.holding(changes[0].Span.Start), rules: slices.Clip(changes[0].Rules)}
		at := p.start(e.from)
		text = text[:0]
		n := 0
		for ; n < len(changes) && (n == 0 || p.holding(changes[n].Span.Start) <= p.last(at, text)); n++ {
			text = append(text, p.text[at:changes[n].Span.Start]...)
			text = append(text, changes[n].New...)
			at = changes[n].Span.End
			if n > 0 {
				e.rules = append(e.rules, changes[n].Rules...)
			}
		}
		e.to = p.last(at, text) + 1
		if end := p.start(e.to); e.to <= p.count() && at < end {
			text = append(text, p.text[at:end]...)
		}
		e.to = min(e.to, p.count())
		p.narrow(&e, linesOf(text))
		edits = append(edits, e)
		changes = changes[n:]
	}
	return edits
}

// narrow takes the lines out at either end that stay as they are.
func (p *paper) narrow(e *lineEdit, written lines) {
	first, end := 0, written.count()
	for e.from < e.to && first < end && bytes.Equal(p.line(e.from), written.line(first)) {
		e.from++
		first++
	}
	for e.from < e.to && first < end && bytes.Equal(p.line(e.to-1), written.line(end-1)) {
		e.to--
		end--
	}
	e.count = end - first
}

// last is the last line that has to be written anew where the text up to an
// offset has become another: the one it lies in, unless both stop at a line's
// end.
func (p *paper) last(at int, text []byte) int {
	line := p.holding(at)
	if at == p.start(line) && (len(text) == 0 || text[len(text)-1] == '\n') {
		return line - 1
	}
	return line
}

// hunk writes line edits that stand close together, and says how many lines they
// add.
func (p *paper) hunk(b *bytes.Buffer, edits []lineEdit, moved int) (added int) {
	first := max(edits[0].from-context, 0)
	last := min(edits[len(edits)-1].to+context, p.count())
	var body bytes.Buffer
	var rules []string
	at := first
	for _, e := range edits {
		p.before.show(&body, ' ', at, e.from)
		p.before.show(&body, '-', e.from, e.to)
		begin := e.from + moved + added
		p.after.show(&body, '+', begin, begin+e.count)
		at = e.to
		added += e.count - (e.to - e.from)
		rules = append(rules, e.rules...)
	}
	p.before.show(&body, ' ', at, last)
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

// show writes lines with a mark before each.
func (l *lines) show(b *bytes.Buffer, mark byte, from, to int) {
	for i := from; i < to; i++ {
		line := l.line(i)
		b.WriteByte(mark)
		b.Write(line)
		if line[len(line)-1] != '\n' {
			b.WriteString("\n\\ No newline at end of file\n")
		}
	}
}
