package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var nameClash = lint.Rule{
	ID:    lint.NameClash,
	Title: "two paths differ only in capitals, or in how an accent is written",
	Why: "Many computers treat Towel.wif and towel.wif as one file, so a copy of the library may keep only one of them. " +
		"An accented letter has the same problem: it can be one character, or a letter and an accent.",
	Counts:  "The finding is at the path that fettle reads last and names the one that it reads first.",
	Remedy:  "Rename one of the two.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "; Towel.wif, beside a towel.wif\n"},
	Fixed:   lint.Example{Draft: "; towel-2.wif, beside a towel.wif\n"},
	SafeOff: "if all computers that use the library keep capitals apart",
	Source:  "rule of thumb",
	Data:    []lint.Field{{Key: "path", Text: "the other file"}},

	Keys:     []string{},
	Measures: []lint.Measure{},
}
