package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var version = lint.Rule{
	ID:    schema.FileVersion,
	Title: "the file has an unknown version of its format",
	Why: "The WIF versions are 1.0 and 1.1; the JSON draft has form 1. " +
		"Another number is usually a typing mistake, but a newer version may add things that fettle would miss.",
	Counts:  "fettle reads the file as the nearest version that it knows.",
	Remedy:  "Correct the version.",
	Default: schema.Note,
	Faulty:  lint.Example{Draft: "[WIF]\nVersion=2.0\nDate=April 20, 1997\nDevelopers=wif@mhsoft.com\n"},
	Fixed:   lint.Example{Draft: "[WIF]\nVersion=1.1\nDate=April 20, 1997\nDevelopers=wif@mhsoft.com\n"},
	SafeOff: "if a program writes another number but nothing new",
	Source:  "WIF 1.1 (1997) as fettle understands it",
	Data:    []lint.Field{{Key: "version", Text: "the version as written"}},
	Fixable: true,

	Keys:     []string{"version"},
	Measures: []lint.Measure{},
}
