package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var missingSection = lint.Rule{
	ID:    schema.FileMissingSection,
	Title: "the file lacks a section that every draft needs, or is truncated",
	Why: "You can't weave a draft without a threading, or without a treadling or lift plan. " +
		"Without the section WIF at the top, other programs don't recognize the file as a draft.",
	Counts: "fettle takes a file as truncated if its last table stops early and sections listed in CONTENTS are missing. " +
		"If the last line has no line ending, one of the two, or half a row, is enough. " +
		"A truncated file gets this one finding. Rules that judge the whole weave don't run if the weave is incomplete.",
	Remedy:  "Add the section. If the file is truncated, download or copy it again.",
	Default: schema.Error,
	Faulty: lint.Example{Draft: "[CONTENTS]\nWEAVING=true\nWARP=true\nWEFT=true\nTIEUP=true\nTHREADING=true\nTREADLING=true\n" +
		"[WEAVING]\nShafts=2\nTreadles=2\nRising Shed=true\n[WARP]\nThreads=2\n[WEFT]\nThreads=2\n" +
		"[TIEUP]\n1=1\n2=2\n[THREADING]\n1=1\n2=2\n[TREADLING]\n1=1\n2=2\n", Whole: true},
	Fixed: lint.Example{Draft: "[WIF]\nVersion=1.1\nDate=April 20, 1997\nDevelopers=wif@mhsoft.com\n" +
		"[CONTENTS]\nWEAVING=true\nWARP=true\nWEFT=true\nTIEUP=true\nTHREADING=true\nTREADLING=true\n" +
		"[WEAVING]\nShafts=2\nTreadles=2\nRising Shed=true\n[WARP]\nThreads=2\n[WEFT]\nThreads=2\n" +
		"[TIEUP]\n1=1\n2=2\n[THREADING]\n1=1\n2=2\n[TREADLING]\n1=1\n2=2\n", Whole: true},
	SafeOff: "for files that hold only a threading or a tie-up on purpose",
	Source:  "WIF 1.1 (1997) as fettle understands it",
	Data:    []lint.Field{{Key: "section", Text: "the missing section, or the one where the file ends"}},
	Fixable: true,

	Keys:     []string{"section"},
	Measures: []lint.Measure{},
}
