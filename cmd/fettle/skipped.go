package main

import (
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"fettle/lint/collection"
	"fettle/schema/settings"
	"fettle/schema/wording"
)

// tellPassedOver says once what a run did not look at without being told so, and
// which patterns of fettle.ini nothing came of, as of one with a slip in it.
func (l *lintRun) tellPassedOver(met collection.Met) {
	if n := met.Links; n > 0 {
		l.say(l.context, "%s passed over; name what is to be looked at", wording.Counted(n, "symbolic link"))
	}
	l.sayForeign(l.context, l.run.Checker.Finder)
	paths := make([]string, len(met.Inputs))
	for i, in := range met.Inputs {
		paths[i] = in.Path
	}
	for _, idle := range l.run.Checker.Finder.Unused(paths, within(met.Whole)) {
		l.say(l.context, "%s:%d: %s", shown(idle.Origin.Path), idle.Origin.Line, ofIdle(idle))
	}
}

// within says whether a folder is one of these, or lies in one.
func within(roots []string) func(folder string) bool {
	var whole []string
	for _, root := range roots {
		if full, err := filepath.Abs(root); err == nil {
			whole = append(whole, full)
		}
	}
	return func(folder string) bool {
		for _, root := range whole {
			if collection.LiesIn(folder, root) {
				return true
			}
		}
		return false
	}
}

// ofIdle says what is to be said of a pattern that nothing came of.
func ofIdle(x settings.UnusedPattern) string {
	pattern := wording.Plain(x.Pattern, 60)
	if x.Rules && x.Nearer != "" {
		return "[rules " + pattern + "] holds for no draft: for those it covers a nearer fettle.ini holds alone, such as " +
			shown(x.Nearer) + "; put the rules there, or in a file that it includes"
	}
	advice := "look at how it is spelt, capitals too; it is a path from the folder of fettle.ini"
	if strings.Contains(x.Pattern, " ") {
		several := "; if several patterns are meant, a comma stands between them"
		if x.Rules {
			several = "; if several patterns are meant, each has a section of its own"
		}
		advice += several
	}
	if x.Rules {
		return "[rules " + pattern + "] holds for no draft: " + advice
	}
	return "exclude passes over nothing by " + wording.Quote(x.Pattern) + ": " + advice
}

// sayMisnamed says which files beside the drafts were meant to be a fettle.ini.
func (p *program) sayMisnamed(c *cli.Context, f *settings.Finder, list []collection.Input) {
	last := ""
	for _, in := range list {
		if dir := filepath.Dir(in.Path); dir != last {
			_, _ = f.ForFolder(dir) // what is wrong in them is told with each draft
			last = dir
		}
	}
	for _, path := range f.Misnamed() {
		p.say(c, "%s is not read: the file must be called %s; take the second ending off its name", shown(path), settings.FileName)
	}
}

// sayForeign says which files beside drafts are another program's.
func (p *program) sayForeign(c *cli.Context, f *settings.Finder) {
	for _, path := range f.Foreign() {
		p.say(c, "%s is skipped: it has no section that fettle knows, so it must be another program's", wording.PathName(filepath.ToSlash(path)))
	}
}
