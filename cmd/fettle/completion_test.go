package main

import (
	"slices"
	"strings"
	"testing"

	"github.com/urfave/cli/v2"
)

// TestFlagWords completes flags with the words in their help.
func TestFlagWords(t *testing.T) {
	flags := []cli.Flag{
		&cli.StringFlag{Name: "form", Usage: "write in `FORM`: text, html or json"},
		&cli.StringFlag{Name: "edge", Usage: "drawings: begin at the `EDGE`: top or bottom"},
		&cli.StringFlag{Name: "file", Usage: "read `FILE`"},
		&cli.StringFlag{Name: "page", Usage: "for `PAPER`: a4, or as large as the drawing"},
		&cli.BoolFlag{Name: "all", Usage: "everything: a or b"},
		&cli.StringSliceFlag{Name: "only", Usage: "these `RULES` alone"},
		&cli.StringSliceFlag{Name: "report", Usage: "as `FORM=FILE`"},
	}
	for _, test := range []struct{ word, want string }{
		{"--form", "text html json"}, {"--edge", "top bottom"}, {"--file", ""}, {"--page", ""}, {"--all", ""},
		{"--none", ""}, {"form", ""}, {"", ""},
	} {
		if got := strings.Join(flagWords(flags, test.word), " "); got != test.want {
			t.Errorf("%q: %q, want %q", test.word, got, test.want)
		}
	}
	if got := flagWords(flags, "--only"); !slices.Contains(got, "reed") || !slices.Contains(got, "reed/sett") {
		t.Errorf("rules: %q", got)
	}
	if got := flagWords(flags, "--report"); !slices.Contains(got, "sarif=") {
		t.Errorf("reports: %q", got)
	}
}

// TestFlagsListTheirWords checks that flags with a few possible words list them in the
// help, where completion looks.
func TestFlagsListTheirWords(t *testing.T) {
	app := (&program{}).app()
	for _, test := range []struct{ command, flag, word string }{
		{"lint", "format", "sarif"}, {"lint", "fail-on", "never"}, {"lint", "color", "always"}, {"convert", "to", "pdf"},
		{"convert", "lifts", "tieup"}, {"convert", "shed", "sinking"}, {"convert", "end1", "left"}, {"convert", "eol", "lf"},
		{"plan", "format", "html"}, {"info", "format", "json"}, {"rules", "format", "markdown"},
		{"clean", "encoding", "cp850"}, {"plan", "encoding", "utf-16"},
	} {
		flags := slices.Concat(app.Command(test.command).Flags, app.Flags)
		if got := flagWords(flags, "--"+test.flag); !slices.Contains(got, test.word) {
			t.Errorf("%s --%s: %q", test.command, test.flag, got)
		}
	}
}
