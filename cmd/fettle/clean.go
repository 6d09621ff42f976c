package main

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/urfave/cli/v2"

	"fettle/lint"
	"fettle/lint/clean"
	"fettle/lint/collection"
	"fettle/lint/rules"
	"fettle/schema"
	"fettle/schema/wording"
)

func (p *program) clean() *cli.Command {
	return &cli.Command{
		Name:      "clean",
		Usage:     "fix faults in draft files and change nothing else",
		ArgsUsage: "PATH...",
		UsageText: "fettle clean towel.wif --diff\nfettle clean towel.wif --output fixed.wif\nfettle clean drafts --write\nfettle clean drafts --check\n\nfettle makes only safe fixes: the draft still weaves the same cloth in the same colors.\n--risky makes more fixes and reports each one. Without --write, --output or --out-dir the result goes to\nstandard output.",
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "diff", Usage: "print the changes as a diff"},
			&cli.BoolFlag{Name: "check", Usage: "write nothing; exit with 1 if a file would change"},
			&cli.BoolFlag{Name: "write", Aliases: []string{"w"}, Usage: "replace each file with its result"},
			outputFlag(),
			folderFlag(),
			replaceFlag(),
			&cli.BoolFlag{Name: "risky", Usage: "also make fixes that may change what a draft means"},
			&cli.BoolFlag{Name: "canonical", Usage: "also rewrite files in fettle's standard layout"},
			&cli.StringSliceFlag{Name: "only", Usage: "fix only findings of these `RULES` or families", DefaultText: "all"},
			&cli.StringSliceFlag{Name: "skip", Usage: "don't fix findings of these `RULES` or families", DefaultText: "none"},
			&cli.IntFlag{Name: "line", Usage: "fix only findings on this `LINE` of a draft", DefaultText: "all"},
			excludeFlag(), emptyFlag(), jobsFlag(), encodingFlag(), maxSizeFlag(),
		},
		Action: p.runClean,
	}
}

// cleaning holds the flags of a run of clean.
type cleaning struct {
	cleaner             *clean.Cleaner
	reader              collection.Reader
	diff, check, write  bool
	output              string
	folder              outputFolder
	overwrite, toOutput bool
	rechecker           *rechecker // nil with --quiet
}

func (p *program) cleaningOf(c *cli.Context) (cleaning, error) {
	v := cleaning{diff: c.Bool("diff"), check: c.Bool("check"), write: c.Bool("write"), output: c.String("output"),
		folder: outputFolder{path: c.String("out-dir")}, overwrite: c.Bool("overwrite"), toOutput: c.IsSet("output")}
	targets := 0
	for _, asked := range []bool{v.check, v.write, v.toOutput, v.folder.path != ""} {
		if asked {
			targets++
		}
	}
	switch {
	case targets > 1:
		return v, failed("--check, --write, --output and --out-dir can't be combined; use one of them")
	case c.NArg() == 0:
		return v, failed("name a draft or a folder to clean; - is standard input")
	}
	if c.IsSet("line") && c.Int("line") < 1 {
		return v, failed("--line must be 1 or more, not %d", c.Int("line"))
	}
	all := rules.All()
	asked := lint.Selection{Only: c.StringSlice("only"), Skip: c.StringSlice("skip")}
	linter, err := lint.New(all, clean.Selection(all, asked))
	if err != nil {
		return v, failed("%s", err)
	}
	v.cleaner = &clean.Cleaner{Checker: &lint.Checker{Linter: linter, Finder: finder(c)},
		Risky: c.Bool("risky"), Canonical: c.Bool("canonical"), Line: c.Int("line")}
	v.reader, err = p.reader(c)
	return v, err
}

