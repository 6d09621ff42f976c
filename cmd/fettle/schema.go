package main

import (
	"strings"

	"github.com/urfave/cli/v2"

	"fettle/schema"
)

func (p *program) schema() *cli.Command {
	return &cli.Command{
		Name:      "schema",
		Usage:     "print the JSON Schema of what is read and written as JSON",
		ArgsUsage: "NAME",
		UsageText: "fettle schema draft\n\nNAME is " + strings.Join(schema.SchemaNames(), ", ") + ".",
		Action: func(c *cli.Context) error {
			if c.NArg() != 1 {
				return failed("name one schema: %s", strings.Join(schema.SchemaNames(), ", "))
			}
			text, err := schema.JSONSchema(c.Args().First())
			if err != nil {
				return failed("%s", err)
			}
			return p.print("%s", text)
		},
	}
}
