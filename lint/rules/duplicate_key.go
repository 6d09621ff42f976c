package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var duplicateKey = lint.Rule{
	ID:    schema.FileDuplicateKey,
	Title: "a key, or a row of a table, stands twice in its section",
	Why: "Where an end is threaded twice or a value is given twice, one of them is wrong. " +
		"The first is taken here, and another program may take the last. " +
		"Where both say the same, the other becomes a comment; where they differ, at your word only. " +
		"Where the rows of a table begin at 1 again and the file lacks a table, the header of that table is probably lost.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n4=3\n5=1\n6=2\n7=3\n8=4\n"},
	Mended:  lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	SafeOff: "never; other programs read such a draft otherwise",
	Source:  "the interchange text format, version 1.1, from memory",
	Data:    []lint.Field{{Key: "name", Text: "the key, or the number of the row"}, {Key: "suggestion", Text: "empty: the first is taken"}},
	Fixable: true,

	Keys:     []string{"name"},
	ByText:   true,
	Measures: []lint.Measure{},
}
