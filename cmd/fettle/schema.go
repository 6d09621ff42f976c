package main

import (
	"strings"

	"github.com/urfave/cli/v2"

	"fettle/schema/jsonschema"
)

func (p *program) schema() *cli.Command {
	return &cli.Command{
		Name:      "schema",
		Usage:     "print the JSON Schema of a file that fettle reads or writes",
		ArgsUsage: "NAME",
		UsageText: "fettle schema draft\n\nNAME is " + strings.Join(jsonschema.Names(), ", ") + ".",
		Action: func(c *cli.Context) error {
			if c.NArg() != 1 {
				return failed("name one schema: %s", strings.Join(jsonschema.Names(), ", "))
			}
			text, err := jsonschema.Text(c.Args().First())
			if err != nil {
				return failed("%s", err)
			}
			return p.print("%s", text)
		},
	}
}
