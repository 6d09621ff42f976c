package main

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"fettle/formats"
	"fettle/formats/diagram"
	"fettle/lint/collection"
	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/fitting"
	"fettle/schema/settings"
	"fettle/schema/wording"
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
	met := p.inputs(c, r.finder)
	list := collection.Outside(met.Inputs, r.folder.path)
	if len(list) > 1 && r.writes && r.folder.path == "" {
		return failed("several drafts are named; use --out-dir to write them all")
	}
	p.drafts = list
	for _, problem := range met.Problems {
		r.missed(problem, false)
	}
	for _, in := range list {
		doc, err := readDraft(r.reader, in)
		if doc == nil && err == nil {
			continue
		}
		met.saw(in)
		if err == nil {
			err = r.fitOne(in, doc)
		}
		if err != nil {
			r.missed(err, true)
		}
	}
	for _, problem := range p.checkEmpty(c, met) {
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
	loom, setup, err := r.loom(doc)
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
	text := fitText{path: shown(path), before: doc.Draft, result: result, loom: setup.Loom}
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
func (r *fitRun) loom(doc *schema.Document) (fitting.Loom, *schema.Setup, error) {
	found, wrong, err := r.finder.ForDraft(doc.Source.Path, doc.Draft.Settings)
	if err == nil && len(wrong) > 0 {
		err = wrong.Placed(doc)
	}
	if err != nil {
		return fitting.Loom{}, nil, failed("%s", err)
	}
	s := &found.Setup
	figures := dressing.Of(doc.Draft, s)
	if many, refused := figures.TooManyEnds(); refused {
		return fitting.Loom{}, nil, failed("%s", placed{path: doc.Source.Path, message: "not fitted: " + many.Error()})
	}
	if s.Loom.Shafts == 0 && !s.Has("loom.treadles") {
		r.say(r.context, "%s: fettle doesn't know your loom, so there is little to fit; use --loom, --shafts and --treadles, or write a fettle.ini", shown(doc.Source.Path))
	}
	return fitting.Loom{Shafts: s.Loom.Shafts, Treadles: s.Loom.Treadles, TreadlesKnown: s.Has("loom.treadles"), AtOnce: s.Loom.AtOnce,
		Shed: s.Loom.Shed, Heddles: s.Heddles, WarpEnds: figures.Warp().All}, s, nil
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
	write := r.program.write
	if to == "txt" {
		write = r.writeForPeople
	}
	if err := write(path, text, r.context.Bool("overwrite")); err != nil {
		return err
	}
	for _, l := range lost {
		r.say(r.context, "%s: lost: %s", shown(in.Path), wording.Plain(l, len(l)))
	}
	return nil
}

// fitText writes the report on one draft in words.
type fitText struct {
	strings.Builder
	path   string
	before *schema.Draft
	result *fitting.Result
	loom   schema.Loom
	drawn  [2]string // the drawings before and after; "" for none
}

func (t *fitText) draw() {
	for i, d := range []*schema.Draft{t.before, t.result.Draft} {
		if d == nil {
			continue
		}
		text, _, err := formats.Write("txt", d, formats.Options{Drawing: diagram.Options{Repeat: true}})
		if err != nil {
			text = fmt.Appendf(nil, "It can't be drawn: %s.\n", legible(err.Error()))
		}
		t.drawn[i] = string(text)
	}
}

func (t *fitText) line(format string, args ...any) { fmt.Fprintf(t, format+"\n", args...) }

func (t *fitText) String() string {
	t.heading()
	t.counts()
	for _, why := range t.result.Why {
		t.line("  %s", reasonText(why, t.result, t.loom))
	}
	if t.result.Fits {
		t.threading()
		t.tieup()
	}
	for i, when := range []string{"before", "after"} {
		if t.drawn[i] != "" {
			t.line("\n%s, %s:\n%s", t.path, when, strings.TrimRight(t.drawn[i], "\n"))
		}
	}
	return t.Builder.String()
}

func (t *fitText) heading() {
	r := t.result
	words := map[fitting.Change]string{fitting.Lifts: "lifts from a lift plan", fitting.Shed: "the other shed", fitting.Shafts: "other shafts",
		fitting.Treadles: "another tie-up", fitting.Heddles: "ends moved to other heddles"}
	if t.result.Draft != nil && t.result.Draft.LiftPlan.Len() == 0 {
		words[fitting.Lifts] = "lifts from treadles"
	}
	var changed []string
	for _, c := range r.Changed {
		changed = append(changed, words[c])
	}
	switch {
	case !r.Fits && slices.ContainsFunc(r.Why, func(why fitting.Reason) bool { return !why.Undecided }):
		t.line("%s: can't be woven on this loom", t.path)
	case !r.Fits:
		t.line("%s: fettle found no way to weave it on this loom, but there may be one", t.path)
	case len(changed) == 0:
		t.line("%s: fits as it is", t.path)
	default:
		t.line("%s: fits with %s; the cloth is the same", t.path, wording.Listed(changed))
	}
}

// counts compares the shafts, treadles and heddles in use with those of the loom.
func (t *fitText) counts() {
	s, tr := t.result.Shafts, t.result.Treadles
	t.line("  shafts: the draft uses %d, the cloth needs %d%s%s", s.Used, s.Fewest, has(s.Available), now(t.result.Fits, s.Used, s.Result))
	least := "proved to be the fewest"
	if !tr.Proved {
		least = fmt.Sprintf("but at least %d are needed", tr.AtLeast)
	}
	t.line("  treadles: the draft uses %d; %d with %s, %s%s%s", tr.Used, tr.Fewest, atOnce(tr.AtOnce), least, has(tr.Available), now(t.result.Fits, tr.Used, tr.Result))
	for _, h := range t.result.Heddles {
		if h.Available != nil {
			t.line("  shaft %d: %d of %s", h.Shaft, h.Needed, wording.Counted(*h.Available, "heddle"))
		}
	}
}

func has(available *int) string {
	if available == nil {
		return ""
	}
	return fmt.Sprintf("; the loom has %d", *available)
}

func now(fits bool, used, result int) string {
	if !fits || used == result {
		return ""
	}
	return fmt.Sprintf("; now %d", result)
}

func atOnce(n int) string {
	if n == 1 {
		return "one at a time"
	}
	return fmt.Sprintf("up to %d at once", n)
}

// mostShown limits the groups of ends, or treadles, in a report.
const mostShown = 40

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// reasonText says what the loom lacks, with the proof.
func reasonText(why fitting.Reason, r *fitting.Result, loom schema.Loom) string {
	switch why.Rule {
	case "loom/too-many-shafts":
		return fmt.Sprintf("It needs %d shafts, but the loom has %d. %s all weave differently.", why.Needed, why.Available, capital(wording.Numbered("end", why.Ends)))
	case "loom/too-many-treadles":
		if why.Undecided {
			return fmt.Sprintf("The best tie-up found takes %d treadles, and at least %d are needed, but the loom has %d.", r.Treadles.Fewest, r.Treadles.AtLeast, why.Available)
		}
		text := fmt.Sprintf("It needs %d treadles with %s, but the loom has %d. The lifts of %s need that many.", why.Needed, atOnce(r.Treadles.AtOnce), why.Available, wording.Numbered("pick", why.Lifts))
		if r.Treadles.AtOnce == 1 && loom.Shed != schema.Balanced {
			text += " Try --at-once 2."
		}
		return text
	}
	text := fmt.Sprintf("Shaft %d needs %s and has %d", why.Shaft, wording.Counted(why.Needed, "heddle"), why.Available)
	if why.Undecided {
		return text + "; fettle found no way to spread its ends. Move spare heddles from other shafts, or add some."
	}
	return text + "; spare shafts can't take the rest. Move spare heddles from other shafts, or add some."
}

// threading lists the ends that moved to another shaft.
func (t *fitText) threading() {
	moves := slices.DeleteFunc(slices.Clone(t.result.Moves), func(m fitting.Move) bool { return len(m.From) == 1 && m.From[0] == m.To })
	if len(moves) > 0 {
		t.line("  threading, old shaft and new:")
	}
	for i, m := range moves {
		if i == mostShown {
			t.line("    and %d more like these", len(moves)-i)
			break
		}
		t.line("    shaft %s -> %d: %s, from end %d", rowText(m.From), m.To, wording.Counted(m.Ends, "end"), m.First)
	}
}

func rowText(row []int32) string {
	if len(row) == 0 {
		return "-"
	}
	words := make([]string, len(row))
	for i, n := range row {
		words[i] = strconv.Itoa(int(n))
	}
	return strings.Join(words, " ")
}

// tieup shows the changes in the tie-up.
func (t *fitText) tieup() {
	after := t.result.Draft
	if after.Tieup.Equal(t.before.Tieup) {
		return
	}
	t.ties("tie-up before", &t.before.Tieup, nil)
	t.ties("tie-up now", &after.Tieup, t.result.Down)
}

func (t *fitText) ties(heading string, tieup *schema.Rows, down [][]int32) {
	if tieup.Count() == 0 {
		return
	}
	t.line("  %s:", heading)
	for n := 1; n <= tieup.Len(); n++ {
		switch {
		case n > mostShown:
			t.line("    and %d more treadles", tieup.Len()-mostShown)
			return
		case down != nil:
			t.line("    treadle %d: up %s, down %s", n, rowText(tieup.Row(n)), rowText(down[n-1]))
		default:
			t.line("    treadle %d: %s", n, rowText(tieup.Row(n)))
		}
	}
}
