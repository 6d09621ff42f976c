package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var unknownKey = lint.Rule{
	ID:    schema.FileUnknownKey,
	Title: "the section has no key of that name",
	Why:   "Other programs skip a misspelt key, and its value is lost.",
	Counts: "fettle reads a name that is one typing mistake away from a known key as that key. It keeps any other key but ignores it. " +
		"It also reports a comment that is nearly one of its own, such as ; fettle: ignre cloth/layers.",
	Remedy:  "Correct the name, or delete the line.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[WEAVING]\nShaft=4\nTreadles=4\nRising Shed=true\n"},
	Fixed:   lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=true\n"},
	SafeOff: "if you want to keep another program's own keys",
	Source:  "WIF 1.1 (1997) as fettle understands it",
	Data:    []lint.Field{{Key: "name", Text: "the key or comment as written"}, {Key: "suggestion", Text: "the key or comment that it should be, or empty"}},
	Fixable: true,

	Keys:     []string{"name"},
	ByText:   true,
	Measures: []lint.Measure{},
}
