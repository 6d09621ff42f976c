package main

import (
	"cmp"
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"fettle/schema/settings"
	"fettle/schema/wording"
)

func (p *program) man() *cli.Command {
	return &cli.Command{
		Name:      "man",
		Usage:     "print the manual page",
		UsageText: "fettle man > ~/.local/share/man/man1/fettle.1",
		Action: func(c *cli.Context) error {
			if c.NArg() > 0 {
				return failed("man takes no arguments")
			}
			return p.print("%s", manual(c.App, thisBuild()))
		},
	}
}

// undated is the date of the page in a build without a commit, because man readers expect
// one. Update it when the text of the page changes.
const undated = "2026-11-26"

// manual returns the manual page, in man macros, made from the commands and flags.
func manual(app *cli.App, b build) string {
	var page roff
	page.raw(`.TH FETTLE 1 "` + cmp.Or(b.date, undated) + `" "fettle ` + escape(b.version) + `" "User Commands"`)
	page.heading(".SH", "NAME")
	page.raw(app.Name + ` \- ` + escape(app.Usage))
	page.heading(".SH", "SYNOPSIS")
	page.raw(`.B fettle`)
	page.raw(`\fICOMMAND\fR [\fIflags\fR] [\fIpaths\fR]`)
	_, examples, _ := strings.Cut(app.UsageText, "\n\n")
	page.heading(".SH", "DESCRIPTION")
	page.text("fettle checks handweaving drafts against your loom, reed, heddles and yarn.")
	page.text("It fixes and converts them, and writes the sheet you need to dress the loom.")
	page.heading(".SH", "OPTIONS")
	page.text("These work with every command, before or after its name.")
	page.flags(app.VisibleFlags())
	page.heading(".SH", "COMMANDS")
	for _, command := range app.VisibleCommands() {
		page.command(command)
	}
	page.heading(".SH", "EXIT STATUS")
	page.tagged("0", "all is fine")
	for _, command := range app.VisibleCommands() {
		if why := whyOne(command.Name); why != "" {
			page.tagged("1", command.Name+": "+why)
		}
	}
	page.tagged("2", "something failed; standard error says what, and fettle did the rest")
	page.heading(".SH", "ENVIRONMENT")
	page.tagged("NO_COLOR", "turns colors off unless --color turns them on")
	page.heading(".SH", "FILES")
	page.tagged(settings.FileName, "your loom, reed, heddles, yarn, project and rules; 'fettle init' creates one")
	page.heading(".SH", "EXAMPLES")
	page.examples(examples)
	return page.String()
}

// roff writes a manual page. Lines are at most 80 bytes, each sentence starts a line,
// and text is escaped.
type roff struct{ strings.Builder }

func (r *roff) raw(line string) { r.WriteString(line + "\n") }

// heading starts a section with .SH or a subsection with .SS.
func (r *roff) heading(macro, title string) {
	r.raw(macro + ` "` + strings.ReplaceAll(escape(title), `"`, `\(dq`) + `"`)
}

// text writes a paragraph. A word in backquotes is a placeholder.
func (r *roff) text(words string) {
	var sentence []string
	for _, word := range strings.Fields(words) {
		sentence = append(sentence, placeholder(word))
		if strings.ContainsAny(word[len(word)-1:], ".?!") {
			r.sentence(sentence)
			sentence = nil
		}
	}
	r.sentence(sentence)
}

func (r *roff) sentence(words []string) {
	if len(words) == 0 {
		return
	}
	for _, line := range wording.Wrap(strings.Join(words, " "), wording.Columns(78)) {
		r.raw(line)
	}
}

// placeholder returns an escaped word, with the part in backquotes in italics.
func placeholder(word string) string {
	before, rest, open := strings.Cut(word, "`")
	name, after, closed := strings.Cut(rest, "`")
	if !open || !closed {
		return escape(word)
	}
	return escape(before) + `\fI` + escape(name) + `\fR` + escape(after)
}

// tagged writes a word and, indented after it, its meaning.
func (r *roff) tagged(word, meaning string) {
	r.raw(".TP")
	r.raw(`\fB` + escape(word) + `\fR`)
	r.text(meaning)
}

// examples writes command lines unchanged. Text after two spaces explains the line.
func (r *roff) examples(lines string) {
	indented := false
	for line := range strings.SplitSeq(lines, "\n") {
		command, does, _ := strings.Cut(line, "  ")
		if does != "" {
			r.tagged(command, strings.TrimSpace(does))
			indented = true
			continue
		}
		if indented {
			r.raw(".PP")
			indented = false
		}
		r.raw(".EX")
		if len(escape(line)) > 78 { // a shell accepts a command on two lines
			if at := strings.LastIndex(line[:60], " "); at > 0 {
				r.raw(escape(line[:at]) + ` \e`)
				line = "    " + line[at+1:]
			}
		}
		r.raw(escape(line))
		r.raw(".EE")
	}
}

func (r *roff) command(c *cli.Command) {
	r.heading(".SS", strings.TrimSpace("fettle "+c.Name+" "+c.ArgsUsage))
	examples, more, _ := strings.Cut(c.UsageText, "\n\n")
	r.text(strings.ToUpper(c.Usage[:1]) + c.Usage[1:] + ".")
	r.raw(".PP")
	r.examples(examples)
	if more != "" {
		r.raw(".PP")
		r.text(more)
	}
	r.flags(c.VisibleFlags())
}

// flags writes a list of flags with their values and defaults.
func (r *roff) flags(list []cli.Flag) {
	for _, f := range list {
		documented, ok := f.(cli.DocGenerationFlag)
		if !ok || f == cli.HelpFlag { // every command has it
			continue
		}
		usage := documented.GetUsage()
		_, rest, _ := strings.Cut(usage, "`")
		value, _, _ := strings.Cut(rest, "`")
		var names []string
		for _, name := range f.Names() {
			dashes := "--"
			if len(name) == 1 {
				dashes = "-"
			}
			names = append(names, `\fB`+escape(dashes+name)+`\fR`)
		}
		head := strings.Join(names, ", ")
		if documented.TakesValue() {
			head += ` \fI` + escape(cmp.Or(value, "VALUE")) + `\fR`
		}
		if byDefault := strings.Trim(documented.GetDefaultText(), `"`); byDefault != "" {
			usage += fmt.Sprintf(" (default: %s)", byDefault)
		}
		r.raw(".TP")
		r.raw(head)
		r.text(usage)
	}
}

// escape returns text that a formatter shows unchanged, with quotes and dashes that work
// when pasted into a shell.
func escape(text string) string {
	text = strings.NewReplacer(`\`, `\e`, "-", `\-`, "'", `\(aq`, "`", `\(ga`, "^", `\(ha`, "~", `\(ti`).Replace(text)
	if strings.HasPrefix(text, ".") {
		text = `\&` + text
	}
	return text
}
