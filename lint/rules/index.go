package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var index = lint.Rule{
	ID:    schema.FileIndex,
	Title: "a row of a table is numbered beyond what it belongs to",
	Why: "Rows of color, spacing and symbol tables belong to ends, picks or palette entries. " +
		"A row beyond the last of them belongs to nothing, so its number is probably wrong.",
	Counts:  "Rows, shafts, treadles and colors count from 1. fettle also reports tables that count from 0, and counts or row numbers that are far too high.",
	Remedy:  "Correct the number, or delete the row. fettle clean --risky renumbers a table that counts from 0.",
	Default: schema.Error,
	Faulty:  lint.Example{Draft: "[WARP COLORS]\n3=2\n12=2\n"},
	Fixed:   lint.Example{Draft: "[WARP COLORS]\n3=2\n"},
	SafeOff: "if your tables run past the last thread and you don't need those rows",
	Source:  "WIF 1.1 (1997) as fettle understands it",
	Data: []lint.Field{{Key: "section", Text: "the section"}, {Key: "index", Text: "the number of the row, or the count"},
		{Key: "limit", Text: "the highest possible number"}},
	Fixable: true,

	Keys:     []string{"section", "index"},
	ByText:   true,
	Measures: []lint.Measure{},
}
