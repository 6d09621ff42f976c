package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var contents = lint.Rule{
	ID:    schema.FileContents,
	Title: "CONTENTS and the sections of the file disagree",
	Why: "CONTENTS lists the sections that follow, and some programs read only what it lists. " +
		"A section it leaves out can be lost on the way, and one it lists in vain may stop the reading.",
	Default: schema.Warning,
	Faulty: lint.Example{Draft: "[CONTENTS]\nCOLOR PALETTE=true\nWEAVING=true\nWARP=true\nWEFT=true\nCOLOR TABLE=true\n" +
		"THREADING=true\nTIEUP=true\n"},
	Mended: lint.Example{Draft: "[CONTENTS]\nCOLOR PALETTE=true\nWEAVING=true\nWARP=true\nWEFT=true\nCOLOR TABLE=true\n" +
		"THREADING=true\nTIEUP=true\nTREADLING=true\n"},
	SafeOff: "where no other program reads the drafts",
	Source:  "the interchange text format, version 1.1, from memory",
	Data: []lint.Field{{Key: "section", Text: "the section"}, {Key: "listed", Text: "whether CONTENTS lists it"},
		{Key: "present", Text: "whether the file has it"}},
	Fixable: true,

	Keys:     []string{"section", "listed", "present"},
	Measures: []lint.Measure{},
}