func (p *program) runClean(c *cli.Context) error {
	v, err := p.cleaningOf(c)
	if err != nil {
		return err
	}
	workers, err := jobs(c)
	if err != nil {
		return err
	}
	listing := p.inputs(c, v.cleaner.Checker.Finder)
	list, missed := collection.Outside(listing.Inputs, v.folder.path), len(listing.Problems)
	if len(list) > 1 && v.cleaner.Line > 0 {
		return failed("--line works with one draft, not %d; name the draft", len(list))
	}
	if len(list) > 1 && !v.write && !v.check && !v.diff && v.folder.path == "" {
		return failed("several files need --write, to replace them, or --out-dir, to write to another folder")
	}
	if v.write && c.NArg() > 1 {
		list = withoutDuplicates(list)
	}
	if !c.Bool("quiet") {
		if v.rechecker, err = newRechecker(v.cleaner.Checker, len(list) == 1); err != nil {
			return err
		}
	}
	p.drafts = list
	bar := p.bar(c, len(list), "cleaning")
	tally := v.tally(len(list), missed)
	collection.Each(list, workers, func(in collection.Input) cleaned { return p.cleanFile(&v, in) }, func(in collection.Input, r cleaned) bool {
		defer bar.step()
		if r.hasMessages() {
			bar.wipe()
		}
		if !r.none {
			listing.saw(in)
			p.cleanedOne(c, &v, &tally, in, r)
		}
		return true
	})
	bar.done()
	p.sayForeign(c, v.cleaner.Checker.Finder)
	tally.missed += len(p.checkEmpty(c, listing))
	if !tally.single && tally.files+tally.missed > 1 {
		paths := c.Args().Slice()
		if v.folder.path != "" {
			paths = []string{v.folder.path}
		}
		text := tally.String()
		if remain := tally.remaining.say(lintCommand(c, paths...)); remain != "" {
			text += "; " + remain
		}
		p.say(c, "%s", text)
	}
	return v.exitError(&tally)
}

func (v *cleaning) exitError(t *cleanTally) error {
	switch {
	case t.missed > 0 || t.failed:
		return exit{status: statusFailed}
	case t.refused > 0 || v.check && t.changed > 0:
		return exit{status: statusFound}
	}
	return nil
}

// writes reports whether the run writes results.
func (v *cleaning) writes() bool {
	return !v.check && (!v.diff || v.write || v.toOutput || v.folder.path != "")
}

// cleaned is the result for one file.
type cleaned struct {
	clean.Result
	format    string
	none      bool       // a file that isn't a draft and isn't named like one
	rechecked *rechecked // nil without a recheck
	err       error
}

// hasMessages reports whether there is anything to print about the file.
func (r *cleaned) hasMessages() bool {
	return r.err != nil || len(r.Refused) > 0 || r.Source != nil && r.Changed() || r.rechecked != nil && len(r.rechecked.findings) > 0
}

// cleanFile cleans a file. With --write it also replaces the file.
func (p *program) cleanFile(v *cleaning, in collection.Input) cleaned {
	doc, err := readDraft(v.reader, in)
	if doc == nil {
		return cleaned{none: err == nil, err: err}
	}
	format := doc.Format // keeping the document would keep its findings in memory
	result, err := v.cleaner.Clean(doc)
	if err != nil {
		return cleaned{err: missed{failed("%s", err)}}
	}
	if v.write && result.Changed() && in.Path != "-" {
		err = p.replace(in.Path, result.Source.Raw, result.After)
	}
	r := cleaned{Result: result, format: format, err: err}
	if v.rechecker != nil && err == nil {
		r.rechecked = v.rechecker.in(result.Document, v.cleanedPath(in))
	}
	return r
}

// cleanedOne prints and writes the result for a file.
func (p *program) cleanedOne(c *cli.Context, v *cleaning, t *cleanTally, in collection.Input, r cleaned) {
	if r.err == nil && v.diff {
		r.err = p.showDiff(c, v, t, in.Path, &r)
	}
	if r.err == nil && v.writes() && (!v.write || in.Path == "-") {
		r.err = p.writeCleaned(v, in, r)
	}
	t.add(&r)
	if r.err != nil {
		p.complainOnce(t, r.err)
		return
	}
	for _, x := range r.Refused {
		p.complain(errors.New(x.At(shown(in.Path))))
	}
	if r.Changed() {
		p.say(c, "%s: %d %s: %s", shown(in.Path), r.Made.Sum(), t.verb, r.Made)
	}
	for _, what := range r.Risks {
		p.say(c, "%s: %s", shown(in.Path), what)
	}
	if t.single && len(r.Waiting) > 0 {
		p.say(c, "%s: %d more with --risky: %s", shown(in.Path), r.Waiting.Sum(), r.Waiting)
	}
	if v.rechecker != nil {
		t.remaining.add(v.rechecker, r.rechecked)
	}
	if remain := t.remaining.say(lintCommand(c, v.cleanedPath(in))); t.single && remain != "" {
		p.say(c, "%s: %s", shown(in.Path), remain)
	}
}

