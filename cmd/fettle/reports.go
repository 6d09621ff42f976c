package main

import (
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"fettle/lint/collection"
	"fettle/lint/report"
	"fettle/schema/wording"
)

// target is the destination of a report. The first write starts the file.
type target struct {
	program    *program
	form, path string // "-" is standard output
	overwrite  bool
	output     *output // nil before the first write
	folder     string  // of the pages that belong to the report, "" for none
}

// page creates a file in the folder of the target.
func (t *target) page(name string) (io.WriteCloser, error) {
	output, err := t.program.create(filepath.Join(t.folder, name), t.overwrite)
	if err != nil {
		return nil, err
	}
	return pageOutput{output}, nil
}

// pageOutput gives a page its name when it is closed.
type pageOutput struct{ *output }

func (p pageOutput) Close() error { return p.finish() }

// intoFolder makes the target of html=FOLDER/ the index of that folder, which it creates.
func (t *target) intoFolder() error {
	if t.form != "html" || !os.IsPathSeparator(t.path[len(t.path)-1]) {
		return nil
	}
	t.folder = filepath.Clean(t.path)
	t.path = filepath.Join(t.folder, report.Index)
	if err := hasFolder(t.folder); err != nil {
		return err
	}
	return folderFor(t.path)
}

func (t *target) Write(text []byte) (int, error) {
	if t.output == nil {
		output, err := t.program.create(t.path, t.overwrite)
		if err != nil {
			return 0, err
		}
		t.output = output
	}
	return t.output.Write(text)
}

// finish completes the file.
func (t *target) finish() error {
	if t.path == "-" {
		return nil
	}
	if _, err := t.Write(nil); err != nil { // starts the file of an empty report
		return err
	}
	return t.output.finish()
}

// writer returns a writer of the report. The error is for an unknown form.
func (t *target) writer(o report.Options) (report.Writer, error) {
	switch {
	case t.folder != "":
		return report.NewFolder(t, t.page, o), nil
	case t.path != "-":
		return report.New(t.form, t, o)
	case t.form == "text":
		return report.New(t.form, t.program.out, o)
	}
	return report.New(t.form, t.program.exact, o)
}

// targets returns the targets of a run and a writer for all reports.
func (p *program) targets(c *cli.Context, o report.Options) ([]*target, report.Writer, error) {
	said, clash, err := form(c, "format", reportExtensions())
	if err != nil {
		return nil, nil, err
	}
	overwrite := c.Bool("overwrite")
	list := []*target{{p, said, c.String("output"), overwrite, nil, ""}}
	for _, words := range c.StringSlice("report") {
		form, path, ok := strings.Cut(words, "=")
		if !ok || path == "" || path == "-" {
			return nil, nil, failed("--report takes a format and a file, such as sarif=drafts.sarif, not %s; choose the format of standard output with --format", wording.Quote(words))
		}
		list = append(list, &target{p, form, path, overwrite, nil, ""})
	}
	colored, err := p.colored(c)
	if err != nil {
		return nil, nil, err
	}
	o.Scratch = p.files.Scratch
	var writers []report.Writer
	taken := outputs{}
	if path := c.String("write-baseline"); path != "" {
		if err := taken.add(path, true); err != nil {
			return nil, nil, err
		}
	}
	for _, t := range list {
		if err := t.intoFolder(); err != nil {
			return nil, nil, err
		}
		if err := taken.add(t.path, overwrite); err != nil {
			return nil, nil, err
		}
		if err := notDraft(t.path); err != nil {
			return nil, nil, err
		}
		o.Color = colored
		if t.path != "-" {
			o.Color = c.String("color") == "always"
		}
		w, err := t.writer(o)
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

// notDraft returns an error if a report would replace a draft.
func notDraft(path string) error {
	if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() {
		return nil
	}
	doc, err := collection.Reader{}.Read(collection.Input{Path: path, Found: true})
	if err == nil && doc != nil && doc.Draft != nil {
		return failed("%s is a draft, so the report can't replace it; name another file", path)
	}
	return nil
}
