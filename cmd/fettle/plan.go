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
		Usage:     "write a dressing sheet: warp, sleying, heddles, threading, lifts, yarn",
		ArgsUsage: "DRAFT...",
		UsageText: "fettle plan towel.wif\nfettle plan towel.wif --finished-length '2.4 m' --sett 20/in --output towel.txt\nfettle plan towel.wif --output towel.pdf\nfettle plan towel.wif --format json\nfettle plan towel.wif --format wif --output loom.wif\nfettle plan drafts --format pdf --out-dir sheets\nfettle plan --total drafts --copies 8 --format csv\n\n" +
			"Loom, reed, heddles, yarn and project come from the nearest fettle.ini. Project flags override it.\n" +
			"--format wif writes the whole warp and every pick as one draft with a lift plan, for the loom's computer.\n" +
			"Ends keep their numbers from the draft. If you read drafts from the left, use --end1 left.\n" +
			"Then end 1 hangs at the left edge of the loom, and the cloth is the mirror image.\n" +
			"The sheet says what the loom, the heddles or the yarn lack; the exit status is still 0.",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "format", Usage: "write `FORM`: text, html, pdf, json or wif; with --total text, json or csv", Value: "text", DefaultText: "from the extension of the output, otherwise text"},
			outputFlag(), folderFlag(), replaceFlag(), loomFlag(),
			&cli.BoolFlag{Name: "total", Usage: "list the yarn for all drafts together, against the stock"},
			&cli.IntFlag{Name: "copies", Usage: "with --total: weave each draft `N` times, each with a warp of its own", Value: 1},
			&cli.StringFlag{Name: "end1", Usage: "hang end 1 at this `EDGE` of the loom: right or left", Value: "right"},
			&cli.StringFlag{Name: "start", Usage: "start threading at this `PLACE`: right, left or centre", DefaultText: "at end 1"},
			&cli.StringFlag{Name: "group", Usage: "thread at most `N` ends at a time, or groups of these sizes: 14,12,12", DefaultText: "12"},
			&cli.StringFlag{Name: "page", Usage: "html and pdf: use this `PAPER`: a4, letter, legal or a3", Value: "a4"},
			&cli.StringFlag{Name: "k", Usage: "use `K` in Ashenhurst's formula for the closest sett, up to 0.95 for cotton", DefaultText: "0.84 for woollen counts, 0.92 for cotton and linen, otherwise 0.9"},
			excludeFlag(), emptyFlag(), encodingFlag(), maxSizeFlag(),
		}, projectFlags()...),
		Action: p.runPlan,
	}
}

// projectKeys returns the keys of [project]. Each has a flag.
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
		help := projectHelp()[k.Name]
		flags = append(flags, &cli.StringFlag{
			Name: flagName(k.Name), Category: "Project (overrides fettle.ini):", Usage: help.usage, DefaultText: help.byDefault,
		})
	}
	return flags
}

// flagHelp is the help of a flag, with its default if fettle.ini doesn't state the key.
type flagHelp struct{ usage, byDefault string }

