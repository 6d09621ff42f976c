package main

import (
	"github.com/urfave/cli/v2"

	"fettle/formats/sheet"
	"fettle/lint/collection"
	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/wording"
)

// planEach writes the sheet of each draft to the folder of --out-dir.
func (p *program) planEach(c *cli.Context, sheets planSheets) error {
	if c.IsSet("output") {
		return failed("--output and --out-dir can't be combined; use --output for one draft, --out-dir for several")
	}
	folder := outputFolder{path: c.String("out-dir")}
	extension := map[string]string{"text": ".txt"}[sheets.form]
	if extension == "" {
		extension = "." + sheets.form
	}
	return p.eachPlanned(c, folder.path, func(in collection.Input, doc *schema.Document, setup *schema.Setup) error {
		path, err := folder.pathFor(in, extension)
		if err != nil {
			return err
		}
		return p.writePlan(c, doc, setup, sheets, path)
	})
}

// eachPlanned calls do for each draft that the arguments name, except those in the folder for
// the results. It reports errors and goes on. The error that it returns has the worst status, and
// as its cause the first error with that status.
func (p *program) eachPlanned(c *cli.Context, results string, do func(collection.Input, *schema.Document, *schema.Setup) error) error {
	if c.NArg() == 0 {
		return failed("name a draft or a folder; - is standard input")
	}
	reader, err := p.reader(c)
	if err != nil {
		return err
	}
	finder := planFinder(c)
	listing := p.inputs(c, finder)
	list := collection.Outside(listing.Inputs, results)
	p.drafts = list
	status := statusFine
	var worst error // the first of the worst status
	fail := func(err error) {
		if statusOf(err) > status {
			status, worst = statusOf(err), err
		}
	}
	for _, problem := range listing.Problems {
		fail(problem)
	}
	for _, in := range list {
		doc, err := readDraft(reader, in)
		if doc == nil && err == nil {
			continue // not a draft
		}
		listing.saw(in)
		if err == nil && doc.Draft.Ends() == 0 {
			err = failed("%s", placed{path: in.Path, message: noEnds})
		}
		var setup *schema.Setup
		if err == nil {
			setup, err = setupOf(finder, doc)
		}
		if err == nil {
			err = do(in, doc, setup)
		}
		if err != nil {
			p.complain(err)
			fail(err)
		}
	}
	p.sayForeign(c, finder)
	for _, problem := range p.checkEmpty(c, listing) {
		fail(problem)
	}
	if status != statusFine {
		return exit{status: status, cause: worst}
	}
	return nil
}

// mostCopies limits --copies.
const mostCopies = 100_000

// runTotal lists the yarn for all drafts together.
func (p *program) runTotal(c *cli.Context) error {
	if err := choices(c, map[string][]string{"format": {"text", "json", "csv"}}); err != nil {
		return err
	}
	form, clash, err := form(c, "format", map[string]string{".txt": "text", ".json": "json", ".csv": "csv"})
	if err != nil {
		return err
	}
	if clash != "" {
		p.say(c, "%s", clash)
	}
	copies := c.Int("copies")
	switch {
	case copies < 1 || copies > mostCopies:
		return failed("--copies must be from 1 to %d, not %d", mostCopies, copies)
	case c.String("out-dir") != "":
		return failed("--total writes one list; use --output for its file, not --out-dir")
	}
	order := dressing.NewOrder(copies)
	failure := p.eachPlanned(c, "", func(in collection.Input, doc *schema.Document, setup *schema.Setup) error {
		figures := dressing.Of(doc.Draft, setup)
		if err := order.Add(figures, shown(in.Path)); err != nil {
			return failed("%s", placed{path: in.Path, message: err.Error()})
		}
		if keys := figures.UnknownYarn(); len(keys) > 0 {
			p.say(c, "%s: the amount of yarn is unknown; state %s", shown(in.Path), wording.Listed(keys))
		}
		if len(figures.Faults()) > 0 {
			return notConverted(in.Path, "this draft can't be woven as it is; 'fettle plan' says why")
		}
		return nil
	})
	if failure != nil && statusOf(failure) == statusFailed {
		return exit{status: statusFailed, message: "no list written, because it would lack a draft; correct the errors above", cause: failure}
	}
	for _, name := range order.StatedTwice() {
		p.say(c, "the drafts state the yarn %s with another grist or stock, so it appears once for each; state it alike in fettle.ini", wording.Quote(name))
	}
	var text []byte
	switch form {
	case "json":
		text, err = sheet.OrderJSON(order)
	case "csv":
		text, err = sheet.OrderCSV(order)
	default:
		text = sheet.OrderText(order)
	}
	if err != nil {
		return failed("%s", err)
	}
	if err := p.writeAs(form, c.String("output"), text, c.Bool("overwrite")); err != nil {
		return err
	}
	return failure
}
