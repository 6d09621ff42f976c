package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var duplicate = lint.Rule{
	ID:    lint.Duplicate,
	Title: "another file of the same run weaves the same cloth",
	Why: "In a library that many people add to, one cloth comes in again under another title, threaded another way, mirrored, turned over or in other colors. " +
		"Cloths are compared, not files: whichever threading, tie-up, treadling or lift plan makes it, the same interlacement is the same cloth. " +
		"The finding stands in the file that comes later and names the earlier one; a run over a single file finds none.",
	Default: schema.Note,
	Faulty:  lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	Mended:  lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=4\n6=3\n7=2\n8=1\n"},
	SafeOff: "where variations of a cloth are collected on purpose",
	Source:  "the definition of a cloth by what lies over what at each crossing",
	Data: []lint.Field{
		{Key: "path", Text: "the earlier file"},
		{Key: "how", Text: "identical, or what sets the two apart: mirrored, picks reversed, turned over, in other colors"},
	},

	Keys:     []string{},
	Measures: []lint.Measure{},
}
