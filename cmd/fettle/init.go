package main

import (
	"path/filepath"

	"github.com/urfave/cli/v2"

	"fettle/schema/settings"
)

func (p *program) init() *cli.Command {
	return &cli.Command{
		Name:      "init",
		Usage:     "create a fettle.ini for your loom, reed, yarn and project",
		UsageText: "fettle init\nfettle init --output looms/studio.ini",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write to `FILE`; - is standard output", Value: settings.FileName},
			replaceFlag(),
		},
		Action: func(c *cli.Context) error {
			if c.NArg() > 0 {
				return failed("init takes no paths; choose the file with --output")
			}
			path := c.String("output")
			if err := p.write(path, []byte(settings.Starter()), c.Bool("overwrite")); err != nil {
				return err
			}
			switch {
			case path == "-":
			case filepath.Base(path) == settings.FileName:
				p.say(c, "%s created. Open it in a text editor, remove the # before the lines you need, and enter your values. Then run 'fettle lint' in that folder or below it", path)
			default:
				p.say(c, "%s created. Open it in a text editor, remove the # before the lines you need, and enter your values. Then name it in a fettle.ini with include, or with --loom or --config", path)
			}
			return nil
		},
	}
}