func projectHelp() map[string]flagHelp {
	return map[string]flagHelp{
		"reed":               {"use the reed called `NAME`", "the one that suits the sett best"},
		"sett":               {"set ends at `DENSITY`, such as 20/in, 20 epi or 8/cm", "the draft's spacing"},
		"picks":              {"weave picks at `DENSITY`, such as 18/in, 18 ppi or 7/cm", "the draft's spacing"},
		"finished length":    {"weave each item to `LENGTH`, washed, such as 2.4 m", "none"},
		"finished width":     {"weave each item to this `WIDTH`, washed, such as 48 cm", "none"},
		"items":              {"weave `N` items on this warp", "1"},
		"picks per item":     {"weave each item to `N` picks", "from the finished length"},
		"repeats per item":   {"weave each item to `N` whole repeats of the draft", "from the finished length"},
		"hem":                {"add `LENGTH` for both hems of each item together, washed", "0 cm"},
		"hem picks":          {"weave hems at `DENSITY` picks, such as 20/in", "as picks"},
		"hem weave":          {"weave hems in this `WEAVE`: draft or plain", "draft"},
		"each item":          {"begin items at pick 1 of the draft, or run the draft on; `WHERE`: restart or continue", "restart"},
		"fringe":             {"leave `LENGTH` of unwoven warp for each item, half at each end", "0 cm"},
		"sample":             {"weave a sample of `LENGTH` first, washed", "0 cm"},
		"cut off sample":     {"cut the sample off and tie the warp on again; `ANSWER`: yes or no", "no"},
		"re-tie":             {"add `LENGTH` of warp for tying on again after the sample", "25 cm"},
		"loom waste":         {"allow `LENGTH` of warp for loom waste", "0 cm"},
		"take-up":            {"allow for `PERCENT` of the warp lost to interlacing", "0 %"},
		"weft take-up":       {"allow `PERCENT` extra weft for interlacing", "0 %"},
		"shrinkage":          {"allow for `PERCENT` lost in washing, both ways", "0 %"},
		"shrinkage warp":     {"allow for `PERCENT` of the length lost in washing", "shrinkage"},
		"shrinkage weft":     {"allow for `PERCENT` of the width lost in washing", "shrinkage"},
		"draw-in":            {"allow for `PERCENT` of the reed width lost in weaving", "0 %"},
		"repeats":            {"repeat the draft `N` times across", "fill the finished width, otherwise 1"},
		"balance":            {"add the first `N` ends again at the end", "0"},
		"wrap":               {"count floats across the edges; `ANSWER`: yes or no", "when the draft is repeated"},
		"floating selvedges": {"treat outermost ends on no shaft as floating selvedges; `ANSWER`: yes or no", "no"},
		"bout":               {"wind `N` ends at a time", "half the warp"},
		"dressing":           {"dress the loom in this `ORDER`: front to back or back to front", "front to back"},
	}
}

// projectGiven returns the [project] values given as flags.
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
	if c.Bool("total") {
		return p.runTotal(c)
	}
	if c.IsSet("copies") {
		return failed("--copies works only with --total; add it, or leave --copies out")
	}
	if err := choices(c, map[string][]string{"format": {"text", "html", "pdf", "json", "wif"}, "end1": {"right", "left"},
		"start": {"right", "left", "centre"}, "page": {"a4", "letter", "legal", "a3"}}); err != nil {
		return err
	}
	form, clash, err := form(c, "format", sheetExtensions())
	if err != nil {
		return err
	}
	several := c.String("out-dir") != ""
	if err := p.notText(form, c.String("output")); err != nil && !several {
		return err
	}
	if clash != "" {
		p.say(c, "%s", clash)
	}
	options, o, err := planOptions(c)
	if err != nil {
		return err
	}
	sheets := planSheets{form: form, options: options, o: o}
	if several {
		return p.planEach(c, sheets)
	}
	if c.NArg() > 1 {
		return failed("several drafts need --out-dir, the folder for the sheets; with --total fettle lists the yarn for all")
	}
	doc, err := p.oneDraft(c)
	if err != nil {
		return err
	}
	setup, err := p.setupWithFlags(c, doc)
	if err != nil {
		return err
	}
	return p.writePlan(c, doc, setup, sheets, c.String("output"))
}

// planSheets says which sheets to write.
type planSheets struct {
	form    string
	options dressing.Options
	o       sheet.Options
}

// writePlan writes the sheet of a draft.
func (p *program) writePlan(c *cli.Context, doc *schema.Document, setup *schema.Setup, sheets planSheets, output string) error {
	options := sheets.options
	options.Path = shown(doc.Source.Path)
	if sheets.form == "wif" {
		return p.writeWork(c, doc, dressing.Of(doc.Draft, setup), output)
	}
	plan, err := dressing.Of(doc.Draft, setup).Plan(options, rules.Words)
	if err != nil {
		return failed("%s", placed{path: doc.Source.Path, message: err.Error()})
	}
	text, unset, err := sheetIn(sheets.form, plan, sheets.o)
	if err != nil {
		return failed("%s", err)
	}
	if len(doc.Findings) > 0 {
		p.say(c, "%s: the file has faults; 'fettle lint' shows them", shown(doc.Source.Path))
	}
	if err := p.writeAs(sheets.form, output, text, c.Bool("overwrite")); err != nil {
		return err
	}
	if len(unset) > 0 {
		p.say(c, "%s: the PDF can't show these characters: %s; --format html can", doc.Source.Path, diagram.ListUnset(unset))
	}
	return notWoven(doc.Source.Path, plan)
}

