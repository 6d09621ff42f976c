package main

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"fettle/formats"
	"fettle/formats/diagram"
	"fettle/formats/sheet"
	"fettle/lint/collection"
	"fettle/lint/rules"
	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/measure"
	"fettle/schema/settings"
	"fettle/schema/wording"
)

func (p *program) plan() *cli.Command {
	return &cli.Command{
		Name:      "plan",
		Usage:     "write the dressing sheet: warp, sleying, heddles, threading, lifts, yarn",
		ArgsUsage: "DRAFT",
		UsageText: "fettle plan towel.wif\nfettle plan towel.wif --finished-length '2.4 m' --sett 20/in --output towel.txt\nfettle plan towel.wif --output towel.pdf\nfettle plan towel.wif --format json\nfettle plan towel.wif --format wif --output loom.wif\n\n" +
			"--format wif writes the whole warp and every pick as one draft with a lift plan, for the loom's computer.\nLoom, reed, heddles, yarn and project come from the nearest fettle.ini; a project value given as a flag overrides it.\n" +
			"Ends keep the numbers they have in the draft. --end1 left hangs end 1 at the left edge of the loom, for those who read drafts from the left: the cloth is then the mirror image of the one with end 1 at the right.\n" +
			"What the loom, the heddles or the yarn lack is told on the sheet and leaves the exit status at 0.",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "format", Usage: "write in `FORM`: text, html, pdf, json or wif", Value: "text", DefaultText: "what the ending of the output says, else text"},
			outputFlag(), replaceFlag(), loomFlag(),
			&cli.StringFlag{Name: "end1", Usage: "hang end 1 at this `EDGE` of the loom: right or left", Value: "right"},
			&cli.StringFlag{Name: "start", Usage: "begin threading `THERE`: right, left or centre", DefaultText: "where end 1 is"},
			&cli.StringFlag{Name: "group", Usage: "thread at most `N` ends at a time, or groups of these sizes: 14,12,12", DefaultText: "12"},
			&cli.StringFlag{Name: "page", Usage: "html and pdf: set out for `PAPER`: a4, letter, legal or a3", Value: "a4"},
			&cli.StringFlag{Name: "k", Usage: "take `K` for Ashenhurst's rule of the closest sett: 0.84 for woollen yarn, up to 0.95 for cotton", Value: wording.Decimal(dressing.UsualK, 2)},
			encodingFlag(), maxSizeFlag(),
		}, projectFlags()...),
		Action: p.runPlan,
	}
}

// projectKeys are the keys of [project], each with a flag of its own.
func projectKeys() []settings.Key {
	for _, s := range settings.Known() {
		if s.Name == "project" {
			return s.Keys
		}
	}
	return nil
}

func flagName(key string) string { return strings.ReplaceAll(key, " ", "-") }

func projectFlags() []cli.Flag {
	var flags []cli.Flag
	for _, k := range projectKeys() {
		flags = append(flags, &cli.StringFlag{
			Name: flagName(k.Name), Category: "Project:", Usage: k.Description + ": `VALUE` like '" + k.Example + "'",
		})
	}
	return flags
}

// projectGiven is the project values that were given as flags.
func projectGiven(c *cli.Context) []schema.Setting {
	var list []schema.Setting
	for _, k := range projectKeys() {
		if name := flagName(k.Name); c.IsSet(name) {
			list = append(list, schema.Setting{Section: "project", Key: k.Name, Value: c.String(name)})
		}
	}
	return list
}

func (p *program) runPlan(c *cli.Context) error {
	if err := choices(c, map[string][]string{"format": {"text", "html", "pdf", "json", "wif"}, "end1": {"right", "left"},
		"start": {"right", "left", "centre"}, "page": {"a4", "letter", "legal", "a3"}}); err != nil {
		return err
	}
	form, clash, err := form(c, "format", sheetEndings())
	if err != nil {
		return err
	}
	if err := p.notText(form, c.String("output")); err != nil {
		return err
	}
	if clash != "" {
		p.say(c, "%s", clash)
	}
	options, o, err := planOptions(c)
	if err != nil {
		return err
	}
	doc, err := p.oneDraft(c)
	if err != nil {
		return err
	}
	setup, err := p.setupWithFlags(c, doc)
	if err != nil {
		return err
	}
	options.Path = shown(doc.Source.Path)
	if form == "wif" {
		return p.writeWork(c, doc, dressing.Of(doc.Draft, setup))
	}
	plan, err := dressing.Of(doc.Draft, setup).Plan(options, rules.Words)
	if err != nil {
		return failed("%s", placed{path: doc.Source.Path, message: err.Error()})
	}
	text, unset, err := sheetIn(form, plan, o)
	if err != nil {
		return failed("%s", err)
	}
	if len(doc.Findings) > 0 {
		p.say(c, "%s: something was not right in the file; 'fettle lint' shows what", shown(doc.Source.Path))
	}
	write := p.write
	if form == "text" {
		write = p.writeForPeople
	}
	if err := write(c.String("output"), text, c.Bool("overwrite")); err != nil {
		return err
	}
	if len(unset) > 0 {
		p.say(c, "%s: the PDF can't show these characters: %s; --format html can", doc.Source.Path, diagram.ListUnset(unset))
	}
	return notWoven(doc.Source.Path, plan)
}

