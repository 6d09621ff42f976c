package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var duplicateKey = lint.Rule{
	ID:      schema.FileDuplicateKey,
	Title:   "a key, or a row of a table, appears twice in its section",
	Why:     "If an end is threaded twice or a value is stated twice, one of the two is wrong. fettle uses the first; another program may use the last.",
	Counts:  "If the rows of a table start again at 1 and the file lacks a table, its header is probably missing; fettle then reports that once.",
	Remedy:  "Delete the wrong one. The fix turns a duplicate that says the same into a comment; if the two differ, it needs --risky.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n4=3\n5=1\n6=2\n7=3\n8=4\n"},
	Fixed:   lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	SafeOff: "never; other programs may read another cloth",
	Source:  "WIF 1.1 (1997) as fettle understands it",
	Data:    []lint.Field{{Key: "name", Text: "the key, or the number of the row"}, {Key: "suggestion", Text: "empty: fettle uses the first"}},
	Fixable: true,

	Keys:     []string{"name"},
	ByText:   true,
	Measures: []lint.Measure{},
}
