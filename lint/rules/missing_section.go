package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var missingSection = lint.Rule{
	ID:    schema.FileMissingSection,
	Title: "the file lacks a section that a draft cannot do without, or breaks off",
	Why: "A draft without a threading, or without anything that says what each pick lifts, cannot be woven. " +
		"Without the section WIF at its head other programs do not take the file for a draft at all. " +
		"A download that broke off is told by a table that stops short and sections in CONTENTS that do not come, or by one of the two, or half a row, in a last line without an end; " +
		"it is told once, at that line, and neither the line nor the weave is judged then: get the file again. " +
		"Where a threading, treadling or tie-up is missing, the rules that judge the whole weave are not run either.",
	Default: schema.Error,
	Faulty: lint.Example{Draft: "[CONTENTS]\nWEAVING=true\nWARP=true\nWEFT=true\nTIEUP=true\nTHREADING=true\nTREADLING=true\n" +
		"[WEAVING]\nShafts=2\nTreadles=2\nRising Shed=true\n[WARP]\nThreads=2\n[WEFT]\nThreads=2\n" +
		"[TIEUP]\n1=1\n2=2\n[THREADING]\n1=1\n2=2\n[TREADLING]\n1=1\n2=2\n", Whole: true},
	Mended: lint.Example{Draft: "[WIF]\nVersion=1.1\nDate=April 20, 1997\nDevelopers=wif@mhsoft.com\n" +
		"[CONTENTS]\nWEAVING=true\nWARP=true\nWEFT=true\nTIEUP=true\nTHREADING=true\nTREADLING=true\n" +
		"[WEAVING]\nShafts=2\nTreadles=2\nRising Shed=true\n[WARP]\nThreads=2\n[WEFT]\nThreads=2\n" +
		"[TIEUP]\n1=1\n2=2\n[THREADING]\n1=1\n2=2\n[TREADLING]\n1=1\n2=2\n", Whole: true},
	SafeOff: "for files that hold only a threading, or only a tie-up, on purpose",
	Source:  "the interchange text format, version 1.1, from memory",
	Data:    []lint.Field{{Key: "section", Text: "the section that is missing, or that the file breaks off in"}},
	Fixable: true,

	Keys:     []string{"section"},
	Measures: []lint.Measure{},
}
