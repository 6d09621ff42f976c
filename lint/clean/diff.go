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

// context is how many unchanged lines a hunk shows before and after a change.
const context = 3

// Unsafe is the error for a diff that contains a line which CI services would run as
// a command.
type Unsafe struct{}

func (Unsafe) Error() string {
	return "a line near the changes holds text that CI services run as a command, such as ##[ or ::"
}

// Diff returns the changes as a unified diff, nil if there are none. Each hunk names its
// rules. patch -p0 or git apply -p0 turns the bytes of the file into After.
//
// The error says why there is no diff: it is Unsafe, or lines of bytes can't show the
// change, as with UTF-16 or if lone CRs become other line endings.
func (r *Result) Diff() ([]byte, error) {
	if !r.Changed() {
		return nil, nil
	}
	old, changed, blocks, err := r.blocks()
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	name := diffName(r.Source.Path)
	fmt.Fprintf(&b, "--- %s\n+++ %s\n", name, name)
	for len(blocks) > 0 {
		n := 1
		for n < len(blocks) && blocks[n].old.from <= blocks[n-1].old.to+2*context {
			n++
		}
		writeHunk(&b, &old, &changed, blocks[:n])
		blocks = blocks[n:]
	}
	if wording.HoldsLogCommand(b.Bytes()) {
		return nil, Unsafe{}
	}
	return b.Bytes(), nil
}

// Remarks returns the changes to the file as a whole, such as to its encoding, one a
// line.
func (r *Result) Remarks() []string { return r.remarks }

// diffName returns a path for the head of a diff. It quotes names as git does, so no name
// looks like another, like several lines or like no file. A tab follows a name with
// spaces, because some programs end a name at a space.
func diffName(name string) string {
	name = wording.PathName(path.Clean(filepath.ToSlash(name)))
	command := wording.HoldsLogCommand([]byte("--- " + name))
	quoted := strings.HasPrefix(name, `"`)
	if !quoted && (command || name != strings.TrimSpace(name) || name == "/dev/null") {
		name, quoted = `"`+name+`"`, true
	}
	switch {
	case command:
		return logBracket.ReplaceAllString(name, `$1\133`)
	case !quoted && strings.Contains(name, " "):
		return name + "\t"
	}
	return name
}

// logBracket matches the bracket of a command for CI services, and the text before it.
var logBracket = regexp.MustCompile(`(##[A-Za-z]*)\[`)

// lines is a text with the offsets of its lines, which end after each LF.
type lines struct {
	text   []byte
	starts []uint32 // of each line; at last, the end of the text
}

func linesOf(text []byte) lines {
	l := lines{text, make([]uint32, 1, bytes.Count(text, []byte("\n"))+2)}
	for i, c := range text {
		if c == '\n' && i+1 < len(text) {
			l.starts = append(l.starts, uint32(i+1))
		}
	}
	if len(text) > 0 {
		l.starts = append(l.starts, uint32(len(text)))
	}
	return l
}

func (l *lines) count() int { return len(l.starts) - 1 }

func (l *lines) line(i int) []byte { return l.text[l.starts[i]:l.starts[i+1]] }

// at returns the line, from 0, that contains an offset. The end of the text is in a
// line of its own if the last line is complete.
func (l *lines) at(offset int) int {
	n := sort.Search(l.count(), func(i int) bool { return int(l.starts[i+1]) > offset })
	if n == l.count() && n > 0 && !l.starting(offset) {
		return n - 1
	}
	return n
}

// starting reports whether a line starts at an offset.
func (l *lines) starting(offset int) bool { return offset == 0 || l.text[offset-1] == '\n' }

// block is a range of lines that changes, and the rules that asked for it.
type block struct {
	old, changed lineRange
	rules        []string
}

// lineRange is a range of lines, counted from 0. The end is exclusive.
type lineRange struct{ from, to int }

