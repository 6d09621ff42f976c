package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var duplicateSection = lint.Rule{
	ID:    schema.FileDuplicateSection,
	Title: "a section stands twice",
	Why: "The text format has each section once. Where one stands twice, the second adds to the first here and another program may take only one of them, " +
		"so the same file can weave two cloths. " +
		"Where a second draft begins in the file, with its own section WIF, only the first is read.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n[THREADING]\n5=1\n6=2\n7=3\n8=4\n"},
	Mended:  lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	SafeOff: "never; other programs read such a draft otherwise",
	Source:  "the interchange text format, version 1.1, from memory",
	Data:    []lint.Field{{Key: "name", Text: "the section"}, {Key: "suggestion", Text: "empty: which of them is meant only the weaver knows"}},
	Fixable: true,

	Keys:     []string{"name"},
	ByText:   true,
	Measures: []lint.Measure{},
}
