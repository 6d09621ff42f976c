package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var duplicateSection = lint.Rule{
	ID:      schema.FileDuplicateSection,
	Title:   "a section appears twice",
	Why:     "WIF has each section once. fettle adds the second to the first, but another program may read only one of them, so the same file can weave two cloths.",
	Counts:  "If a second draft starts in the file, with its own [WIF] section, fettle reads only the first draft.",
	Remedy:  "Join the two sections, or delete one. Give a second draft its own file.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n[THREADING]\n5=1\n6=2\n7=3\n8=4\n"},
	Fixed:   lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	SafeOff: "never; other programs may read another cloth",
	Source:  "WIF 1.1 (1997) as fettle understands it",
	Data:    []lint.Field{{Key: "name", Text: "the section"}, {Key: "suggestion", Text: "empty: only you know which one is right"}},
	Fixable: true,

	Keys:     []string{"name"},
	ByText:   true,
	Measures: []lint.Measure{},
}
