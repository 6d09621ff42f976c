package main

import (
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"fettle/schema/wording"
)

// form returns the format from a flag, otherwise from the extension of the output
// file, otherwise the flag's default. The flag overrides the extension, and clash
// then says so. An unknown extension is an error unless the flag is set.
func form(c *cli.Context, flag string, extensions map[string]string) (said, clash string, err error) {
	path := c.String("output")
	extension := strings.ToLower(filepath.Ext(path))
	byExtension := extensions[extension]
	switch said = c.String(flag); {
	case !c.IsSet(flag) && byExtension != "":
		return byExtension, "", nil
	case c.IsSet(flag) && byExtension != "" && byExtension != said:
		return said, path + " is written as " + said + ": --" + flag + " overrides the extension", nil
	case !c.IsSet(flag) && byExtension == "" && len(extension) > 1:
		known := slices.Sorted(maps.Keys(extensions))
		return "", "", failed("%s: fettle can't write %s; use the extension %s, or choose the format with --%s",
			wording.Plain(path, len(path)), wording.Quote(extension), wording.Either(known), flag)
	}
	return said, "", nil
}

func sheetExtensions() map[string]string {
	return map[string]string{".txt": "text", ".html": "html", ".htm": "html", ".pdf": "pdf", ".json": "json", ".wif": "wif"}
}

func draftExtensions() map[string]string {
	return map[string]string{".wif": "wif", ".json": "json", ".svg": "svg", ".png": "png", ".pdf": "pdf", ".txt": "txt"}
}

// reportExtensions maps .json to fettle's own JSON: code quality reports are JSON too,
// but need --format.
func reportExtensions() map[string]string {
	return map[string]string{".txt": "text", ".json": "json", ".sarif": "sarif", ".html": "html", ".htm": "html"}
}
