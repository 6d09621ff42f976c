package main

import (
	"bytes"

	"github.com/urfave/cli/v2"

	"fettle/formats"
	"fettle/formats/diagram"
	"fettle/lint/collection"
	"fettle/schema"
	"fettle/schema/settings"
	"fettle/schema/spelling"
	"fettle/schema/wording"
)

func (p *program) convert() *cli.Command {
	return &cli.Command{
		Name:      "convert",
		Usage:     "convert drafts to another format or another kind of loom",
		ArgsUsage: "PATH...",
		UsageText: "fettle convert towel.wif --to json\nfettle convert towel.json --output towel.wif\nfettle convert drafts --to json --out-dir json\nfettle convert towel.wif --lifts plan --output dobby.wif\nfettle convert drafts --lifts plan --out-dir dobby\nfettle convert towel.wif --show yarn --output towel.pdf\nfettle convert drafts --to pdf --output handouts.pdf\n\nfettle recognizes a draft by its content. Converting to the same format writes fettle's standard layout.\nIf the new format can't hold something, fettle lists it on standard error; with --strict it then writes nothing.\nPDF and PNG lack some characters in titles; SVG shows them all.",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "to", Usage: "write `FORMAT`: " + formats.List(), DefaultText: "from the extension of the output; with --lifts, --treadles or --shed the draft's own"},
			outputFlag(),
			folderFlag(),
			replaceFlag(),
			&cli.BoolFlag{Name: "strict", Usage: "refuse a conversion that loses data; exit with 1"},
			&cli.StringFlag{Name: "format", Usage: "list losses in `FORM`: text or json", Value: "text"},
			&cli.StringFlag{Name: "lifts", Usage: "write the lifts as `WHAT`: plan, tieup or keep", Value: "keep"},
			&cli.IntFlag{Name: "treadles", Usage: "write a tie-up with at most `N` treadles", DefaultText: "any number"},
			&cli.StringFlag{Name: "shed", Usage: "write for a loom with a `SHED`: rising or sinking", DefaultText: "as in the draft"},
			&cli.BoolFlag{Name: "turn", Usage: "turn the cloth by a quarter, so ends become picks"},
			&cli.BoolFlag{Name: "face-down", Usage: "weave the cloth with its back on top"},
			&cli.BoolFlag{Name: "lift-rest", Usage: "lift the shafts that the draft leaves down, at every pick"},
			&cli.StringFlag{Name: "eol", Usage: "end lines in WIF and text with `BREAK`: crlf or lf", Value: "crlf"},
			excludeFlag(), emptyFlag(), jobsFlag(), encodingFlag(), maxSizeFlag(),
		}, drawingFlags()...),
		Action: p.runConvert,
	}
}

// conversion holds the flags of a run of convert.
type conversion struct {
	to              string // "" for the draft's own format
	output          string
	folder          outputFolder
	strict, replace bool
	lifts           string
	treadles        int
	shed            schema.Shed
	turn            string // the flag that turns the cloth, "" for none
	options         formats.Options
	reader          collection.Reader
	finder          *settings.Finder  // for the drafts to skip
	yarns           *settings.Finder  // for the names of yarns in drawings
	handouts        *diagram.Handouts // one PDF of several drafts; nil for a file each
}

func (p *program) conversionOf(c *cli.Context) (conversion, error) {
	to, clash, err := form(c, "to", draftExtensions())
	if err != nil {
		return conversion{}, err
	}
	v := conversion{to: to, output: c.String("output"), folder: outputFolder{path: c.String("out-dir")}, strict: c.Bool("strict"),
		replace: c.Bool("overwrite"), treadles: c.Int("treadles")}
	if v.lifts, err = liftsOf(c); err != nil {
		return v, err
	}
	if err := choices(c, map[string][]string{"lifts": {"plan", "tieup", "keep"}, "shed": {"rising", "sinking"},
		"eol": {"crlf", "lf"}, "format": {"text", "json"}}); err != nil {
		return v, err
	}
	v.options.LF = c.String("eol") == "lf"
	v.shed = map[string]schema.Shed{"rising": schema.Rising, "sinking": schema.Sinking}[c.String("shed")]
	if v.turn, err = turnOf(c); err != nil {
		return v, err
	}
	switch {
	case v.to == "" && v.lifts == "keep" && v.shed == schema.ShedUnstated && v.turn == "":
		return v, failed("choose the format with --to: %s; or give --output a file name with that extension", formats.List())
	case v.folder.path != "" && c.IsSet("output"):
		return v, failed("--output and --out-dir can't be combined; use --output for one draft, --out-dir for several")
	case c.NArg() == 0:
		return v, failed("name a draft or a folder to convert; - is standard input")
	}
	if err := writable(v.to); err != nil {
		return v, err
	}
	if clash != "" && c.String("format") != "json" { // the JSON report needs standard error for itself
		p.say(c, "%s", clash)
	}
	if err := drawingOf(c, v.to, &v.options); err != nil {
		return v, err
	}
	if err := p.notText(v.to, v.output); err != nil && v.folder.path == "" {
		return v, err
	}
	v.finder = finder(c)
	v.yarns = v.finder
	if c.IsSet("loom") { // it names yarn, and then fettle.ini doesn't
		v.yarns = settings.NewFinder(settings.Options{ConfigFile: c.String("loom")})
		p.finders = append(p.finders, v.yarns)
	}
	v.reader, err = p.reader(c)
	return v, err
}

