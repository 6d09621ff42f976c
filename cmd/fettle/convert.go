package main

import (
	"cmp"
	"errors"
	"slices"

	"github.com/urfave/cli/v2"

	"fettle/formats"
	"fettle/lint/collection"
	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/spelling"
	"fettle/schema/wording"
)

func (p *program) convert() *cli.Command {
	return &cli.Command{
		Name:      "convert",
		Usage:     "write drafts in another format, or for another kind of loom",
		ArgsUsage: "PATH...",
		UsageText: "fettle convert towel.wif --to json\nfettle convert towel.json --output towel.wif\nfettle convert drafts --to json --out-dir json\nfettle convert towel.wif --lifts plan --output dobby.wif\nfettle convert drafts --lifts plan --out-dir dobby\nfettle convert towel.wif --show yarn --output towel.pdf\n\nThe format of a file is told by its content. Into its own format a draft is put in canonical form.\nWhat the other format cannot hold is listed on standard error; --strict refuses instead.\nThat includes a character of the title which the font in PDF and PNG lacks; SVG shows it.",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "to", Usage: "write `FORMAT`: " + formats.List(), DefaultText: "what the ending of the output says, else with --lifts, --treadles or --shed the draft's own"},
			outputFlag(),
			folderFlag(),
			replaceFlag(),
			&cli.BoolFlag{Name: "strict", Usage: "refuse, with exit status 1, where anything would be lost"},
			&cli.StringFlag{Name: "format", Usage: "tell what is lost in `FORM`: text or json", Value: "text"},
			&cli.StringFlag{Name: "lifts", Usage: "have lifts come from `WHAT`: plan, tieup or keep", Value: "keep"},
			&cli.IntFlag{Name: "treadles", Usage: "have lifts come from a tie-up, and refuse where more than `N` treadles are needed", DefaultText: "any number"},
			&cli.StringFlag{Name: "shed", Usage: "write for a `SHED`: rising or sinking", DefaultText: "as it is"},
			&cli.BoolFlag{Name: "turn", Usage: "turn the cloth by a quarter: weave its ends as picks and its picks as ends"},
			&cli.BoolFlag{Name: "face-down", Usage: "weave the cloth other side up: ends in the opposite order, every crossing the other way"},
			&cli.BoolFlag{Name: "lift-rest", Usage: "lift the other shafts at every pick, and leave the threading as it is"},
			&cli.StringFlag{Name: "eol", Usage: "end lines of the text format in `BREAK`: crlf or lf", Value: "crlf"},
			excludeFlag(), emptyFlag(), jobsFlag(), encodingFlag(), maxSizeFlag(),
		}, drawingFlags()...),
		Action: p.runConvert,
	}
}

// conversion is what a run of convert has been asked for.
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
}

func (p *program) conversionOf(c *cli.Context) (conversion, error) {
	to, clash, err := form(c, "to", draftEndings())
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
		return v, failed("say which format to write with --to: %s; or name a file with --output that ends so", formats.List())
	case v.folder.path != "" && c.IsSet("output"):
		return v, failed("--output names one file and --out-dir a folder for many; give one of them")
	case c.NArg() == 0:
		return v, failed("name a draft to convert, or a folder; - is standard input")
	}
	if err := writable(v.to); err != nil {
		return v, err
	}
	if clash != "" && c.String("format") != "json" { // which has standard error to itself
		p.say(c, "%s", clash)
	}
	if err := drawingOf(c, v.to, &v.options); err != nil {
		return v, err
	}
	if err := p.notText(v.to, v.output); err != nil && v.folder.path == "" {
		return v, err
	}
	v.reader, err = p.reader(c)
	return v, err
}

// liftsOf says where lifts are to come from. --treadles by itself asks for a tie-up.
func liftsOf(c *cli.Context) (string, error) {
	lifts := c.String("lifts")
	if way := liftWay(lifts); way != "" && way != lifts {
		return "", failed("--lifts takes plan, tieup or keep, not %s; is --lifts %s meant?", wording.Quote(lifts), way)
	}
	switch {
	case !c.IsSet("treadles"):
	case c.Int("treadles") < 1:
		return "", failed("--treadles takes a number from 1 up, not %d", c.Int("treadles"))
	case !c.IsSet("lifts"):
		return "tieup", nil
	case lifts != "tieup":
		return "", failed("--treadles goes with --lifts tieup, not with --lifts %s; leave one of the two out", wording.Plain(lifts, 60))
	}
	return lifts, nil
}

// liftWay is what --lifts takes for a word that weavers have for it, "" for none.
func liftWay(word string) string {
	switch spelling.Fold(word) {
	case "plan", "lift", "lifts", "lift plan", "liftplan", "dobby":
		return "plan"
	case "tie", "tieup", "tie up", "treadle", "treadles":
		return "tieup"
	}
	return ""
}

// writable is the error for a format that cannot be written; "" is the draft's own.
// What is no format but a kind of lifts is meant for another flag.
func writable(to string) error {
	if to == "" {
		return nil
	}
	err := formats.CanWrite(to)
	switch way := liftWay(to); {
	case err == nil:
		return nil
	case way != "":
		return failed("%s; where lifts come from is what --lifts %s says", err, way)
	}
	return failed("%s", err)
}

