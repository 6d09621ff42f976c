package rules

import (
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
	Mended: lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=true\n[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n" +
		"[TREADLING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	SafeOff: "if you tie treadles twice to walk them with both feet",
	Source:  "common practice, no source",
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
	first := firstRows(&d.Tieup)
	if first == nil {
		return nil
	}
	pressed := make([]bool, d.Tieup.Len()+1)
	for pick := 1; pick <= d.Treadling.Len(); pick++ {
		for _, t := range d.Treadling.Row(pick) {
			if int(t) < len(pressed) {
				pressed[t] = true
			}
		}
	}
	alike := make([][]int, len(pressed)) // by the first treadle that is tied so
	for t := 1; t < len(pressed); t++ {
		if pressed[t] && len(d.Tieup.Row(t)) > 0 {
			alike[first[t-1]] = append(alike[first[t-1]], t)
		}
	}
	for _, treadles := range alike {
		if len(treadles) > 1 {
			groups = append(groups, treadles)
		}
	}
	return groups
}

// firstRows returns for each row the index of an equal row, the same for all of them; nil if
// no two rows are equal.
func firstRows(rows *schema.Rows) []int {
	different, of := rows.Distinct()
	if len(different) == len(of) {
		return nil
	}
	return of
}
