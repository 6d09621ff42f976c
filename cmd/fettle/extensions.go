package main

import (
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"fettle/schema/wording"
)

// form is what a flag of forms says, else what the ending of the output file
// stands for, else the flag's default. Where flag and ending disagree the flag
// holds, and clash says so. An ending that stands for nothing is an error, unless
// the flag says what is written.
func form(c *cli.Context, flag string, endings map[string]string) (said, clash string, err error) {
	path := c.String("output")
	ending := strings.ToLower(filepath.Ext(path))
	byEnding := endings[ending]
	switch said = c.String(flag); {
	case !c.IsSet(flag) && byEnding != "":
		return byEnding, "", nil
	case c.IsSet(flag) && byEnding != "" && byEnding != said:
		return said, path + " is written as " + said + ", as --" + flag + " says, whatever its ending", nil
	case !c.IsSet(flag) && byEnding == "" && len(ending) > 1:
		known := slices.Sorted(maps.Keys(endings))
		return "", "", failed("%s: %s isn't a format to write; end the name in %s, or choose the format with --%s",
			wording.Plain(path, len(path)), wording.Quote(ending), wording.Either(known), flag)
	}
	return said, "", nil
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
