package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"fettle/lint/collection"
	"fettle/lint/report"
	"fettle/schema"
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
			return nil, nil, failed("--report takes a form and a file, as in sarif=drafts.sarif, not %s; --format says what goes to standard output", schema.Quote(words))
		}
		list = append(list, &target{form: form, path: path})
	}
	colored, err := p.colored(c)
	if err != nil {
		return nil, nil, err
	}
	var writers []report.Writer
	taken := map[string]bool{}
	for _, t := range list {
		if err := mayWrite(t.path, c.Bool("overwrite"), taken); err != nil {
			return nil, nil, err
		}
		var to io.Writer = p.out
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

// mayWrite refuses before a long run what would be refused behind it.
func mayWrite(path string, replace bool, taken map[string]bool) error {
	clean := filepath.Clean(path)
	if taken[clean] {
		return failed("two reports would go to %s; name another file for one of them", path)
	}
	taken[clean] = true
	if path == "-" {
		return nil
	}
	if _, err := mayReplace(path, replace); err != nil {
		return err
	}
	return hasFolder(path)
}

// hasFolder refuses a file whose folder is not there.
func hasFolder(path string) error {
	folder := filepath.Dir(path)
	info, err := os.Stat(folder)
	switch {
	case err != nil:
		return failed("%s cannot be written: the folder %s: %s", path, folder, collection.Reason(err))
	case !info.IsDir():
		return failed("%s cannot be written: %s is no folder", path, folder)
	}
	return nil
}

func (l *lintRun) writeTarget(t *target) error {
	if t.path == "-" {
		return nil
	}
	return l.write(t.path, t.gathered.Bytes(), l.context.Bool("overwrite"))
}