// blocks returns the lines of the file before and after, and the blocks that differ.
// Between blocks the two have equal lines.
//
// The edits are known, so no search for differences is needed. It would be slower and
// might attribute a change to the wrong line.
func (r *Result) blocks() (old, changed lines, list []block, err error) {
	changes := r.trace.changes(r.base)
	after, err := lint.Apply(r.base, editsOf(changes))
	switch {
	case err != nil:
		return old, changed, nil, err
	case bytes.IndexByte(r.Source.Raw, 0) >= 0 || bytes.IndexByte(r.After, 0) >= 0:
		return old, changed, nil, errors.New("a diff can't hold zero bytes, which UTF-16 has")
	}
	base, result := linesOf(r.base), linesOf(after)
	old, changed = linesOf(r.Source.Raw), linesOf(r.After)
	if old.count() != base.count() || changed.count() != result.count() {
		return old, changed, nil, errors.New("a diff can't show how lone CRs become other line endings")
	}
	var last block // not yet in the list; empty at first
	flush := func(next block) {
		if last.rules != nil {
			last.trim(&old, &changed)
			list = append(list, last)
		}
		list = append(list, recoded(&old, &changed, last, next)...)
		last = next
	}
	moved := 0 // how many bytes the changes so far move the text after them
	for _, c := range changes {
		next := blockOf(c, moved, &base, &result)
		moved += len(c.New) - (c.Span.End - c.Span.Start)
		if last.rules != nil && (next.old.from < last.old.to || next.changed.from < last.changed.to) {
			last.old.to, last.changed.to = next.old.to, next.changed.to
			last.rules = append(slices.Clip(last.rules), next.rules...)
			continue
		}
		flush(next)
	}
	flush(block{old: lineRange{old.count(), old.count()}, changed: lineRange{changed.count(), changed.count()}})
	return old, changed, list, nil
}

// blockOf widens a change to whole lines. moved is the shift in bytes from earlier
// changes.
func blockOf(c change, moved int, base, result *lines) block {
	start, end := c.Span.Start+moved, c.Span.Start+moved+len(c.New)
	b := block{lineRange{base.at(c.Span.Start), base.at(c.Span.End)}, lineRange{result.at(start), result.at(end)}, c.Rules}
	if !base.starting(c.Span.End) || !result.starting(end) {
		b.old.to, b.changed.to = min(b.old.to+1, base.count()), min(b.changed.to+1, result.count())
	}
	return b
}

// trim drops equal lines from both ends of a block.
func (b *block) trim(old, changed *lines) {
	for b.old.from < b.old.to && b.changed.from < b.changed.to && bytes.Equal(old.line(b.old.from), changed.line(b.changed.from)) {
		b.old.from++
		b.changed.from++
	}
	for b.old.from < b.old.to && b.changed.from < b.changed.to && bytes.Equal(old.line(b.old.to-1), changed.line(b.changed.to-1)) {
		b.old.to--
		b.changed.to--
	}
}

// recoded returns blocks of the lines between two blocks whose text stays, but whose
// bytes change with the encoding or the line endings.
func recoded(old, changed *lines, last, next block) (list []block) {
	moved := next.changed.from - next.old.from
	for from := last.old.to; from < next.old.from; {
		to := from
		for to < next.old.from && !bytes.Equal(old.line(to), changed.line(to+moved)) {
			to++
		}
		if to > from {
			list = append(list, block{lineRange{from, to}, lineRange{from + moved, to + moved}, []string{schema.FileEncoding}})
		}
		from = max(to, from+1)
	}
	return list
}

func editsOf(changes []change) []schema.Edit {
	edits := make([]schema.Edit, len(changes))
	for i := range changes {
		edits[i] = changes[i].Edit
	}
	return edits
}

// writeHunk writes blocks that are close to each other as one hunk.
func writeHunk(b *bytes.Buffer, old, changed *lines, blocks []block) {
	first, last := blocks[0], blocks[len(blocks)-1]
	before := min(context, first.old.from)
	after := min(context, old.count()-last.old.to)
	var rules []string
	for _, x := range blocks {
		rules = append(rules, x.rules...)
	}
	slices.Sort(rules)
	fmt.Fprintf(b, "@@ -%s +%s @@ %s\n", lineRange{first.old.from - before, last.old.to + after},
		lineRange{first.changed.from - before, last.changed.to + after}, strings.Join(slices.Compact(rules), ", "))
	at := first.old.from - before
	for _, x := range blocks {
		old.write(b, ' ', lineRange{at, x.old.from})
		old.write(b, '-', x.old)
		changed.write(b, '+', x.changed)
		at = x.old.to
	}
	old.write(b, ' ', lineRange{at, last.old.to + after})
}

// String returns the range for the head of a hunk: its first line, from 1, and the number
// of lines unless that is 1.
func (r lineRange) String() string {
	switch r.to - r.from {
	case 0:
		return fmt.Sprintf("%d,0", r.from)
	case 1:
		return fmt.Sprint(r.to)
	}
	return fmt.Sprintf("%d,%d", r.from+1, r.to-r.from)
}

// write writes lines with a mark before each.
func (l *lines) write(b *bytes.Buffer, mark byte, r lineRange) {
	for i := r.from; i < r.to; i++ {
		b.WriteByte(mark)
		b.Write(l.line(i))
		if !bytes.HasSuffix(l.line(i), []byte("\n")) {
			b.WriteString("\n\\ No newline at end of file\n")
		}
	}
}
