package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var name = lint.Rule{
	ID:    lint.NameClash,
	Title: "two paths differ only in capitals, or in how an accent is written",
	Why: "Many computers take Towel.wif and towel.wif for one file, so a copy of the library there holds only one of the two, and which one is chance. " +
		"The same goes for an accented letter that one path writes as a letter and the other as a letter and an accent. " +
		"The finding stands in the file that comes later and names the earlier one.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "; Towel.wif, beside a towel.wif\n"},
	Mended:  lint.Example{Draft: "; towel-2.wif, beside a towel.wif\n"},
	SafeOff: "where the library never leaves computers that tell capitals apart",
	Source:  "common practice, no source",
	Data:    []lint.Field{{Key: "path", Text: "the earlier file"}},

	Keys:     []string{},
	Measures: []lint.Measure{},
}
