package lint

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"fettle/schema/wording"
)

// Style is how a page of the manual is laid out.
type Style uint8

const (
	Text Style = iota // plain text in lines of at most 80 characters
	Markdown
)

// Page is all there is to say about a rule: what it finds and why, its options
// and how they are written, the figures it gives, a draft it finds fault with
// and the same put right, when to do without it, and what it rests on.
func Page(r *Rule, as Style) []byte {
	var b bytes.Buffer
	list := pieces(r)
	for i, piece := range list {
		if i > 0 && apart(list[i-1].kind, piece.kind, as) {
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

// apart says whether a blank line stands between two pieces.
func apart(before, piece pieceKind, as Style) bool {
	if before == item && piece == item {
		return false
	}
	return as == Markdown || before != heading
}

// Book is the pages of all rules in Markdown, behind a table of them.
func Book(rules []Rule) []byte {
	var b bytes.Buffer
	b.WriteString("# The rules\n\n")
	b.WriteString("Examples give the sections of a draft that matter; think of the rest as a sound draft on four shafts.\n\n")
	b.WriteString("| rule | default | finds |\n| --- | --- | --- |\n")
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

// pieceKind is what a piece of a page is.
type pieceKind uint8

const (
	pageTitle pieceKind = iota
	heading
	paragraph
	code
	item // a term and what it is
)

// piece is a piece of a page, before it is laid out.
type piece struct {
	kind pieceKind
	term string
	text string
	wide int // of the longest term in a list of items
}

func pieces(r *Rule) []piece {
	list := []piece{{kind: pageTitle, term: r.ID, text: r.Title}, {kind: paragraph, text: standing(r)}, {kind: paragraph, text: r.Why}}
	list = append(list, optionPieces(r)...)
	list = append(list, dataPieces(r)...)
	list = append(list, examplePieces("A draft it finds fault with", r.Faulty)...)
	list = append(list, examplePieces("The same put right", r.Mended)...)
	return append(list,
		piece{kind: heading, text: "When it can be switched off"}, piece{kind: paragraph, text: sentence(r.SafeOff)},
		piece{kind: heading, text: "What it rests on"}, piece{kind: paragraph, text: sentence(r.Source)})
}

// standing is how severe a rule is, and whether its findings can be mended.
func standing(r *Rule) string {
	text := sentence(r.Default.String() + " by default")
	if r.Fixable {
		text += " fettle clean can mend it, in some cases at least."
	}
	return text
}

// sentence is a phrase with a capital in front and a full stop behind.
func sentence(phrase string) string {
	if phrase == "" {
		return ""
	}
	return strings.ToUpper(phrase[:1]) + phrase[1:] + "."
}

// optionPieces shows the line of fettle.ini that says what holds anyway, to be
// changed.
func optionPieces(r *Rule) []piece {
	line := "[rules]\n" + r.ID + " = " + r.Default.String()
	wide := 0
	for _, o := range r.Options {
		line += ", " + o.Example()
		wide = max(wide, len(o.Name))
	}
	list := []piece{{kind: heading, text: "In fettle.ini"}, {kind: code, text: line + "\n"}}
	for _, o := range r.Options {
		list = append(list, piece{item, o.Name, o.Text + "; " + o.Example() + " by default", wide})
	}
	return list
}

func dataPieces(r *Rule) []piece {
	if len(r.Data) == 0 {
		return nil
	}
	wide := 0
	for _, f := range r.Data {
		wide = max(wide, len(f.Key))
	}
	list := []piece{{kind: heading, text: "Its figures"}}
	for _, f := range r.Data {
		list = append(list, piece{item, f.Key, f.Text, wide})
	}
	return list
}

func examplePieces(title string, e Example) []piece {
	list := []piece{{kind: heading, text: title}}
	if e.Draft != "" {
		list = append(list, piece{kind: code, text: strings.ToValidUTF8(e.Draft, "\ufffd")})
	}
	if e.Draft != "" && e.Settings != "" {
		list = append(list, piece{kind: paragraph, text: "with this in fettle.ini:"})
	} else if e.Settings != "" {
		list = append(list, piece{kind: paragraph, text: "A sound draft, with this in fettle.ini:"})
	}
	if e.Settings != "" {
		list = append(list, piece{kind: code, text: e.Settings})
	}
	return list
}

func (p piece) markdown(b *bytes.Buffer) {
	switch p.kind {
	case pageTitle:
		fmt.Fprintf(b, "## %s\n\n%s\n", p.term, sentence(p.text))
	case heading:
		fmt.Fprintf(b, "### %s\n", p.text)
	case paragraph:
		b.WriteString(p.text + "\n")
	case code:
		fmt.Fprintf(b, "```ini\n%s```\n", p.text)
	case item:
		fmt.Fprintf(b, "- `%s`: %s\n", p.term, p.text)
	}
}

// pageWidth is how many characters a line on a terminal may have.
const pageWidth = 80

func (p piece) terminal(b *bytes.Buffer) {
	switch p.kind {
	case pageTitle:
		fmt.Fprintf(b, "%s\n", p.term)
		wrap(b, sentence(p.text), "")
	case heading:
		b.WriteString(p.text + "\n")
	case paragraph:
		wrap(b, p.text, "")
	case code:
		for line := range strings.Lines(p.text) {
			b.WriteString("    " + line)
		}
	case item:
		wrap(b, p.text, fmt.Sprintf("  %-*s  ", p.wide, p.term))
	}
}

// wrap writes a text in lines, with first before the first one and spaces of the
// same width before the others.
func wrap(b *bytes.Buffer, text, first string) {
	indent := utf8.RuneCountInString(first)
	text = strings.Join(strings.Fields(text), " ")
	for i, line := range wording.Wrap(text, wording.Columns(pageWidth-indent)) {
		if i > 0 {
			first = strings.Repeat(" ", indent)
		}
		b.WriteString(first + line + "\n")
	}
}