// writeCleaned writes a result to --output or --out-dir.
func (p *program) writeCleaned(v *cleaning, in collection.Input, r cleaned) error {
	path := v.output
	if v.folder.path != "" {
		extension := ""
		if in.Path == "-" {
			extension = "." + r.format
		}
		var err error
		if path, err = v.folder.pathFor(in, extension); err != nil {
			return err
		}
	}
	return p.write(path, r.After, v.overwrite)
}

// complainOnce prints each error once, such as one in settings that many drafts
// share.
func (p *program) complainOnce(t *cleanTally, err error) {
	if fresh := t.reported.unseen(err); fresh != nil {
		p.complain(fresh)
	}
}

// showDiff prints the diff of a file. Remarks about the whole file, and the reason
// for a missing diff, go to standard error.
func (p *program) showDiff(c *cli.Context, v *cleaning, t *cleanTally, path string, r *cleaned) error {
	for _, remark := range r.Remarks() {
		p.say(c, "%s: %s: %s", path, schema.FileEncoding, remark)
	}
	diff, err := r.Diff()
	if err == nil {
		return p.printDiff(diff)
	}
	t.failed = t.failed || errors.As(err, new(clean.Unsafe))
	advice := "; use --output FILE to see the result, or --write"
	if v.write {
		advice = ""
	}
	p.complain(failed("%s: no diff: %s%s", path, err, advice))
	return nil
}

// printDiff prints a diff byte for byte, so patch programs can apply it. On a
// terminal it escapes control characters.
func (p *program) printDiff(diff []byte) error {
	if !isTerminal(p.out) {
		return notPrinted(p.exact.Write(diff))
	}
	return p.print("%s", forTerminal(diff))
}

// forTerminal returns a diff with invalid UTF-8 as \xNN and control characters
// replaced.
func forTerminal(diff []byte) string {
	var b strings.Builder
	for i := 0; i < len(diff); {
		r, size := utf8.DecodeRune(diff[i:])
		switch {
		case r == utf8.RuneError && size == 1:
			fmt.Fprintf(&b, `\x%02x`, diff[i])
		case r == '\r' && i+1 < len(diff) && diff[i+1] == '\n':
		case r == '\n' || r == '\t':
			b.WriteRune(r)
		default:
			b.WriteRune(wording.Printable(r))
		}
		i += size
	}
	return b.String()
}

// cleanTally counts the results of all files.
type cleanTally struct {
	files, changed, refused int
	missed                  int // files that couldn't be read, not included in files
	failed, single          bool
	verb                    string
	made, waiting           clean.Counts
	reported                seen
	remaining               remaining
}

// tally starts the count for a run over some files, with others already missed.
func (v *cleaning) tally(files, missed int) cleanTally {
	verb := "to fix"
	if v.writes() {
		verb = "fixed"
	}
	return cleanTally{single: files == 1 && missed == 0, missed: missed, verb: verb}
}

func (t *cleanTally) add(r *cleaned) {
	if errors.As(r.err, new(missed)) {
		t.missed++
		return
	}
	t.files++
	if r.err != nil {
		t.failed = t.failed || statusOf(r.err) == statusFailed
		return
	}
	if len(r.Refused) > 0 {
		t.refused++
	}
	if r.Changed() {
		t.changed++
		for _, x := range r.Made {
			t.made.Add(x.Rule, x.Fixes)
		}
	}
	for _, x := range r.Waiting {
		t.waiting.Add(x.Rule, x.Fixes)
	}
}

// String returns the summary of a run: "12 files: 3 fixed (file/contents 3); 2 more
// with --risky (draft/shed-unstated 2); 1 not checked".
func (t *cleanTally) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %d %s", wording.Counted(t.files, "file"), t.changed, t.verb)
	if len(t.made) > 0 {
		fmt.Fprintf(&b, " (%s)", t.made)
	}
	if t.refused > 0 {
		fmt.Fprintf(&b, "; %d with refused fixes", t.refused)
	}
	if len(t.waiting) > 0 {
		fmt.Fprintf(&b, "; %d more with --risky (%s)", t.waiting.Sum(), t.waiting)
	}
	if t.missed > 0 {
		fmt.Fprintf(&b, "; %d not checked", t.missed)
	}
	return b.String()
}
