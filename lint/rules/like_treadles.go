package rules

import (
	"slices"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

var likeTreadles = lint.Rule{
	ID:    "draft/like-treadles",
	Title: "several treadles tie the same shafts",
	Why: "Treadles that are tied alike weave the same. One of them is enough, and the others are free for something else. " +
		"Or one of them was tied wrong.",
	Counts:  "fettle looks at treadles that the treadling presses. Tying one shed twice is useful if you want to press treadles with each foot by turns.",
	Remedy:  "Press one treadle for all these picks, or correct the tie-up.",
	Default: schema.Note,
	Faulty: lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=5\nRising Shed=true\n[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n5=1,2\n" +
		"[TREADLING]\n1=1\n2=2\n3=3\n4=4\n5=5\n6=2\n7=3\n8=4\n"},
	Fixed: lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=true\n[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n" +
		"[TREADLING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	SafeOff: "if you tie treadles twice to walk them with both feet",
	Source:  "rule of thumb",
	Data:    []lint.Field{{Key: "treadles", Text: "the treadles that are tied alike"}},
	Weave:   true,
	Check:   checkLikeTreadles,

	Keys:     []string{"treadles"},
	Measures: []lint.Measure{},
}

func checkLikeTreadles(p *lint.Pass) {
	for _, treadles := range likeTreadlesOf(p.Draft) {
		p.Report(schema.Place{Part: schema.PartTieup, Row: treadles[1]}, schema.Data{{Key: "treadles", Value: treadles}},
			"%s tie the same shafts; one of them is enough, unless you want to change feet", wording.Numbered("treadle", treadles))
	}
}

// likeTreadlesOf returns the groups of treadles in use that tie the same shafts. There are
// none if a lift plan says what to lift.
func likeTreadlesOf(d *schema.Draft) (groups [][]int) {
	if d.LiftPlan.Len() > 0 {
		return nil
	}
	of := likeRows(&d.Tieup)
	if of == nil {
		return nil
	}
	pressed := make([]bool, len(of)+1)
	for pick := 1; pick <= d.Treadling.Len(); pick++ {
		for _, t := range d.Treadling.Row(pick) {
			if int(t) < len(pressed) {
				pressed[t] = true
			}
		}
	}
	alike := make([][]int, len(of))
	for t := 1; t <= len(of); t++ {
		if pressed[t] && len(d.Tieup.Row(t)) > 0 {
			alike[of[t-1]] = append(alike[of[t-1]], t)
		}
	}
	for _, treadles := range alike {
		if len(treadles) > 1 {
			groups = append(groups, treadles)
		}
	}
	return groups
}

// likeRows returns a number for each row, the same for equal rows; nil if no two rows that
// name anything are equal. Comparing few rows with each other takes no memory, which counts
// because most drafts have no equal rows.
func likeRows(rows *schema.Rows) []int {
	few, alike := rows.Len() <= mostTreadles, false
	for n := 2; n <= rows.Len() && few; n++ {
		for m := 1; m < n && !alike; m++ {
			row := rows.Row(n)
			alike = len(row) > 0 && slices.Equal(row, rows.Row(m))
		}
	}
	if few && !alike {
		return nil
	}
	_, of := rows.Distinct()
	return of
}
