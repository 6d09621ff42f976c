package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var encoding = lint.Rule{
	ID:    schema.FileEncoding,
	Title: "the text isn't plain UTF-8, or its lines end in an unusual way",
	Why: "Old programs wrote accented letters in the code page of their machine, so titles and names can show wrong letters elsewhere. " +
		"Some programs read lines that end in a lone carriage return, or in several ways, as one long line.",
	Counts:  "fettle reads the draft all the same. If the encoding is unclear, the finding lists the alternatives.",
	Remedy:  "Let fettle clean save the file as UTF-8, or name the right encoding with --encoding.",
	Default: schema.Note,
	Faulty:  lint.Example{Draft: "[TEXT]\nTitle=Gr\xfcner Schal\n"},
	Fixed:   lint.Example{Draft: "[TEXT]\nTitle=Grüner Schal\n"},
	SafeOff: "if the program that reads your drafts needs that encoding",
	Source:  "rule of thumb",
	Data: []lint.Field{{Key: "encoding", Text: "the encoding as --encoding names it, or how the lines end"},
		{Key: "alternatives", Text: "other possible encodings, if it is unclear"}},
	Fixable: true,

	Keys:     []string{"encoding"},
	Measures: []lint.Measure{},
}
