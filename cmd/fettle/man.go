package main

import (
	"strings"

	"github.com/urfave/cli/v2"
)

// exitStatuses is the section of the manual page on what each command ends with.
func exitStatuses(commands []*cli.Command) string {
	var b strings.Builder
	b.WriteString("\n.SH EXIT STATUS\n.TP\n0\nall is fine\n")
	for _, command := range commands {
		if why := whyOne(command.Name); why != "" {
			b.WriteString(".TP\n1\nof " + command.Name + ": " + strings.ReplaceAll(why, "-", `\-`) + "\n")
		}
	}
	b.WriteString(".TP\n2\nsomething could not be done: the rest was, and what could not be is told on standard error\n")
	return b.String()
}

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
			return p.print("%s%s", page, exitStatuses(c.App.Commands))
		},
	}
}
