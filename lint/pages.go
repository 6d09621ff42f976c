package lint

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/aymanbagabas/go-udiff"

	"fettle/schema"
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
		if inList := piece.label != "" && i > 1 && list[i-1].label != ""; i > 0 && (as == Text || !inList) {
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
	return append(list, examplePieces(r.Faulty, r.Fixed)...)
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

// sentence returns a phrase as a sentence: with a capital letter and a full stop.
func sentence(phrase string) string {
	if phrase == "" {
		return ""
	}
	return strings.ToUpper(phrase[:1]) + phrase[1:] + "."
}

// optionsText returns the line of fettle.ini with the default options, and the meaning of
// each.
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

// examplePieces shows how a faulty draft differs from the fixed one, and how their
// settings differ.
func examplePieces(wrong, right Example) []piece {
	return append(changePieces("In a draft", wrong.Draft, right.Draft, false),
		changePieces("In fettle.ini", wrong.Settings, right.Settings, true)...)
}

func changePieces(title, before, after string, all bool) []piece {
	lines := changedLines(before, after, all)
	if lines == "" {
		return nil
	}
	if before != after {
		title += " (- wrong, + right)"
	}
	return []piece{{paragraph, "", title + ":"}, {code, "", lines}}
}

// changedLines returns the lines that differ between two texts, each after - or +.
// With all it adds every other line, otherwise the line before a change and the header
// of its section. Equal texts are returned whole.
func changedLines(before, after string, all bool) string {
	before, after = strings.ToValidUTF8(before, "\ufffd"), strings.ToValidUTF8(after, "\ufffd")
	if before == after {
		return before
	}
	context := 1
	if all {
		context = len(before)
	}
	diff, err := udiff.ToUnifiedDiff("", "", before, udiff.Lines(before, after), context)
	if err != nil {
		return before // can't happen: the edits were made from this text
	}
	var b strings.Builder
	for _, hunk := range diff.Hunks {
		lines := hunk.Lines
		for !all && lines[len(lines)-1].Kind == udiff.Equal {
			lines = lines[:len(lines)-1]
		}
		if header := headerAbove(before, hunk.FromLine); header != "" && lines[0].Content[0] != '[' && !strings.HasSuffix(b.String(), header) {
			b.WriteString(" " + header)
		}
		for _, line := range lines {
			mark := map[udiff.OpKind]string{udiff.Delete: "-", udiff.Insert: "+", udiff.Equal: " "}[line.Kind]
			b.WriteString(mark + line.Content)
		}
	}
	return b.String()
}

// headerAbove returns the last section header above a line, "" for none.
func headerAbove(text string, line int) string {
	header := ""
	for i, s := range strings.SplitAfter(text, "\n") {
		if i < line-1 && strings.HasPrefix(s, "[") {
			header = s
		}
	}
	return header
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

// Describe lists rules as text, JSON or Markdown. If one is set it explains a single rule.
func Describe(rules []Rule, form string, one bool) ([]byte, error) {
	switch {
	case form == "json":
		return describeJSON(rules)
	case form == "markdown" && one:
		return Page(&rules[0], Markdown), nil
	case form == "markdown":
		return Book(rules), nil
	case form == "text" && one:
		return Page(&rules[0], Text), nil
	case form == "text":
		return list(rules), nil
	}
	return nil, fmt.Errorf("--format takes text, json or markdown, not %s", wording.Quote(form))
}

// list returns one line per rule.
func list(rules []Rule) []byte {
	var b bytes.Buffer
	width := 0
	for i := range rules {
		width = max(width, len(rules[i].ID))
	}
	for i := range rules {
		r := &rules[i]
		fmt.Fprintf(&b, "%-*s  %-7s  %s\n", width, r.ID, r.Default, r.Title)
	}
	return b.Bytes()
}

type ruleFacts struct {
	Rule     string            `json:"rule"`
	Title    string            `json:"title"`
	Severity schema.Severity   `json:"severity"`
	Why      string            `json:"why"`
	Options  []optionFacts     `json:"options"`
	Data     map[string]string `json:"data"`
	SafeOff  string            `json:"safe_off"`
	Source   string            `json:"source"`
	Fixable  bool              `json:"fixable"`
}

type optionFacts struct {
	Name    string `json:"name"`
	Default string `json:"default"`
	Text    string `json:"text"`
}

func describeJSON(rules []Rule) ([]byte, error) {
	facts := make([]ruleFacts, len(rules))
	for i := range rules {
		r := &rules[i]
		f := ruleFacts{r.ID, r.Title, r.Default, r.Explanation(), []optionFacts{}, map[string]string{}, r.SafeOff, r.Source, r.Fixable}
		for _, o := range r.Options {
			f.Options = append(f.Options, optionFacts{o.Name, o.Example(), o.Text})
		}
		for _, d := range r.Data {
			f.Data[d.Key] = d.Text
		}
		facts[i] = f
	}
	text, err := wording.JSON(facts, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("can't write the rules as JSON: %w", err)
	}
	return append(text, '\n'), nil
}
