package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var version = lint.Rule{
	ID:    schema.FileVersion,
	Title: "the file is in an unknown version of its format",
	Why: "The text format has the versions 1.0 and 1.1, and the JSON draft the form 1. " +
		"Another number is mostly a slip; the file is read as the nearest known one, and what a newer version added would be missed.",
	Default: schema.Note,
	Faulty:  lint.Example{Draft: "[WIF]\nVersion=2.0\nDate=April 20, 1997\nDevelopers=wif@mhsoft.com\n"},
	Mended:  lint.Example{Draft: "[WIF]\nVersion=1.1\nDate=April 20, 1997\nDevelopers=wif@mhsoft.com\n"},
	SafeOff: "where a program is known to write another number and nothing else new",
	Source:  "the interchange text format, version 1.1, from memory",
	Data:    []lint.Field{{Key: "version", Text: "the version as written"}},
	Fixable: true,

	Keys:     []string{"version"},
	Measures: []lint.Measure{},
}
