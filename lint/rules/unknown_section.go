package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var unknownSection = lint.Rule{
	ID:    schema.FileUnknownSection,
	Title: "WIF has no section of that name",
	Why:   "Other programs skip a section with a misspelt name, and a whole table of the draft is lost.",
	Counts: "fettle reads a name that is one typing mistake away from a known section as that section. " +
		"It keeps any other section but ignores it. " +
		"It doesn't report sections whose names begin with PRIVATE: programs keep their own data there.",
	Remedy:  "Correct the name.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[TEXTS]\nTitle=Towel\n"},
	Fixed:   lint.Example{Draft: "[TEXT]\nTitle=Towel\n"},
	SafeOff: "if you want to keep a program's own sections that don't begin with PRIVATE",
	Source:  "WIF 1.1 (1997) as fettle understands it",
	Data:    []lint.Field{{Key: "name", Text: "the section as written"}, {Key: "suggestion", Text: "the section it is read as, or empty"}},
	Fixable: true,

	Keys:     []string{"name"},
	ByText:   true,
	Measures: []lint.Measure{},
}
