package main

import (
	"github.com/urfave/cli/v2"

	"fettle/schema/cloth"
	"fettle/schema/wording"
)

func (p *program) info() *cli.Command {
	return &cli.Command{
		Name:      "info",
		Usage:     "describe a draft: threads, shafts, colors, floats, repeats",
		ArgsUsage: "DRAFT...",
		UsageText: "fettle info towel.wif\nfettle info drafts --format json\n\n" +
			"The facts come from the draft alone. From fettle.ini fettle uses only exclude.\n" +
			"'fettle lint' uses all of it: wrap, floating selvedges and repeats can change floats and edges there.\nThe line cloth is a fingerprint of the interlacement. Two drafts with the same fingerprint weave the same cloth,\nthread for thread, even if their loom, tie-up or colors differ.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "format", Usage: "print `FORM`: text or json", Value: "text"},
			excludeFlag(), emptyFlag(), encodingFlag(), maxSizeFlag(),
		},
		Action: p.runInfo,
	}
}

func (p *program) runInfo(c *cli.Context) error {
	if err := choices(c, map[string][]string{"format": {"text", "json"}}); err != nil {
		return err
	}
	if c.NArg() == 0 {
		return failed("name a draft or a folder; - is standard input")
	}
	reader, err := p.reader(c)
	if err != nil {
		return err
	}
	settings := finder(c)
	listing := p.found(c, settings)
	list, whole := facts{}, true
	missed := func(err error) {
		list.all, whole = append(list.all, failureOf(err)), false
	}
	for _, problem := range listing.Problems { // already printed
		missed(problem)
	}
	if unsure := settings.Unsure(); len(unsure) > 0 {
		p.complain(unsure)
		missed(unsure)
	}
	for _, in := range listing.Inputs {
		doc, err := readDraft(reader, in)
		if err != nil || doc != nil {
			listing.saw(in)
		}
		switch {
		case err != nil:
			p.complain(err)
			missed(err)
		case doc != nil:
			f := cloth.FactsOf(doc.Draft)
			f.Path, f.Format = shown(in.Path), doc.Format
			list.add(f)
			if doc.Partial {
				p.say(c, "%s: part of the weave is missing; 'fettle lint' shows which", shown(in.Path))
			}
		}
	}
	for _, problem := range p.checkEmpty(c, listing) {
		missed(problem)
	}
	if err := p.printFacts(c.String("format"), &list); err != nil {
		return err
	}
	if !whole {
		return exit{status: statusFailed}
	}
	return nil
}

// facts holds the facts about several drafts.
type facts struct {
	known []cloth.Facts
	all   []any // the same, with a failure in place of each unreadable file
}

func (x *facts) add(f cloth.Facts) {
	x.known, x.all = append(x.known, f), append(x.all, f)
}

func (p *program) printFacts(form string, list *facts) error {
	if form == "json" {
		text, err := wording.JSON(append([]any{}, list.all...), "", "  ")
		if err != nil {
			return failed("can't write the facts as JSON: %s", err)
		}
		return p.print("%s\n", text)
	}
	for i, f := range list.known {
		if i > 0 {
			if err := p.print("\n"); err != nil {
				return err
			}
		}
		if err := p.print("%s", f.String()); err != nil {
			return err
		}
	}
	return nil
}
