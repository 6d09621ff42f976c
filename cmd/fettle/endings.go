package main

import (
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"
)

// form is what a flag of forms says, else what the ending of the output file
// stands for, else the flag's default. Where flag and ending disagree the flag
// holds, and where the ending stands for nothing the default: clash says so.
func form(c *cli.Context, flag string, endings map[string]string) (said, clash string) {
	path := c.String("output")
	ending := strings.ToLower(filepath.Ext(path))
	byEnding := endings[ending]
	switch said = c.String(flag); {
	case !c.IsSet(flag) && byEnding != "":
		return byEnding, ""
	case c.IsSet(flag) && byEnding != "" && byEnding != said:
		return said, path + " is written as " + said + ", as --" + flag + " says, whatever its ending"
	case !c.IsSet(flag) && said != "" && ending != "":
		known := slices.Sorted(maps.Keys(endings))
		return said, path + " is written as " + said + ", since " + ending + " stands for no form; " + strings.Join(known, ", ") + " do, or --" + flag + " says which"
	}
	return said, ""
}

// sheetEndings are the endings of files that hold a dressing sheet.
func sheetEndings() map[string]string {
	return map[string]string{".txt": "text", ".html": "html", ".htm": "html", ".pdf": "pdf", ".json": "json"}
}

// draftEndings are those of what drafts are converted to.
func draftEndings() map[string]string {
	return map[string]string{".wif": "wif", ".json": "json", ".svg": "svg", ".png": "png", ".pdf": "pdf", ".txt": "txt"}
}

// reportEndings are those of reports. A code quality report is JSON too, but only
// the plain one is called so.
func reportEndings() map[string]string {
	return map[string]string{".txt": "text", ".json": "json", ".sarif": "sarif", ".html": "html", ".htm": "html"}
}
