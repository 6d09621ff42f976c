package main

import (
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"fettle/lint/collection"
	"fettle/schema/files"
	"fettle/schema/settings"
	"fettle/schema/wording"
)

// reportSkipped prints which files a run skipped, and which patterns in fettle.ini are
// unused and perhaps mistyped.
func (l *lintRun) reportSkipped(listing collection.Listing) {
	if n := listing.Links; n > 0 {
		l.say(l.context, "%s skipped; name the files to check them", wording.Counted(n, "symbolic link"))
	}
	l.sayForeign(l.context, l.run.Checker.Finder)
	paths := make([]string, len(listing.Inputs))
	for i, in := range listing.Inputs {
		paths[i] = in.Path
	}
	for _, unused := range l.run.Checker.Finder.Unused(paths, within(listing.Whole)) {
		l.say(l.context, "%s:%d: %s", shown(unused.Origin.Path), unused.Origin.Line, aboutUnused(unused))
	}
}

// within returns a test for folders that are one of the roots, or inside one.
func within(roots []string) func(folder string) bool {
	var whole []string
	for _, root := range roots {
		if full, err := filepath.Abs(root); err == nil {
			whole = append(whole, full)
		}
	}
	return func(folder string) bool {
		for _, root := range whole {
			if files.Contains(root, folder) {
				return true
			}
		}
		return false
	}
}

// aboutUnused returns the message for a pattern that matches nothing.
func aboutUnused(x settings.UnusedPattern) string {
	pattern := wording.Plain(x.Pattern, 60)
	if x.Rules && x.Nearer != "" {
		return "[rules " + pattern + "] is unused: a nearer fettle.ini replaces it, such as " +
			shown(x.Nearer) + "; put the rules there, or in a file that it includes"
	}
	advice := "check the spelling, capitals too; the path starts at the folder of fettle.ini"
	if strings.Contains(x.Pattern, " ") {
		several := "; put commas between several patterns"
		if x.Rules {
			several = "; write one section for each pattern"
		}
		advice += several
	}
	if x.Rules {
		return "[rules " + pattern + "] matches no draft; " + advice
	}
	return "exclude " + wording.Quote(x.Pattern) + " matches nothing; " + advice
}

// sayMisnamed reports files near the drafts that should be called fettle.ini.
func (p *program) sayMisnamed(c *cli.Context, f *settings.Finder, list []collection.Input) {
	last := ""
	for _, in := range list {
		if dir := filepath.Dir(in.Path); dir != last {
			_, _ = f.ForFolder(dir) // errors in them are reported with each draft
			last = dir
		}
	}
	for _, path := range f.Misnamed() {
		p.say(c, "%s ignored: the name must be %s; remove the second extension", shown(path), settings.FileName)
	}
}

// sayForeign reports files near the drafts that belong to other programs.
func (p *program) sayForeign(c *cli.Context, f *settings.Finder) {
	for _, path := range f.Foreign() {
		p.say(c, "%s skipped: it has no section that fettle knows, so it belongs to another program", wording.PathName(filepath.ToSlash(path)))
	}
}
