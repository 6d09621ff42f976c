package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var decimalComma = lint.Rule{
	ID:    schema.FileDecimalComma,
	Title: "a number has a decimal comma",
	Why: "The format writes decimals with a point, and a comma stands between the numbers of a list. " +
		"A program that follows it reads 0,25 as 0 or as two numbers, and the cloth gets another spacing.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[WARP]\nThreads=8\nColor=1\nUnits=Centimeters\nSpacing=0,1\n"},
	Mended:  lint.Example{Draft: "[WARP]\nThreads=8\nColor=1\nUnits=Centimeters\nSpacing=0.1\n"},
	SafeOff: "never; it is mended without loss",
	Source:  "the interchange text format, version 1.1, from memory",
	Data: []lint.Field{{Key: "section", Text: "the section"}, {Key: "key", Text: "the key or row"},
		{Key: "value", Text: "the number as written"}},
	Fixable: true,

	Keys:     []string{"section", "key", "value"},
	ByText:   true,
	Measures: []lint.Measure{},
}
