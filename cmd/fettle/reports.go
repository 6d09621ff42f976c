package main

import (
	"bytes"
	"os"
	"strings"

	"github.com/urfave/cli/v2"

	"fettle/lint/collection"
	"fettle/lint/report"
	"fettle/schema/wording"
)

// target is where a report goes. One that goes to a file is gathered first, so
// that the file is whole or not there.
type target struct {
	form, path string // "-" is standard output
	gathered   bytes.Buffer
}

// targets are the reports of a run, and what writes them all.
func (p *program) targets(c *cli.Context, o report.Options) ([]*target, report.Writer, error) {
	said, clash, err := form(c, "format", reportEndings())
	if err != nil {
		return nil, nil, err
	}
	list := []*target{{form: said, path: c.String("output")}}
	for _, words := range c.StringSlice("report") {
		form, path, ok := strings.Cut(words, "=")
		if !ok || path == "" || path == "-" {
			return nil, nil, failed("--report takes a form and a file, as in sarif=drafts.sarif, not %s; --format says what goes to standard output", wording.Quote(words))
		}
		list = append(list, &target{form: form, path: path})
	}
	colored, err := p.colored(c)
	if err != nil {
		return nil, nil, err
	}
	var writers []report.Writer
	taken := outputs{}
	if path := c.String("write-baseline"); path != "" {
		if err := taken.add(path, true); err != nil {
			return nil, nil, err
		}
	}
	for _, t := range list {
		if err := taken.add(t.path, c.Bool("overwrite")); err != nil {
			return nil, nil, err
		}
		if err := notDraft(t.path); err != nil {
			return nil, nil, err
		}
		to := p.exact
		if t.form == "text" {
			to = p.out
		}
		o.Color = colored
		if t.path != "-" {
			to, o.Color = &t.gathered, c.String("color") == "always"
		}
		w, err := report.New(t.form, to, o)
		if err != nil {
			return nil, nil, failed("%s", err)
		}
		writers = append(writers, w)
	}
	if clash != "" {
		p.say(c, "%s", clash)
	}
	return list, report.All(writers...), nil
}

// notDraft refuses to write a report over a draft.
func notDraft(path string) error {
	if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() {
		return nil
	}
	doc, err := collection.Reader{}.Read(collection.Input{Path: path, Found: true})
	if err == nil && doc != nil && doc.Draft != nil {
		return failed("%s holds a draft, so the report does not replace it; name another file", path)
	}
	return nil
}

func (l *lintRun) writeTarget(t *target) error {
	if t.path == "-" {
		return nil
	}
	return l.write(t.path, t.gathered.Bytes(), l.context.Bool("overwrite"))
}
