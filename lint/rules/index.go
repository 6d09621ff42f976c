package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var index = lint.Rule{
	ID:    schema.FileIndex,
	Title: "a row of a table stands beyond what it belongs to",
	Why: "The rows of color, spacing and symbol tables belong to ends, picks or palette entries, and a row beyond them belongs to nothing. " +
		"A count or a row number far beyond all that is listed is a slip, and no room is made for it. " +
		"Rows, shafts, treadles and colors are numbered from 1: tables numbered from 0 are named, and numbered anew at your word only.",
	Default: schema.Error,
	Faulty:  lint.Example{Draft: "[WARP COLORS]\n3=2\n12=2\n"},
	Mended:  lint.Example{Draft: "[WARP COLORS]\n3=2\n"},
	SafeOff: "where tables are known to run on and the rows beyond are not wanted",
	Source:  "the interchange text format, version 1.1, from memory",
	Data: []lint.Field{{Key: "section", Text: "the section"}, {Key: "index", Text: "the number of the row, or the count"},
		{Key: "limit", Text: "the highest that can be meant"}},
	Fixable: true,

	Keys:     []string{"section", "index"},
	ByText:   true,
	Measures: []lint.Measure{},
}
