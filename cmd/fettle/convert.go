package main

import (
	"errors"
	"fmt"
	"slices"

	"github.com/urfave/cli/v2"

	"fettle/formats"
	"fettle/lint/collection"
	"fettle/schema"
	"fettle/schema/cloth"
)

func (p *program) convert() *cli.Command {
	return &cli.Command{
		Name:      "convert",
		Usage:     "write drafts in another format, or for another kind of loom",
		ArgsUsage: "PATH...",
		UsageText: "fettle convert towel.wif --to json\nfettle convert towel.json --output towel.wif\nfettle convert drafts --to json --out-dir json\nfettle convert towel.wif --to wif --lifts plan --output dobby.wif\nfettle convert towel.wif --show yarn --output towel.pdf\n\nThe format of a file is told by its content. Into its own format a draft is put in canonical form.\nWhat the other format cannot hold is listed on standard error; --strict refuses instead.",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "to", Usage: "write `FORMAT`: " + formats.List(), DefaultText: "what the ending of the output says"},
			outputFlag(),
			folderFlag(),
			replaceFlag(),
			&cli.BoolFlag{Name: "strict", Usage: "refuse, with exit status 1, where anything would be lost"},
			&cli.StringFlag{Name: "format", Usage: "tell what is lost in `FORM`: text or json", Value: "text"},
			&cli.StringFlag{Name: "lifts", Usage: "have lifts come from `WHAT`: plan, tieup or keep", Value: "keep"},
			&cli.IntFlag{Name: "treadles", Usage: "with --lifts tieup, refuse where more than `N` treadles are needed", DefaultText: "any number"},
			&cli.StringFlag{Name: "shed", Usage: "write for a `SHED`: rising or sinking", DefaultText: "as it is"},
			&cli.StringFlag{Name: "eol", Usage: "end lines of the text format in `BREAK`: crlf or lf", Value: "crlf"},
			excludeFlag(), jobsFlag(), maxSizeFlag(),
		}, drawingFlags()...),
		Action: p.runConvert,
	}
}

// conversion is what a run of convert has been asked for.
type conversion struct {
	to, output      string
	places          places
	strict, replace bool
	lifts           string
	treadles        int
	shed            schema.Shed
	options         formats.Options
	reader          collection.Reader
}

func (p *program) conversionOf(c *cli.Context) (conversion, error) {
	to, clash := form(c, "to", draftEndings())
	if clash != "" && c.String("format") != "json" { // which has standard error to itself
		p.say(c, "%s", clash)
	}
	v := conversion{to: to, output: c.String("output"), places: places{folder: c.String("out-dir")}, strict: c.Bool("strict"),
		replace: c.Bool("overwrite"), lifts: c.String("lifts"), treadles: c.Int("treadles")}
	if err := choices(c, map[string][]string{"lifts": {"plan", "tieup", "keep"}, "shed": {"rising", "sinking"},
		"eol": {"crlf", "lf"}, "format": {"text", "json"}}); err != nil {
		return v, err
	}
	v.options.LF = c.String("eol") == "lf"
	v.shed = map[string]schema.Shed{"rising": schema.Rising, "sinking": schema.Sinking}[c.String("shed")]
	switch {
	case v.to == "":
		return v, failed("say which format to write with --to: %s; or name a file with --output that ends so", formats.List())
	case v.places.folder != "" && c.IsSet("output"):
		return v, failed("--output names one file and --out-dir a folder for many; give one of them")
	case c.IsSet("treadles") && (v.lifts != "tieup" || v.treadles < 1):
		return v, failed("--treadles takes a number from 1 up, and goes with --lifts tieup")
	case c.NArg() == 0:
		return v, failed("name a draft to convert, or a folder; - is standard input")
	}
	if err := formats.CanWrite(v.to); err != nil {
		return v, failed("%s", err)
	}
	if err := drawingOf(c, v.to, &v.options); err != nil {
		return v, err
	}
	if err := p.notText(v.to, v.output); err != nil && v.places.folder == "" {
		return v, err
	}
	var err error
	v.reader, err = p.reader(c)
	return v, err
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
			return failed("--%s takes %s, not %s", name, schema.Either(words), schema.Quote(said))
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
	list, whole := p.inputs(c, finder(c))
	if len(list) > 1 && v.places.folder == "" {
		return failed("several files are named; --out-dir says which folder the results go into")
	}
	report := lossReport{json: c.String("format") == "json", to: p.err, complain: p.complain}
	bar := p.bar(c, len(list), "converting")
	status := statusFine
	if !whole {
		status = statusFailed
	}
	collection.Each(list, workers, v.convert, func(in collection.Input, r converted) bool {
		defer bar.step()
		if !r.none {
			status = max(status, p.convertedOne(&v, &report, in, r))
		}
		return true
	})
	bar.done()
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
	if err == nil && v.places.folder != "" {
		path, err = v.places.of(in, "."+v.to)
	}
	if err == nil {
		err = p.write(path, r.text, v.replace)
	}
	report.add(in.Path, path, v.to, r.lost, err)
	var e exit
	if errors.As(err, &e) {
		return e.status
	}
	return statusFine
}

// converted is what came of one file.
type converted struct {
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
		return converted{none: err == nil, err: err}
	}
	draft, err := v.relift(doc.Draft)
	if err != nil {
		return converted{err: exit{statusFound, fmt.Sprintf("%s: not converted: %s", in.Path, err)}}
	}
	text, lost, err := formats.Write(v.to, draft, v.options)
	if !slices.Contains(formats.Drawings(), v.to) || doc.Partial {
		lost = append(doc.Unread(), lost...)
	}
	switch {
	case err != nil:
		return converted{err: failed("%s: %s", in.Path, err)}
	case v.strict && len(lost) > 0:
		return converted{lost: lost, err: exit{statusFound, fmt.Sprintf("%s: not converted, since it would lose what is listed", in.Path)}}
	case !slices.Contains(formats.Drawings(), v.to) && !sameCloth(doc.Draft, text):
		return converted{err: failed("%s: not converted, since the result would weave another cloth; that is a fault of fettle: please report it with the draft", in.Path)}
	}
	return converted{text: text, lost: lost}
}

// relift has the lifts come from where they are asked to.
func (v *conversion) relift(d *schema.Draft) (*schema.Draft, error) {
	var err error
	switch v.lifts {
	case "plan":
		d = cloth.WithLiftPlan(d)
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
