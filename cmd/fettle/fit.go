package main

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"

	"github.com/urfave/cli/v2"

	"fettle/formats"
	"fettle/lint/collection"
	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/fitting"
	"fettle/schema/settings"
)

func (p *program) fit() *cli.Command {
	return &cli.Command{
		Name:      "fit",
		Usage:     "fit drafts to your loom: the same cloth with fewer shafts or treadles",
		ArgsUsage: "PATH...",
		UsageText: "fettle fit towel.wif\nfettle fit towel.wif --loom looms/jack8.ini --at-once 2\nfettle fit towel.wif --shafts 8 --treadles 10 --output towel8.wif\nfettle fit drafts --out-dir fitted\n\n" +
			"Loom, heddles and shed come from fettle.ini; flags override it. Fit changes only what it must, and the cloth stays the same.\n" +
			"Without --output or --out-dir it only reports. If a draft can't be woven on the loom, fit says why.",
		Flags: []cli.Flag{
			loomFlag(),
			&cli.IntFlag{Name: "at-once", Usage: "press up to `N` treadles together", DefaultText: "treadles at once in fettle.ini, otherwise 1"},
			&cli.IntFlag{Name: "shafts", Usage: "fit to a loom with `N` shafts", DefaultText: "the loom's"},
			&cli.IntFlag{Name: "treadles", Usage: "fit to a loom with `N` treadles; 0: lifts come from a lift plan", DefaultText: "the loom's"},
			&cli.StringFlag{Name: "to", Usage: "write `FORMAT`: " + formats.List(), DefaultText: "by the extension of the output, otherwise the draft's own"},
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write the draft to `FILE`; - is standard output, and the report then goes to standard error"},
			folderFlag(), replaceFlag(),
			&cli.BoolFlag{Name: "check", Usage: "write no draft, only report"},
			&cli.BoolFlag{Name: "draw", Usage: "below the text report, draw one repeat before and after"},
			&cli.StringFlag{Name: "format", Usage: "report in `FORM`: text or json", Value: "text"},
			excludeFlag(), emptyFlag(), encodingFlag(), maxSizeFlag(),
		},
		Action: p.runFit,
	}
}

// fitRun is one run of fit.
type fitRun struct {
	*program
	context *cli.Context
	to      string // the output format, "" for the draft's own
	folder  outputFolder
	writes  bool
	reader  collection.Reader
	finder  *settings.Finder
	out     io.Writer // for the report
	json    []any
	first   bool // nothing was reported yet
	status  int
}

// fitted is the entry of a draft in the JSON report.
type fitted struct {
	Fettle int    `json:"fettle"`
	Path   string `json:"path"`
	*fitting.Result
}

func (p *program) newFitRun(c *cli.Context) (*fitRun, error) {
	if err := choices(c, map[string][]string{"format": {"text", "json"}}); err != nil {
		return nil, err
	}
	for name, least := range map[string]int{"at-once": 1, "shafts": 1, "treadles": 0} {
		if c.IsSet(name) && c.Int(name) < least {
			return nil, failed("--%s must be a whole number of at least %d, not %d", name, least, c.Int(name))
		}
	}
	to, clash, err := form(c, "to", draftExtensions())
	if err != nil {
		return nil, err
	}
	r := &fitRun{program: p, context: c, to: to, folder: outputFolder{path: c.String("out-dir")}, out: p.out, first: true,
		finder: settings.NewFinder(settings.Options{ConfigFile: c.String("config"), LoomFile: c.String("loom"), Flags: loomGiven(c)})}
	r.writes = !c.Bool("check") && (r.folder.path != "" || c.String("output") != "")
	switch {
	case c.NArg() == 0:
		return nil, failed("name a draft or a folder to fit; - is standard input")
	case r.folder.path != "" && c.IsSet("output"):
		return nil, failed("--output names one file and --out-dir a folder for many; use one of them")
	case c.Bool("draw") && c.String("format") != "text":
		return nil, failed("--draw works only with --format text; remove one of the two")
	}
	if err := writable(to); err != nil {
		return nil, err
	}
	if c.String("output") == "-" {
		r.out = p.err
	}
	if clash != "" {
		p.say(c, "%s", clash)
	}
	r.reader, err = p.reader(c)
	return r, err
}

// loomGiven returns the loom values given as flags.
func loomGiven(c *cli.Context) []schema.Setting {
	var list []schema.Setting
	for _, f := range []struct{ flag, key string }{{"shafts", "shafts"}, {"treadles", "treadles"}, {"at-once", "treadles at once"}} {
		if c.IsSet(f.flag) {
			list = append(list, schema.Setting{Section: "loom", Key: f.key, Value: strconv.Itoa(c.Int(f.flag))})
		}
	}
	return list
}