// liftsOf reads --lifts. --treadles without it means a tie-up.
func liftsOf(c *cli.Context) (string, error) {
	lifts := c.String("lifts")
	if kind := liftKind(lifts); kind != "" && kind != lifts {
		return "", failed("--lifts takes plan, tieup or keep, not %s; did you mean --lifts %s?", wording.Quote(lifts), kind)
	}
	switch {
	case !c.IsSet("treadles"):
	case c.Int("treadles") < 1:
		return "", failed("--treadles must be 1 or more, not %d", c.Int("treadles"))
	case !c.IsSet("lifts"):
		return "tieup", nil
	case lifts != "tieup":
		return "", failed("--treadles works only with --lifts tieup, not --lifts %s; leave one of them out", wording.Plain(lifts, 60))
	}
	return lifts, nil
}

// turnOf returns the one flag that turns the cloth, "" for none.
func turnOf(c *cli.Context) (string, error) {
	turn := ""
	for _, name := range []string{"turn", "face-down", "lift-rest"} {
		switch {
		case !c.Bool(name):
		case turn != "":
			return "", failed("--%s and --%s can't be combined; run convert once for each", turn, name)
		default:
			turn = name
		}
	}
	return turn, nil
}

// liftKind returns the value of --lifts for a word that weavers use, "" for none.
func liftKind(word string) string {
	switch spelling.Fold(word) {
	case "plan", "lift", "lifts", "lift plan", "liftplan", "dobby":
		return "plan"
	case "tie", "tieup", "tie up", "treadle", "treadles":
		return "tieup"
	}
	return ""
}

// writable returns an error if fettle can't write the format; "" is the draft's own. For
// words that belong to --lifts it says so.
func writable(to string) error {
	if to == "" {
		return nil
	}
	err := formats.CanWrite(to)
	switch kind := liftKind(to); {
	case err == nil:
		return nil
	case kind != "":
		return failed("%s; for lifts use --lifts %s", err, kind)
	}
	return failed("%s", err)
}

func (p *program) runConvert(c *cli.Context) error {
	v, err := p.conversionOf(c)
	if err != nil {
		return err
	}
	workers, err := jobs(c)
	if err != nil {
		return err
	}
	listing := p.inputs(c, v.finder)
	list := collection.Outside(listing.Inputs, v.folder.path)
	switch {
	case len(list) < 2 || v.folder.path != "":
	case v.to == "pdf" && c.IsSet("output"):
		v.handouts = diagram.NewHandouts(v.options.Drawing)
		if v.options.Drawing.Page == diagram.OnePage {
			return failed("a PDF with a draft a page needs a paper; leave out --page one, or use --out-dir for a file each")
		}
	case v.to == "pdf":
		return failed("several files need --output, for one PDF with a draft a page, or --out-dir, the folder for a file each")
	default:
		return failed("several files need --out-dir, the folder for the results")
	}
	report := lossReport{json: c.String("format") == "json", to: p.err, complain: p.complain}
	p.drafts = list
	bar := p.bar(c, len(list), "converting")
	status := statusFine
	for _, problem := range listing.Problems {
		status = statusFailed
		report.missed(problem)
	}
	collection.Each(list, workers, v.convert, func(in collection.Input, r converted) bool {
		defer bar.step()
		if !r.none {
			listing.saw(in)
			status = max(status, p.convertedOne(&v, &report, in, &r))
			if !report.json { // standard error is for the report alone
				for _, remark := range r.remarks {
					p.say(c, "%s: %s", shown(in.Path), remark)
				}
			}
		}
		return true
	})
	bar.done()
	for _, problem := range p.checkEmpty(c, listing) {
		status = statusFailed
		report.missed(problem)
	}
	if v.handouts != nil {
		status = max(status, p.writeHandouts(&v))
	}
	report.close()
	if status != statusFine {
		return exit{status: status}
	}
	return nil
}

// convertedOne writes the result for a file, reports its losses and returns the exit
// status.
func (p *program) convertedOne(v *conversion, report *lossReport, in collection.Input, r *converted) (status int) {
	path, err := v.output, r.err
	if err == nil && v.folder.path != "" {
		path, err = v.folder.pathFor(in, "."+r.to)
	}
	if err == nil && v.handouts != nil {
		r.lost, err = v.addHandout(in, r)
	} else if err == nil {
		err = p.writeAs(r.to, path, r.text, v.replace)
	}
	report.add(in.Path, path, r.to, r.lost, err)
	return statusOf(err)
}

// addHandout adds a draft to the PDF of all drafts, and returns what is lost.
func (v *conversion) addHandout(in collection.Input, r *converted) (lost []string, err error) {
	if v.strict && len(r.lost) > 0 {
		return r.lost, notConverted(in.Path, tooMuchLost)
	}
	r.options.Drawing.Remark = func(text string) { r.remarks = append(r.remarks, text) }
	lost, err = formats.Handout(v.handouts, r.draft, shown(in.Path), r.options)
	if err != nil {
		err = failed("%s: %s", shown(in.Path), err)
	}
	return append(r.lost, lost...), err
}

// writeHandouts writes the PDF of all drafts and returns the exit status.
func (p *program) writeHandouts(v *conversion) (status int) {
	if v.handouts.Len() == 0 {
		return statusFine // the drafts have their errors
	}
	var b bytes.Buffer
	err := v.handouts.Write(&b)
	if err == nil {
		err = p.write(v.output, b.Bytes(), v.replace)
	}
	if err != nil {
		p.complain(err)
		return statusFailed
	}
	return statusFine
}
