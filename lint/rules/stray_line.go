package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var strayLine = lint.Rule{
	ID:    schema.FileStrayLine,
	Title: "a line, or the end of one, can't be read",
	Why: "fettle skips a line that is neither a section, nor key = value, nor a comment, and any text after a complete value. " +
		"It may be a note without its semicolon, or a table row that lost its number.",
	Counts: "fettle also reports unusual blanks, byte order marks and end-of-file marks inside the file. " +
		"If a section's name has no brackets, and the file lacks that section, fettle reads the line as its header.",
	Remedy:  "Put a semicolon before a note, or restore the row. If the line holds a number, the fix needs --risky.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[THREADING]\nfrom the right\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	Fixed:   lint.Example{Draft: "[THREADING]\n; from the right\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	SafeOff: "if your drafts contain loose notes that you want to keep as they are",
	Source:  "WIF 1.1 (1997) as fettle understands it",
	Data:    []lint.Field{{Key: "name", Text: "the text"}, {Key: "suggestion", Text: "what to write instead"}},
	Fixable: true,

	Keys:     []string{"name"},
	ByText:   true,
	Measures: []lint.Measure{},
}
