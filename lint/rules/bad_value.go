package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var badValue = lint.Rule{
	ID:    schema.FileBadValue,
	Title: "a value cannot be what its key takes",
	Why: "A word where a number belongs, a color with two channels, a unit that is none: the value cannot be read and counts as not stated. " +
		"The finding says what the key takes. " +
		"Lists parted by semicolons, spaces or other marks, rows with a colon for the = sign, numbers in quotation marks and digits of full width are read as they are meant. " +
		"The fix is certain where every number is a declared shaft or treadle and all rows of the table agree; otherwise it is made at your word only. " +
		"Letters typed for digits are named. What follows from a row that could not be read is held back.",
	Default: schema.Error,
	Faulty:  lint.Example{Draft: "[TIEUP]\n1=1;2\n2=2;3\n3=3;4\n4=1;4\n"},
	Mended:  lint.Example{Draft: "[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n"},
	SafeOff: "never; what cannot be read is left out of everything else",
	Source:  "the interchange text format, version 1.1, from memory",
	Data: []lint.Field{{Key: "section", Text: "the section"}, {Key: "key", Text: "the key or row"},
		{Key: "value", Text: "the value as written"}, {Key: "expected", Text: "what the key takes, or what to write"}},
	Fixable: true,

	Keys:     []string{"section", "key", "value"},
	ByText:   true,
	Measures: []lint.Measure{},
}
