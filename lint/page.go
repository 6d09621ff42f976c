package lint

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/aymanbagabas/go-udiff"

	"fettle/schema/wording"
)

// Style is the form of a page of the manual.
type Style uint8

const (
	Text Style = iota // plain text in lines of at most 80 characters
	Markdown
)

// Page returns the manual page of a rule: why it matters, how it counts, what to
// do, its options, the data of its findings, an example and its source.
func Page(r *Rule, as Style) []byte {
	var b bytes.Buffer
	list := pieces(r)
	for i, piece := range list {
		if i > 0 && (as == Text || piece.label == "" || list[i-1].label == "" || i == 1) {
			b.WriteByte('\n')
		}
		if as == Markdown {
			piece.markdown(&b)
		} else {
			piece.terminal(&b)
		}
	}
	return b.Bytes()
}

// Book returns the pages of all rules in Markdown, after a table of them.
func Book(rules []Rule) []byte {
	var b bytes.Buffer
	b.WriteString("# The rules\n\n" +
		"An example shows only the lines that matter: lines with `-` are wrong, lines with `+` are right.\n" +
		"[Sources](../../schema/sources.md) lists every source that a page names.\n\n" +
		"| rule | default | finds |\n| --- | --- | --- |\n")
	for i := range rules {
		r := &rules[i]
		fmt.Fprintf(&b, "| [`%s`](#%s) | %s | %s |\n", r.ID, strings.ReplaceAll(r.ID, "/", ""), r.Default, r.Title)
	}
	for i := range rules {
		b.WriteByte('\n')
		b.Write(Page(&rules[i], Markdown))
	}
	return b.Bytes()
}

type pieceKind uint8

const (
	pageTitle pieceKind = iota
	paragraph
	code
)

// piece is a part of a page: a title, a paragraph with its label, or lines of code.
type piece struct {
	kind  pieceKind
	label string
	text  string
}

func pieces(r *Rule) []piece {
	list := []piece{{pageTitle, r.ID, sentence(r.Title) + " " + severityText(r)}, {paragraph, "", r.Why}}
	add := func(label, text string) {
		if text != "" {
			list = append(list, piece{paragraph, label, text})
		}
	}
	add("", r.Counts)
	add("What to do", r.Remedy+turnOffText(r))
	add("Options", optionsText(r))
	add("Data", dataText(r))
	add("Source", sentence(r.Source))
	return append(list, examplePieces(r.Faulty, r.Mended)...)
}

func severityText(r *Rule) string {
	text := sentence(r.Default.String() + " by default")
	if r.Fixable {
		text += " `fettle clean` can fix some cases."
	}
	return text
}

func turnOffText(r *Rule) string {
	if why, never := strings.CutPrefix(r.SafeOff, "never; "); never {
		return " Never turn it off: " + why + "."
	}
	return " Turn it off " + r.SafeOff + "."
}

// sentence returns a phrase with a capital letter and a full stop.
func sentence(phrase string) string {
	if phrase == "" {
		return ""
	}
	return strings.ToUpper(phrase[:1]) + phrase[1:] + "."
}

// optionsText returns the line of fettle.ini that states the defaults, and what
// each of them means.
func optionsText(r *Rule) string {
	if len(r.Options) == 0 {
		return ""
	}
	line, list := r.ID+" = "+r.Default.String(), []string(nil)
	for _, o := range r.Options {
		line += ", " + o.Example()
		list = append(list, "`"+o.Name+"`: "+o.Text)
	}
	return "`" + line + "` (" + strings.Join(list, "; ") + ")."
}

func dataText(r *Rule) string {
	var list []string
	for _, f := range r.Data {
		list = append(list, "`"+f.Key+"` ("+f.Text+")")
	}
	if list == nil {
		return ""
	}
	return strings.Join(list, ", ") + "."
}

// examplePieces shows how a wrong draft differs from the right one, and how their
// settings differ.
func examplePieces(wrong, right Example) []piece {
	return append(changePieces("In a draft", wrong.Draft, right.Draft, 1),
		changePieces("In fettle.ini", wrong.Settings, right.Settings, len(wrong.Settings))...)
}

func changePieces(title, before, after string, context int) []piece {
	lines := changedLines(before, after, context)
	if lines == "" {
		return nil
	}
	if before != after {
		title += " (- wrong, + right)"
	}
	return []piece{{paragraph, "", title + ":"}, {code, "", lines}}
}

// changedLines returns the lines that differ between two texts, each after - or +,
// with that many lines before and after them and the header of their section. Equal
// texts are returned whole.
func changedLines(before, after string, context int) string {
	before, after = strings.ToValidUTF8(before, "\ufffd"), strings.ToValidUTF8(after, "\ufffd")
	if before == after {
		return before
	}
	diff, err := udiff.ToUnifiedDiff("", "", before, udiff.Lines(before, after), context)
	if err != nil {
		return before // the edits fit: they were made from this text
	}
	var b strings.Builder
	for _, hunk := range diff.Hunks {
		header := ""
		for i, line := range strings.SplitAfter(before, "\n") {
			if i < hunk.FromLine-1 && strings.HasPrefix(line, "[") {
				header = line
			}
		}
		if header != "" && !strings.HasSuffix(b.String(), header) {
			b.WriteString(" " + header)
		}
		for _, line := range hunk.Lines {
			mark := map[udiff.OpKind]string{udiff.Delete: "-", udiff.Insert: "+", udiff.Equal: " "}[line.Kind]
			b.WriteString(mark + line.Content)
		}
	}
	return b.String()
}

func (p piece) markdown(b *bytes.Buffer) {
	switch p.kind {
	case pageTitle:
		fmt.Fprintf(b, "## %s\n\n%s\n", p.label, p.text)
	case paragraph:
		if p.label != "" {
			fmt.Fprintf(b, "- **%s:** ", p.label)
		}
		b.WriteString(p.text + "\n")
	case code:
		fmt.Fprintf(b, "```diff\n%s```\n", p.text)
	}
}

// pageWidth is the most characters in a line on a terminal.
const pageWidth = 80

func (p piece) terminal(b *bytes.Buffer) {
	switch p.kind {
	case pageTitle:
		b.WriteString(p.label + "\n")
		wrap(b, p.text)
	case paragraph:
		if p.label != "" {
			p.text = p.label + ": " + p.text
		}
		wrap(b, p.text)
	case code:
		for line := range strings.Lines(p.text) {
			b.WriteString("    " + line)
		}
	}
}

// wrap writes a text in lines. On a terminal names need no backquotes.
func wrap(b *bytes.Buffer, text string) {
	text = strings.Join(strings.Fields(strings.ReplaceAll(text, "`", "")), " ")
	for _, line := range wording.Wrap(text, wording.Columns(pageWidth)) {
		b.WriteString(line + "\n")
	}
}
