package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var unusedIgnore = lint.Rule{
	ID:      lint.UnusedIgnore,
	Title:   "an ignore comment in the draft has no effect",
	Why:     "An ignore comment that outlives its finding would hide the next one.",
	Counts:  "fettle doesn't report an ignore of a rule that is off.",
	Remedy:  "Delete the comment.",
	Default: schema.Note,
	Faulty:  lint.Example{Draft: "[THREADING]\n; fettle: ignore draft/unthreaded-end - floating selvedges\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	Fixed:   lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	SafeOff: "if you check the same drafts with several settings that need different ignores",
	Source:  "rule of thumb",
	Data:    []lint.Field{{Key: "rule", Text: "the rule that the comment names"}},

	Keys:     []string{"rule"},
	ByText:   true,
	Measures: []lint.Measure{},
}