// writeWork writes the whole warp and every pick as one draft, for the loom's computer.
func (p *program) writeWork(c *cli.Context, doc *schema.Document, figures *dressing.Figures) error {
	if many, refused := figures.TooManyEnds(); refused {
		return failed("%s", placed{path: doc.Source.Path, message: many.Error()})
	}
	work, err := figures.WholeWork()
	if err != nil {
		return failed("%s", placed{path: doc.Source.Path, message: err.Error()})
	}
	text, _, err := formats.Write("wif", work, formats.Options{})
	if err != nil {
		return failed("%s", placed{path: doc.Source.Path, message: err.Error()})
	}
	return p.write(c.String("output"), text, c.Bool("overwrite"))
}

// notWoven ends the run with status 1 where the sheet, which is written all the
// same, is of a draft that cannot be woven.
func notWoven(path string, plan *dressing.Plan) error {
	if len(plan.Faults) == 0 {
		return nil
	}
	var lines []string
	for _, f := range plan.Faults {
		lines = append(lines, fmt.Sprintf("%s: this cannot be woven as it stands: %s", shown(path), f.Text))
	}
	return exit{status: statusFound, message: strings.Join(lines, "\n")}
}

// setupWithFlags is the draft's settings, with the project values that were
// given as flags.
func (p *program) setupWithFlags(c *cli.Context, doc *schema.Document) (*schema.Setup, error) {
	finder := settings.NewFinder(settings.Options{
		ConfigFile: c.String("config"), LoomFile: c.String("loom"), Flags: projectGiven(c)})
	p.reads, p.finders = append(p.reads, doc.Source.Path), append(p.finders, finder)
	p.sayMisnamed(c, finder, []collection.Input{{Path: doc.Source.Path}})
	found, wrong, err := finder.ForDraft(doc.Source.Path, doc.Draft.Settings)
	p.sayForeign(c, finder)
	if err == nil && len(wrong) > 0 {
		err = wrong.Placed(doc)
	}
	if err != nil {
		return nil, failed("%s", err)
	}
	return &found.Setup, nil
}

// sheetIn is the dressing sheet in a form, with the characters that it cannot show.
func sheetIn(form string, plan *dressing.Plan, o sheet.Options) (text []byte, unset []rune, err error) {
	var b bytes.Buffer
	switch form {
	case "json":
		text, err = sheet.JSON(plan, o)
		return text, nil, err
	case "html":
		err = sheet.HTML(&b, plan, o)
		return b.Bytes(), nil, err
	case "pdf":
		unset, err = sheet.PDF(&b, plan, o)
		return b.Bytes(), unset, err
	}
	return sheet.Text(plan, o), nil, nil
}

// planOptions reads the flags that say how the plan and its sheet are laid out.
func planOptions(c *cli.Context) (options dressing.Options, o sheet.Options, err error) {
	o.End1Left = c.String("end1") == "left"
	options.Start = startOf(c.String("start"), o.End1Left)
	o.Paper = papers()[c.String("page")]
	if options.Group, err = groupSizes(c.String("group")); err != nil {
		return options, o, err
	}
	k := c.String("k")
	if options.K, err = measure.Number(k); err != nil || options.K < 0.1 || options.K > 10 {
		return options, o, failed("--k takes a number from 0.1 to 10, 0.9 for firm yarns, not %s", wording.Quote(k))
	}
	return options, o, nil
}

// groupSizes reads --group: a number of ends, or several with commas between.
func groupSizes(list string) (sizes []int, err error) {
	if list == "" {
		return nil, nil
	}
	for text := range strings.SplitSeq(list, ",") {
		n, err := strconv.Atoi(strings.TrimSpace(text))
		if err != nil || n < 0 || n > dressing.MostEnds {
			return nil, failed("--group takes numbers of ends from 0 to %d, like 14 or 14,12,12, not %s", dressing.MostEnds, wording.Quote(list))
		}
		sizes = append(sizes, n)
	}
	return sizes, nil
}

// startOf is where threading starts, by the side of the loom: the plan goes by
// end 1, which hangs at the right unless it was asked for at the left.
func startOf(side string, end1Left bool) dressing.Start {
	switch {
	case side == "centre":
		return dressing.FromCentre
	case side == "", (side == "left") == end1Left:
		return dressing.FromRight
	}
	return dressing.FromLeft
}

// oneDraft reads the one draft that is named.
func (p *program) oneDraft(c *cli.Context) (*schema.Document, error) {
	if c.NArg() != 1 {
		return nil, failed("name one draft; - is standard input")
	}
	reader, err := p.reader(c)
	if err != nil {
		return nil, err
	}
	doc, err := reader.Read(collection.Input{Path: c.Args().First()})
	if err != nil {
		return nil, failed("%s", err)
	}
	if doc.Draft == nil {
		f := doc.Findings[0]
		return nil, failed("%s", placed{doc.Source.Path, doc.Source.Position(f.Span).Line, f.Message})
	}
	if doc.Draft.Ends() == 0 {
		return nil, failed("%s", placed{path: doc.Source.Path, message: "the draft has no ends, so there is nothing to dress; get the draft again, or write its threading in"})
	}
	return doc, nil
}
