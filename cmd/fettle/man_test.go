package main

import (
	"strings"
	"testing"
)

// TestManual checks that the page names every command and every flag with its value, and
// has the commit's date.
func TestManual(t *testing.T) {
	app := (&program{}).app()
	page := manual(app, build{version: "1.2.3", date: "2026-01-02"})
	if !strings.HasPrefix(page, `.TH FETTLE 1 "2026-01-02" "fettle 1.2.3"`) {
		t.Errorf("it begins %q", page[:60])
	}
	for _, want := range []string{
		".SS \"fettle convert PATH...\"\n", "\\fB\\-\\-color\\fR \\fIWHEN\\fR\n", "\\fB\\-\\-fail\\-on\\fR \\fISEVERITY\\fR\n",
		"\\fB\\-\\-quiet\\fR, \\fB\\-q\\fR\n", "\\fB\\-\\-sett\\fR \\fIDENSITY\\fR\n",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("it lacks %q", want)
		}
	}
	for _, command := range app.Commands {
		for _, f := range command.Flags {
			if name := escape("--" + f.Names()[0]); len(f.Names()[0]) > 1 && !strings.Contains(page, name) {
				t.Errorf("it lacks %s", name)
			}
		}
	}
	for line := range strings.SplitSeq(page, "\n") {
		if len(line) > 80 {
			t.Errorf("a line of %d bytes: %s", len(line), line)
		}
	}
}
