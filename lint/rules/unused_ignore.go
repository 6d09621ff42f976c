package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var unusedIgnore = lint.Rule{
	ID:    lint.UnusedIgnore,
	Title: "an ignore in the draft leaves nothing out",
	Why: "A comment that has a rule's findings left out stays in the draft when the fault is long mended, and would hide the next one. " +
		"An ignore of a rule that is switched off is not reported.",
	Default: schema.Note,
	Faulty:  lint.Example{Draft: "[THREADING]\n; fettle: ignore draft/unthreaded-end - floating selvedges\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	Mended:  lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	SafeOff: "where the same drafts are looked at with several settings, and each needs other ignores",
	Source:  "common practice, no source",
	Data:    []lint.Field{{Key: "rule", Text: "the rule that the ignore names"}},

	Keys:     []string{"rule"},
	ByText:   true,
	Measures: []lint.Measure{},
}
