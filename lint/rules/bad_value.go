package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var badValue = lint.Rule{
	ID:    schema.FileBadValue,
	Title: "a value cannot be what its key takes",
	Why: "A word where a number belongs, a color with two channels, a unit that is none: the value cannot be read and counts as not stated. " +
		"The finding says what the key takes.",
	Default: schema.Error,
	Faulty:  lint.Example{Draft: "[WEAVING]\nShafts=four\nTreadles=4\nRising Shed=true\n"},
	Mended:  lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=true\n"},
	SafeOff: "never; what cannot be read is left out of everything else",
	Source:  "the interchange text format, version 1.1, from memory",
	Data: []lint.Field{{Key: "section", Text: "the section"}, {Key: "key", Text: "the key or row"},
		{Key: "value", Text: "the value as written"}, {Key: "expected", Text: "what the key takes"}},

	Keys:     []string{"section", "key", "value"},
	ByText:   true,
	Measures: []lint.Measure{},
}
