package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var contents = lint.Rule{
	ID:    schema.FileContents,
	Title: "CONTENTS and the sections of the file disagree",
	Why: "CONTENTS lists the sections that follow, and some programs read only those. " +
		"A section that is missing from the list may be lost; a listed section that doesn't exist may stop the program.",
	Counts:  "fettle itself reads every section, listed or not.",
	Remedy:  "Add the section to CONTENTS, or delete the line that lists it.",
	Default: schema.Warning,
	Faulty: lint.Example{Draft: "[CONTENTS]\nCOLOR PALETTE=true\nWEAVING=true\nWARP=true\nWEFT=true\nCOLOR TABLE=true\n" +
		"THREADING=true\nTIEUP=true\n"},
	Fixed: lint.Example{Draft: "[CONTENTS]\nCOLOR PALETTE=true\nWEAVING=true\nWARP=true\nWEFT=true\nCOLOR TABLE=true\n" +
		"THREADING=true\nTIEUP=true\nTREADLING=true\n"},
	SafeOff: "if no other program reads your drafts",
	Source:  "WIF 1.1 (1997) as fettle understands it",
	Data: []lint.Field{{Key: "section", Text: "the section"}, {Key: "listed", Text: "whether CONTENTS lists it"},
		{Key: "present", Text: "whether the file has it"}},
	Fixable: true,

	Keys:     []string{"section", "listed", "present"},
	Measures: []lint.Measure{},
}
