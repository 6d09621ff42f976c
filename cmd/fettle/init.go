package main

import (
	"path/filepath"

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
			replaceFlag(),
		},
		Action: func(c *cli.Context) error {
			if c.NArg() > 0 {
				return failed("init takes no paths; --output says where to write")
			}
			path := c.String("output")
			if err := p.write(path, []byte(settings.Starter()), c.Bool("overwrite")); err != nil {
				return err
			}
			switch {
			case path == "-":
			case filepath.Base(path) == settings.FileName:
				p.say(c, "%s is written. Next: open it in a text editor, take the # away before the lines that are so for you, put your own values in and save it; then run 'fettle lint' where your drafts are, in that folder or below it", path)
			default:
				p.say(c, "%s is written. Next: open it in a text editor, take the # away before the lines that are so for you, put your own values in and save it; then name it in the first line of a fettle.ini with include, or behind --loom or --config", path)
			}
			return nil
		},
	}
}
