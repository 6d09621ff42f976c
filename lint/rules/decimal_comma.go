package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var decimalComma = lint.Rule{
	ID:    schema.FileDecimalComma,
	Title: "a number has a decimal comma",
	Why: "WIF writes decimals with a point and separates the numbers of a list with commas. " +
		"Another program may read 0,25 as 0 or as two numbers, and give the cloth the wrong spacing.",
	Counts:  "fettle reads the comma as a decimal point.",
	Remedy:  "Write a point.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[WARP]\nThreads=8\nColor=1\nUnits=Centimeters\nSpacing=0,1\n"},
	Fixed:   lint.Example{Draft: "[WARP]\nThreads=8\nColor=1\nUnits=Centimeters\nSpacing=0.1\n"},
	SafeOff: "never; the fix loses nothing",
	Source:  "WIF 1.1 (1997) as fettle understands it",
	Data: []lint.Field{{Key: "section", Text: "the section"}, {Key: "key", Text: "the key or row"},
		{Key: "value", Text: "the number as written"}},
	Fixable: true,

	Keys:     []string{"section", "key", "value"},
	ByText:   true,
	Measures: []lint.Measure{},
}
