package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var duplicate = lint.Rule{
	ID:    lint.Duplicate,
	Title: "another file of the same run weaves the same cloth",
	Why:   "In a shared library the same cloth often comes in again: under another title, threaded another way, mirrored, turned over or in other colors.",
	Counts: "fettle compares cloths, not files. " +
		"Two drafts are the same cloth if the same threads lie on top at every crossing, whatever their threading, tie-up, treadling or lift plan. " +
		"The finding is at the path that sorts last and names the one that sorts first, or the one that you name first on the command line. " +
		"That doesn't say which draft is older or better. It takes a run over at least two files.",
	Remedy:  "Keep one of the two, or say in the title how they differ.",
	Default: schema.Note,
	Faulty:  lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	Fixed:   lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=4\n6=3\n7=2\n8=1\n"},
	SafeOff: "if you collect variations of a cloth on purpose",
	Source:  "computed from the interlacement",
	Data: []lint.Field{
		{Key: "path", Text: "the other file: the first with that cloth"},
		{Key: "how", Text: "identical, or what differs: mirrored, picks reversed, turned over, in other colors"},
	},

	Keys:     []string{},
	Measures: []lint.Measure{},
}
