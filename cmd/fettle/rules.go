package main

import (
	"github.com/urfave/cli/v2"

	"fettle/lint"
	"fettle/lint/rules"
	"fettle/schema/wording"
)

func (p *program) rules() *cli.Command {
	return &cli.Command{
		Name:      "rules",
		Usage:     "list the rules or explain one",
		ArgsUsage: "[RULE]",
		UsageText: "fettle rules\nfettle rules cloth/long-float\nfettle rules --format markdown",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "format", Usage: "print `FORM`: text, json or markdown", Value: "text"},
		},
		Action: p.runRules,
	}
}

func (p *program) runRules(c *cli.Context) error {
	all := rules.All()
	if c.NArg() > 1 {
		return failed("name one rule, or none to list them all")
	}
	if c.NArg() == 1 {
		one, err := lint.Find(all, c.Args().First())
		if err != nil {
			return failed("%s", err)
		}
		all = []lint.Rule{*one}
	}
	text, err := lint.Describe(all, c.String("format"), c.NArg() == 1)
	if err != nil {
		return failed("%s", wording.Plain(err.Error(), 200))
	}
	return p.print("%s", text)
}
