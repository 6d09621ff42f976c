package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var strayLine = lint.Rule{
	ID:    schema.FileStrayLine,
	Title: "a line, or the end of one, says nothing that can be read",
	Why: "A line that is neither a section, nor key = value, nor a comment is left out when the draft is read, and so is what stands behind a complete value. " +
		"It may be a note that lacks its semicolon, or a row of a table that lost its number: where it holds a number, it becomes a comment at your word only. " +
		"Blanks that are no plain spaces, byte order marks within the file and end-of-file marks are named, and deleted. " +
		"A section's name without its brackets is read as its header where the file has no such section and its rows follow.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[THREADING]\nfrom the right\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	Mended:  lint.Example{Draft: "[THREADING]\n; from the right\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	SafeOff: "where drafts carry loose notes that nobody wants to lose or mend",
	Source:  "the interchange text format, version 1.1, from memory",
	Data:    []lint.Field{{Key: "name", Text: "what stands there"}, {Key: "suggestion", Text: "what to write in its place"}},
	Fixable: true,

	Keys:     []string{"name"},
	ByText:   true,
	Measures: []lint.Measure{},
}
