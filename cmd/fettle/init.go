package main

import (
	"github.com/urfave/cli/v2"

	"fettle/schema/settings"
)

func (p *program) init() *cli.Command {
	return &cli.Command{
		Name:      "init",
		Usage:     "begin a fettle.ini in this folder, for your loom, reed, yarn and project",
		UsageText: "fettle init\nfettle init --output looms/studio.ini",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write to `FILE`; - is standard output", Value: settings.FileName},
			replaceFlag,
		},
		Action: func(c *cli.Context) error {
			if c.NArg() > 0 {
				return failed("init takes no paths; --output says where to write")
			}
			path := c.String("output")
			if err := p.write(path, []byte(settings.Starter()), c.Bool("overwrite")); err != nil {
				return err
			}
			if path != "-" {
				p.say(c, "%s is written. Open it in an editor, take the # away before the lines that are so for you, and run: fettle lint", path)
			}
			return nil
		},
	}
}
