package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"

	"github.com/urfave/cli/v2"

	"fettle/lint"
	"fettle/lint/collection"
	"fettle/lint/report"
	"fettle/lint/rules"
	"fettle/schema"
	"fettle/schema/settings"
	"fettle/schema/wording"
)

func (p *program) lint() *cli.Command {
	return &cli.Command{
		Name:      "lint",
		Usage:     "check drafts against your loom, reed and yarn",
		ArgsUsage: "[PATH...]",
		UsageText: "fettle lint towel.wif\nfettle lint drafts --fail-on warning\nfettle lint drafts --only loom,reed/sett --loom looms/table16.ini\nfettle lint drafts --report sarif=drafts.sarif --report junit=drafts.xml\nfettle lint drafts --write-baseline known.json; fettle lint drafts --baseline known.json\nfettle lint - < towel.wif\nfettle lint - --stdin-name drafts/towel.wif < towel.wif\nfettle lint towel.wif --compare-with drafts\n\nPaths are files, folders or patterns. Without a path fettle checks this folder and all below it.\nLoom, reed, heddles, yarn and project come from the nearest fettle.ini.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "format", Usage: "report as `FORM`: " + report.List(), Value: "text", DefaultText: "from the extension of the output, otherwise text"},
			outputFlag(),
			&cli.StringSliceFlag{Name: "report", Usage: "also write a report as `FORM=FILE`, or html=FOLDER/; can be repeated", DefaultText: "none"},
			replaceFlag(),
			&cli.StringSliceFlag{Name: "only", Usage: "run only these `RULES` or families", DefaultText: "all"},
			&cli.StringSliceFlag{Name: "skip", Usage: "don't run these `RULES` or families", DefaultText: "none"},
			&cli.StringFlag{Name: "fail-on", Usage: "exit with 1 for findings of at least this `SEVERITY`: error, warning, note or never", Value: "error"},
			&cli.StringFlag{Name: "baseline", Usage: "report only findings that are new or worse than in `FILE`", DefaultText: "none"},
			&cli.StringFlag{Name: "write-baseline", Usage: "save current findings to `FILE`", DefaultText: "none"},
			&cli.BoolFlag{Name: "stats", Usage: "print findings per rule, and speed"},
			&cli.StringSliceFlag{Name: "compare-with", Usage: "also look for duplicates of drafts at `PATH`; can be repeated", DefaultText: "none"},
			&cli.StringFlag{Name: "stdin-name", Usage: "treat standard input as the draft at `PATH`, with its settings", DefaultText: "-"},
			rootFlag(), excludeFlag(), emptyFlag(), loomFlag(), jobsFlag(), encodingFlag(), maxSizeFlag(),
		},
		Action: p.runLint,
	}
}

func (p *program) runLint(c *cli.Context) error {
	l, err := p.lintRun(c)
	if err != nil {
		return err
	}
	p.wrote = true // from here on, the report is started and finished
	listing := p.inputs(c, l.run.Checker.Finder)
	for _, problem := range listing.Problems {
		l.missed(problem.Path, problem)
	}
	l.compareWith(listing.Inputs)
	list := l.without(listing.Inputs)
	l.drafts = list
	l.findMoved(list)
	l.lintAll(list, listing)
	l.checkEmpty(listing)
	l.reportSkipped(listing.Listing)
	if err := l.finish(); err != nil {
		return err
	}
	switch {
	case l.summary.NotChecked > 0:
		return exit{status: statusFailed}
	case l.summary.AtOrAbove(l.worst) > 0 && !l.baseline.write:
		return exit{status: statusFound}
	}
	return nil
}

// compareWith finds the files of --compare-with, without those that are linted anyway.
func (l *lintRun) compareWith(list []collection.Input) {
	paths := l.context.StringSlice("compare-with")
	if len(paths) == 0 {
		return
	}
	listing := newGiven(collection.Inputs(paths, l.run.Checker.Finder.Excluded))
	for _, problem := range listing.Problems {
		l.complain(problem)
		l.missed(problem.Path, problem)
	}
	for i := range listing.Inputs {
		listing.saw(listing.Inputs[i])
		listing.Inputs[i].Args = nil // Args counts arguments of the command
	}
	l.checkEmpty(listing)
	l.run.Compare = l.without(collection.Others(listing.Inputs, list))
}

// lintRun is a run of lint: its flags and its results.
type lintRun struct {
	*program
	context  *cli.Context
	run      *collection.Run
	linter   *lint.Linter
	worst    schema.Severity
	targets  []*target
	report   report.Writer
	baseline *baseline
	stats    *stats // nil without --stats

	summary report.Summary
	broken  error // from writing the report
}

func (p *program) lintRun(c *cli.Context) (*lintRun, error) {
	l := &lintRun{program: p, context: c, stats: newStats(c.Bool("stats"))}
	var err error
	named := c.Args().Slice()
	switch {
	case c.IsSet("stdin-name") && !slices.Contains(named, "-"):
		return nil, failed("--stdin-name needs - among the paths, to read standard input")
	case c.IsSet("stdin-name") && slices.Contains([]string{"", "-"}, c.String("stdin-name")):
		return nil, failed("--stdin-name must be the path of a draft")
	case slices.Contains(c.StringSlice("compare-with"), "-"):
		return nil, failed("--compare-with takes files and folders, not standard input")
	}
	if l.worst, err = failOn(c.String("fail-on")); err != nil {
		return nil, err
	}
	all := rules.All()
	if l.linter, err = lint.New(all, lint.Selection{Only: c.StringSlice("only"), Skip: c.StringSlice("skip")}); err != nil {
		return nil, failed("%s", err)
	}
	if l.linter.None() {
		return nil, failed("no rule is left to run: --skip removes them all; skip fewer")
	}
	if l.baseline, err = baselineOf(c, l.linter); err != nil {
		return nil, err
	}
	p.reads = append(p.reads, l.baseline.path)
	if l.run, err = p.collectionRun(c, l); err != nil {
		return nil, err
	}
	// The reports come last, because they create folders.
	l.targets, l.report, err = p.targets(c, report.Options{Rules: all, Version: thisBuild().version, FailOn: l.worst, Baseline: c.IsSet("baseline")})
	return l, err
}

