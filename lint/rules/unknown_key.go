package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var unknownKey = lint.Rule{
	ID:    schema.FileUnknownKey,
	Title: "the section has no key of that name",
	Why: "A misspelt key is passed over by other programs, and its value with it. " +
		"What is a single slip away from a known key is read as that; anything else is kept as it stands and not read. " +
		"So it is with a comment that is nearly one of fettle's own, such as ; fettle: ignre cloth/layers: it leaves nothing out.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[WEAVING]\nShaft=4\nTreadles=4\nRising Shed=true\n"},
	Mended:  lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=true\n"},
	SafeOff: "where a program's own keys are wanted",
	Source:  "the interchange text format, version 1.1, from memory",
	Data:    []lint.Field{{Key: "name", Text: "the key, or the comment, as written"}, {Key: "suggestion", Text: "the key it is read as, what the comment was most likely meant to be, or empty"}},
	Fixable: true,

	Keys:     []string{"name"},
	ByText:   true,
	Measures: []lint.Measure{},
}
