package main

import (
	"bytes"
	"io"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"fettle/lint"
	"fettle/lint/collection"
	"fettle/lint/report"
	"fettle/lint/rules"
	"fettle/schema"
)

func (p *program) lint() *cli.Command {
	return &cli.Command{
		Name:      "lint",
		Usage:     "report what is wrong with drafts, for this loom, reed and yarn",
		ArgsUsage: "[PATH...]",
		UsageText: "fettle lint towel.wif\nfettle lint drafts --fail-on warning\nfettle lint drafts --only loom,reed/sett --loom looms/table16.ini\nfettle lint - < towel.wif\n\nPaths are files, folders with all that is in them, or patterns; without one this folder is looked at.\nLoom, reed, heddles, yarn and project come from the nearest fettle.ini.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "format", Usage: "report in `FORM`: text or json", Value: "text"},
			outputFlag, replaceFlag,
			&cli.StringSliceFlag{Name: "only", Usage: "look for these `RULES` or families alone"},
			&cli.StringSliceFlag{Name: "skip", Usage: "leave these `RULES` or families out"},
			&cli.StringFlag{Name: "fail-on", Usage: "exit with 1 for findings at least this `SEVERE`: error, warning, note or never", Value: "error"},
			loomFlag, jobsFlag, maxSizeFlag,
		},
		Action: p.runLint,
	}
}

func (p *program) runLint(c *cli.Context) error {
	worst, err := failOn(c.String("fail-on"))
	if err != nil {
		return err
	}
	linter, err := lint.New(rules.All(), lint.Selection{Only: c.StringSlice("only"), Skip: c.StringSlice("skip")})
	if err != nil {
		return failed("%s", err)
	}
	workers, err := jobs(c)
	if err != nil {
		return err
	}
	reader, err := p.reader(c)
	if err != nil {
		return err
	}
	to, finish, err := p.reportTo(c)
	if err != nil {
		return err
	}
	checker := &lint.Checker{Linter: linter, Finder: finder(c)}
	list, whole := p.inputs(c, checker.Finder)
	looked := lookAll(checker, reader, list, workers, to, p.complain)
	if err := finish(looked.summary); err != nil {
		return err
	}
	if looked.summary.AtOrAbove(schema.Note) > 0 || isTerminal(p.err) {
		p.say(c, "%s", looked.summary)
	}
	switch {
	case looked.err != nil:
		return failed("the report could not be written: %s", collection.Reason(looked.err))
	case !whole || looked.failed:
		return exit{status: statusFailed}
	case looked.summary.AtOrAbove(worst) > 0:
		return exit{status: statusFound}
	}
	return nil
}

// failOn reads a severity, Off for never.
func failOn(word string) (schema.Severity, error) {
	if word == "never" {
		return schema.Off, nil
	}
	s, err := schema.ParseSeverity(word)
	if err != nil || s == schema.Off {
		return s, failed("--fail-on takes error, warning, note or never, not %s", schema.Quote(word))
	}
	return s, nil
}

// reportTo is what the report is written with, and what ends it. A report to a
// file is gathered first, so that the file is whole or not there.
func (p *program) reportTo(c *cli.Context) (report.Writer, func(report.Summary) error, error) {
	path := c.String("output")
	colored, err := p.colored(c)
	if err != nil {
		return nil, nil, err
	}
	var gathered bytes.Buffer
	var to io.Writer = p.out
	if path != "-" {
		to, colored = &gathered, c.String("color") == "always"
	}
	w, err := report.New(c.String("format"), to, report.Options{Color: colored})
	if err != nil {
		return nil, nil, failed("%s", err)
	}
	return w, func(s report.Summary) error {
		if err := w.Close(s); err != nil {
			return failed("the report could not be written: %s", collection.Reason(err))
		}
		if path == "-" {
			return nil
		}
		return p.write(path, gathered.Bytes(), c.Bool("overwrite"))
	}, nil
}

// looked is what came of looking at all files.
type looked struct {
	summary report.Summary
	failed  bool  // something could not be looked at
	err     error // of writing the report
}

// lookAll looks at each file and reports on it. What cannot be looked at is
// complained of, and the rest goes on.
func lookAll(checker *lint.Checker, reader collection.Reader, list []collection.Input, workers int,
	to report.Writer, complain func(error)) looked {
	type result struct {
		file report.File
		none bool
		err  error
	}
	look := func(in collection.Input) result {
		doc, err := reader.Read(in)
		if err != nil || doc == nil {
			return result{none: true, err: err}
		}
		r, err := checker.Check(doc)
		if err != nil {
			return result{none: true, err: err}
		}
		f := report.File{Path: filepath.ToSlash(in.Path), Format: doc.Format, Findings: r.Findings, Suppressed: r.Suppressed}
		if len(f.Findings) > 0 {
			f.Source = doc.Source
		}
		return result{file: f}
	}
	var all looked
	told := map[string]bool{}
	collection.Each(list, workers, look, func(_ collection.Input, r result) bool {
		if r.err != nil {
			all.failed = true
			if !told[r.err.Error()] {
				told[r.err.Error()] = true
				complain(r.err)
			}
		}
		if !r.none {
			all.summary.Add(r.file)
			all.err = to.File(r.file)
		}
		return all.err == nil
	})
	return all
}