// collectionRun returns the run over the files, set up from the flags.
func (p *program) collectionRun(c *cli.Context, l *lintRun) (*collection.Run, error) {
	workers, err := jobs(c)
	if err != nil {
		return nil, err
	}
	reader, err := p.reader(c)
	if err != nil {
		return nil, err
	}
	top, err := root(c)
	if err != nil {
		return nil, err
	}
	return &collection.Run{Checker: &lint.Checker{Linter: l.linter, Finder: finder(c)}, Reader: reader, Workers: workers,
		Root: top, Baseline: l.baseline.known, OnlyNew: c.IsSet("baseline")}, nil
}

// failOn reads the value of --fail-on; "never" gives Off.
func failOn(word string) (schema.Severity, error) {
	if word == "never" {
		return schema.Off, nil
	}
	s, err := schema.ParseSeverity(word)
	if err != nil || s == schema.Off {
		return s, failed("--fail-on takes error, warning, note or never, not %s", wording.Quote(word))
	}
	return s, nil
}

// without drops the baseline and the reports of this run from a list of files.
func (l *lintRun) without(list []collection.Input) []collection.Input {
	paths := []string{l.baseline.path}
	for _, t := range l.targets {
		paths = append(paths, t.path)
	}
	return collection.Without(list, paths)
}

// missed counts and reports a file or folder that couldn't be read, so the reports don't
// show it as clean.
func (l *lintRun) missed(path string, why error) {
	l.summary.NotChecked++
	m := report.Missed{Path: filepath.ToSlash(path), RootPath: l.run.Root.Path(path), Reason: legible(reason(why))}
	if l.broken == nil {
		l.broken = l.report.Missed(m)
	}
}

// reason returns in one line why a file couldn't be read.
func reason(err error) string {
	var problem collection.Problem
	var wrong settings.Errors
	switch {
	case errors.As(err, &problem):
		return problem.Message
	case errors.As(err, &wrong) && len(wrong) > 1:
		return fmt.Sprintf("%s (and %d more like this)", wrong[0], len(wrong)-1)
	}
	return err.Error()
}

// lintAll lints each file and reports its findings. It prints each error once and goes
// on with the other files.
func (l *lintRun) lintAll(list []collection.Input, listing *given) {
	bar := l.bar(l.context, len(list), "checking")
	var reported seen
	l.run.Lint(list, func(in collection.Input, f report.File) bool {
		defer bar.step()
		listing.saw(in)
		profile := f.Draft != nil && f.Draft.Profile == schema.Yes
		if len(f.Findings) > 0 || profile {
			bar.wipe()
		}
		if profile {
			l.say(l.context, "%s: %s", shown(f.Path), lint.OfProfiles)
		}
		l.summary.Add(f)
		l.stats.add(f)
		l.broken = l.report.File(f)
		return l.broken == nil
	}, func(in collection.Input, err error) {
		defer bar.step()
		listing.saw(in)
		l.missed(in.Path, err)
		if fresh := reported.unseen(err); fresh != nil {
			bar.wipe()
			l.complain(fresh)
		}
	})
	bar.done()
}

// checkEmpty counts arguments without a draft as missed. A folder with files in the
// baseline may be empty, because all of them may have been deleted.
func (l *lintRun) checkEmpty(listing *given) {
	if l.broken != nil {
		return // the run stopped early
	}
	if l.baseline.known != nil {
		for i, arg := range listing.Args {
			listing.held[i] = listing.held[i] || l.baseline.knowsIn(arg.Name, l.run.Root)
		}
	}
	for _, problem := range l.program.checkEmpty(l.context, listing) {
		l.missed(problem.Path, problem)
	}
}

// unchecked warns people who might take "no findings" to mean that everything was
// checked.
const unchecked = "fettle doesn't know your loom, reed, heddles or yarn, so it checked nothing against them. Describe them in " +
	settings.FileName + "; 'fettle init' creates one"

// finish completes the reports, writes the files and prints the summary.
func (l *lintRun) finish() error {
	if l.broken == nil {
		l.broken = l.report.Close(l.summary)
	}
	if errors.As(l.broken, new(exit)) { // it already names the file
		return l.broken
	}
	if l.broken != nil {
		return failed("can't write the report: %s", collection.Reason(l.broken))
	}
	for _, t := range l.targets {
		if err := t.finish(); err != nil {
			return err
		}
		if crowded := report.Crowded(t.form, l.summary); crowded != "" {
			l.say(l.context, "%s", crowded)
		}
	}
	if err := l.finishBaseline(); err != nil {
		return err
	}
	l.stats.print(l.err)
	switch {
	case l.summary.Files+l.summary.NotChecked == 0: // already reported
	case l.summary.Files == 0 && l.summary.NotChecked == 1: // already reported
	case l.summary.NotChecked > 0 || l.summary.AtOrAbove(schema.Note) > 0 || isTerminal(l.err):
		l.say(l.context, "%s", l.summary)
	}
	if isTerminal(l.err) && l.run.Checker.Finder.Bare() {
		l.say(l.context, "%s", unchecked)
	}
	return nil
}
