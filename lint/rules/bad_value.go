package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var badValue = lint.Rule{
	ID:    schema.FileBadValue,
	Title: "a value can't be read",
	Why: "A word instead of a number, a color with two channels or an unknown unit tells fettle nothing. " +
		"The value counts as not stated, and the draft may come out different from what you meant.",
	Counts: "fettle reads lists separated by semicolons or spaces, rows with a colon instead of =, numbers in quotation marks and full-width digits as you most likely meant them, and reports them. " +
		"It names letters typed for digits. Rules that depend on an unreadable row don't run.",
	Remedy: "Write the value that the finding asks for. " +
		"The fix is certain if all numbers are declared shafts or treadles and all rows of the table agree; otherwise it needs --risky.",
	Default: schema.Error,
	Faulty:  lint.Example{Draft: "[TIEUP]\n1=1;2\n2=2;3\n3=3;4\n4=1;4\n"},
	Fixed:   lint.Example{Draft: "[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n"},
	SafeOff: "never; other rules can't see an unreadable value",
	Source:  "WIF 1.1 (1997) as fettle understands it",
	Data: []lint.Field{{Key: "section", Text: "the section"}, {Key: "key", Text: "the key or row"},
		{Key: "value", Text: "the value as written"}, {Key: "expected", Text: "what the key takes, or what to write"}},
	Fixable: true,

	Keys:     []string{"section", "key", "value"},
	ByText:   true,
	Measures: []lint.Measure{},
}