func (p *program) runFit(c *cli.Context) error {
	r, err := p.newFitRun(c)
	if err != nil {
		return err
	}
	listing := p.inputs(c, r.finder)
	list := collection.Outside(listing.Inputs, r.folder.path)
	if len(list) > 1 && r.writes && r.folder.path == "" {
		return failed("several drafts are named; use --out-dir to write them all")
	}
	p.drafts = list
	for _, problem := range listing.Problems {
		r.missed(problem, false)
	}
	for _, in := range list {
		doc, err := readDraft(r.reader, in)
		if doc == nil && err == nil {
			continue
		}
		listing.saw(in)
		if err == nil {
			err = r.fitOne(in, doc)
		}
		if err != nil {
			r.missed(err, true)
		}
	}
	for _, problem := range p.checkEmpty(c, listing) {
		r.missed(problem, false)
	}
	if c.String("format") == "json" {
		if err := writeJSON(r.out, append([]any{}, r.json...)); err != nil {
			return failed("the report could not be written: %s", collection.Reason(err))
		}
		p.wrote = true
	}
	if r.status != statusFine {
		return exit{status: r.status}
	}
	return nil
}

// missed reports a draft that could neither be fitted nor proved unfit.
func (r *fitRun) missed(err error, complain bool) {
	r.status = statusFailed
	r.json = append(r.json, failureOf(err))
	if complain {
		r.complain(err)
	}
}

// fitOne fits a draft, writes the result if asked, and reports it.
func (r *fitRun) fitOne(in collection.Input, doc *schema.Document) error {
	path := doc.Source.Path
	loom, err := r.loom(doc)
	if err != nil {
		return err
	}
	result, err := fitting.Fit(doc.Draft, loom)
	if err != nil {
		return failed("%s", placed{path: path, message: "not fitted: " + err.Error()})
	}
	if result.Fits && r.writes {
		if err := r.write(in, doc, result.Draft); err != nil {
			return err
		}
	}
	if !result.Fits {
		r.status = max(r.status, statusFound)
	}
	r.json = append(r.json, fitted{1, shown(path), result})
	if r.context.String("format") == "json" {
		return nil
	}
	text := fitText{path: shown(path), before: doc.Draft, result: result}
	if r.context.Bool("draw") {
		text.draw()
	}
	if !r.first {
		fmt.Fprintln(r.out)
	}
	r.first, r.wrote = false, true
	return notPrinted(io.WriteString(r.out, text.String()))
}

// loom returns what is known about the draft's loom.
func (r *fitRun) loom(doc *schema.Document) (fitting.Loom, error) {
	s, err := setupOf(r.finder, doc)
	if err != nil {
		return fitting.Loom{}, err
	}
	figures := dressing.Of(doc.Draft, s)
	if many, refused := figures.TooManyEnds(); refused {
		return fitting.Loom{}, failed("%s", placed{path: doc.Source.Path, message: "not fitted: " + many.Error()})
	}
	if s.Loom.Shafts == 0 && !s.Has("loom.treadles") {
		r.say(r.context, "%s: fettle doesn't know your loom, so there is little to fit; use --loom, --shafts and --treadles, or write a fettle.ini", shown(doc.Source.Path))
	}
	return fitting.Loom{Shafts: s.Loom.Shafts, Treadles: s.Loom.Treadles, TreadlesKnown: s.Has("loom.treadles"), AtOnce: s.Loom.AtOnce,
		Shed: s.Loom.Shed, Heddles: s.Heddles, WarpEnds: figures.Warp().All}, nil
}

// write writes the fitted draft and reports what its format can't hold.
func (r *fitRun) write(in collection.Input, doc *schema.Document, d *schema.Draft) error {
	to := cmp.Or(r.to, doc.Format)
	text, lost, err := formats.Write(to, d, formats.Options{})
	if err != nil {
		return failed("%s: %s", shown(in.Path), err)
	}
	if !slices.Contains(formats.Drawings(), to) {
		lost = append(doc.Unread(), lost...)
		if !sameCloth(doc.Draft, text) {
			return failed("%s: not written: the file would weave a different cloth; this is a bug in fettle, please report it with the draft", shown(in.Path))
		}
	}
	path := r.context.String("output")
	if r.folder.path != "" {
		if path, err = r.folder.pathFor(in, "."+to); err != nil {
			return err
		}
	}
	if err := r.writeAs(to, path, text, r.context.Bool("overwrite")); err != nil {
		return err
	}
	r.sayLost(r.context, in.Path, lost)
	return nil
}
