package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var unknownSection = lint.Rule{
	ID:    schema.FileUnknownSection,
	Title: "the format has no section of that name",
	Why: "A section with a misspelt name is passed over by other programs, and with it a whole table of the draft. " +
		"What is a single slip away from a known name is read as that; anything else is kept as it stands. " +
		"A program's own sections have names that begin with PRIVATE.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[TEXTS]\nTitle=Towel\n"},
	Mended:  lint.Example{Draft: "[TEXT]\nTitle=Towel\n"},
	SafeOff: "where a program's own sections do not begin with PRIVATE and are wanted",
	Source:  "the interchange text format, version 1.1, from memory",
	Data:    []lint.Field{{Key: "name", Text: "the section as written"}, {Key: "suggestion", Text: "the section it is read as, or empty"}},
	Fixable: true,

	Keys:     []string{"name"},
	ByText:   true,
	Measures: []lint.Measure{},
}
