package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var encoding = lint.Rule{
	ID:    schema.FileEncoding,
	Title: "the text is not plain UTF-8, or its lines end in an odd way",
	Why: "Old programs wrote accented letters in the code page of their machine, and what is read with another one shows wrong letters in titles and names. " +
		"Lines that end in a lone carriage return, or in several ways within a file, are taken for one long line by some programs. " +
		"The draft reads all the same.",
	Default: schema.Note,
	Faulty:  lint.Example{Draft: "[TEXT]\nTitle=Gr\xfcner Schal\n"},
	Mended:  lint.Example{Draft: "[TEXT]\nTitle=Grüner Schal\n"},
	SafeOff: "where the program that takes the drafts wants that encoding",
	Source:  "common practice, no source",
	Data: []lint.Field{{Key: "encoding", Text: "the encoding as --encoding names it, or how the lines end"},
		{Key: "alternatives", Text: "other encodings it may be in, where that is not clear"}},
	Fixable: true,

	Keys:     []string{"encoding"},
	Measures: []lint.Measure{},
}
