package main

import (
	"github.com/urfave/cli/v2"
)

func (p *program) man() *cli.Command {
	return &cli.Command{
		Name:      "man",
		Usage:     "print the manual page",
		UsageText: "fettle man > ~/.local/share/man/man1/fettle.1",
		Action: func(c *cli.Context) error {
			if c.NArg() > 0 {
				return failed("man takes no arguments")
			}
			page, err := c.App.ToManWithSection(1)
			if err != nil {
				return failed("the manual page could not be written: %s", err)
			}
			return p.print("%s", page)
		},
	}
}