// choices makes sure that flags which take one of a few words have one of them.
func choices(c *cli.Context, flags map[string][]string) error {
	for _, f := range c.Command.Flags {
		name := f.Names()[0]
		words, listed := flags[name]
		if !listed || !c.IsSet(name) {
			continue
		}
		said := c.String(name)
		if !slices.Contains(words, said) {
			return failed("--%s takes %s, not %s", name, wording.Either(words), wording.Quote(said))
		}
	}
	return nil
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
	met := p.inputs(c, finder(c))
	list := collection.Outside(met.Inputs, v.folder.path)
	if len(list) > 1 && v.folder.path == "" {
		return failed("several files are named; --out-dir says which folder the results go into")
	}
	report := lossReport{json: c.String("format") == "json", to: p.err, complain: p.complain}
	p.drafts = list
	bar := p.bar(c, len(list), "converting")
	status := statusFine
	for _, problem := range met.Problems {
		status = statusFailed
		report.missed(problem)
	}
	collection.Each(list, workers, v.convert, func(in collection.Input, r converted) bool {
		defer bar.step()
		if !r.none {
			met.saw(in)
			status = max(status, p.convertedOne(&v, &report, in, r))
		}
		return true
	})
	bar.done()
	for _, problem := range p.checkEmpty(c, met) {
		status = statusFailed
		report.missed(problem)
	}
	report.close()
	if status != statusFine {
		return exit{status: status}
	}
	return nil
}

// convertedOne writes what came of a file, tells what was lost of it, and says
// what that has the run end with.
func (p *program) convertedOne(v *conversion, report *lossReport, in collection.Input, r converted) (status int) {
	path, err := v.output, r.err
	if err == nil && v.folder.path != "" {
		path, err = v.folder.pathFor(in, "."+r.to)
	}
	if err == nil {
		write := p.write
		if r.to == "txt" {
			write = p.writeForPeople
		}
		err = write(path, r.text, v.replace)
	}
	report.add(in.Path, path, r.to, r.lost, err)
	var e exit
	if errors.As(err, &e) {
		return e.status
	}
	return statusFine
}

// converted is what came of one file.
type converted struct {
	to   string // the format
	text []byte
	lost []string
	none bool // it is no draft, and not called like one
	err  error
}

// convert converts a file. A result that is a draft is read again, to make sure
// that it weaves the same cloth.
func (v *conversion) convert(in collection.Input) converted {
	doc, err := readDraft(v.reader, in)
	if doc == nil {
		return converted{to: v.to, none: err == nil, err: err}
	}
	to := cmp.Or(v.to, doc.Format)
	text, lost, err := v.written(to, doc)
	return converted{to: to, text: text, lost: lost, err: err}
}

// written is a draft in a format. The error begins with the path.
func (v *conversion) written(to string, doc *schema.Document) (text []byte, lost []string, err error) {
	path := doc.Source.Path
	turned, gone, err := v.turned(doc.Draft)
	if err != nil {
		return nil, nil, notConverted(path, "not converted: "+err.Error())
	}
	draft, err := v.relift(turned)
	if err != nil {
		return nil, nil, notConverted(path, "not converted: "+err.Error())
	}
	text, lost, err = formats.Write(to, draft, v.options)
	lost = append(gone, lost...)
	drawn := slices.Contains(formats.Drawings(), to)
	if !drawn || doc.Partial {
		lost = append(doc.Unread(), lost...)
	}
	switch {
	case err != nil:
		return nil, nil, failed("%s: %s", shown(path), err)
	case v.strict && len(lost) > 0:
		return nil, lost, notConverted(path, "not converted, since it would lose what is listed")
	case !drawn && !sameCloth(turned, text):
		return nil, nil, failed("%s: not converted, since the result would weave another cloth; that is a fault of fettle: please report it with the draft", shown(path))
	}
	return text, lost, nil
}

// notConverted ends a run with status 1 for a draft that was left as it is.
func notConverted(path, why string) error {
	at := placed{path: path, message: why}
	return exit{status: statusFound, message: at.Error(), cause: at}
}

// turnOf returns the one flag that turns the cloth, "" for none.
func turnOf(c *cli.Context) (string, error) {
	turn := ""
	for _, name := range []string{"turn", "face-down", "lift-rest"} {
		switch {
		case !c.Bool(name):
		case turn != "":
			return "", failed("--%s and --%s don't go together; run convert once for each", turn, name)
		default:
			turn = name
		}
	}
	return turn, nil
}

// turned turns the cloth as asked, and lists what doesn't go along.
func (v *conversion) turned(d *schema.Draft) (out *schema.Draft, lost []string, err error) {
	switch v.turn {
	case "turn":
		return cloth.Turned(d)
	case "face-down":
		return cloth.FaceDown(d)
	case "lift-rest":
		out, err = cloth.LiftRest(d)
		return out, nil, err
	}
	return d, nil, nil
}

// relift has the lifts come from where they are asked to.
func (v *conversion) relift(d *schema.Draft) (*schema.Draft, error) {
	var err error
	switch v.lifts {
	case "plan":
		if d, err = cloth.WithLiftPlan(d); err != nil {
			return nil, err
		}
	case "tieup":
		if d, err = cloth.WithTreadles(d, v.treadles); err != nil {
			return nil, err
		}
	}
	if v.shed != schema.ShedUnstated {
		return cloth.WithShed(d, v.shed)
	}
	return d, nil
}

// sameCloth says whether a result, read again, weaves the same cloth.
func sameCloth(before *schema.Draft, text []byte) bool {
	after := formats.Read("", text)
	return after.Draft != nil && cloth.Same(before, after.Draft)
}