// writeWork writes the whole warp and all picks as one draft, for a computer-controlled
// loom.
func (p *program) writeWork(c *cli.Context, doc *schema.Document, figures *dressing.Figures, output string) error {
	work, err := figures.WholeWork()
	if err != nil {
		return failed("%s", placed{path: doc.Source.Path, message: err.Error()})
	}
	text, lost, err := formats.Write("wif", work, formats.Options{})
	if err != nil {
		return failed("%s", placed{path: doc.Source.Path, message: err.Error()})
	}
	p.sayLost(c, doc.Source.Path, lost)
	return p.write(output, text, c.Bool("overwrite"))
}

// notWoven returns an error, with status 1, if the draft can't be woven. The sheet is
// written anyway.
func notWoven(path string, plan *dressing.Plan) error {
	if len(plan.Faults) == 0 {
		return nil
	}
	var lines []string
	for _, f := range plan.Faults {
		lines = append(lines, fmt.Sprintf("%s: this draft can't be woven: %s", shown(path), f.Text))
	}
	return exit{status: statusFound, message: strings.Join(lines, "\n")}
}

// setupWithFlags returns the draft's settings, overridden by project flags.
func (p *program) setupWithFlags(c *cli.Context, doc *schema.Document) (*schema.Setup, error) {
	finder := planFinder(c)
	p.reads, p.finders = append(p.reads, doc.Source.Path), append(p.finders, finder)
	p.sayMisnamed(c, finder, []collection.Input{{Path: doc.Source.Path}})
	setup, err := setupOf(finder, doc)
	p.sayForeign(c, finder)
	return setup, err
}

// planFinder returns a finder for settings that project flags override.
func planFinder(c *cli.Context) *settings.Finder {
	return settings.NewFinder(settings.Options{
		ConfigFile: c.String("config"), LoomFile: c.String("loom"), Flags: projectGiven(c)})
}

// setupOf returns the settings of a draft. Mistakes in them are errors.
func setupOf(finder *settings.Finder, doc *schema.Document) (*schema.Setup, error) {
	found, wrong, err := finder.ForDraft(doc.Source.Path, doc.Draft.Settings)
	if err == nil && len(wrong) > 0 {
		err = wrong.Placed(doc)
	}
	if err != nil {
		return nil, failed("%s", err)
	}
	return &found.Setup, nil
}

// sheetIn returns the dressing sheet in a format, and the characters it can't show.
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

// planOptions reads the flags for the plan and the layout of its sheet.
func planOptions(c *cli.Context) (options dressing.Options, o sheet.Options, err error) {
	o.End1Left = c.String("end1") == "left"
	options.Start = startOf(c.String("start"), o.End1Left)
	o.Paper = papers()[c.String("page")]
	if options.Group, err = groupSizes(c.String("group")); err != nil {
		return options, o, err
	}
	k := c.String("k")
	if k == "" {
		return options, o, nil
	}
	if options.K, err = measure.Number(k); err != nil || options.K < 0.1 || options.K > 10 {
		return options, o, failed("--k must be from 0.1 to 10, not %s; use 0.9 for firm yarns", wording.Quote(k))
	}
	return options, o, nil
}

// groupSizes reads --group: one number of ends, or several with commas between them.
func groupSizes(list string) (sizes []int, err error) {
	if list == "" {
		return nil, nil
	}
	for text := range strings.SplitSeq(list, ",") {
		n, err := strconv.Atoi(strings.TrimSpace(text))
		if err != nil || n < 0 || n > dressing.MostEnds {
			return nil, failed("--group must be from 0 to %d ends, or a list like 14,12,12, not %s", dressing.MostEnds, wording.Quote(list))
		}
		sizes = append(sizes, n)
	}
	return sizes, nil
}

// startOf converts the side of the loom where threading starts into the plan's terms. The
// plan counts from end 1, which is at the right unless end1Left is set.
func startOf(side string, end1Left bool) dressing.Start {
	switch {
	case side == "centre":
		return dressing.FromCentre
	case side == "", (side == "left") == end1Left:
		return dressing.FromRight
	}
	return dressing.FromLeft
}

const noEnds = "the draft has no ends to dress; get a complete copy, or add the threading"

// oneDraft reads the draft that the arguments name.
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
		return nil, failed("%s", placed{path: doc.Source.Path, message: noEnds})
	}
	return doc, nil
}
