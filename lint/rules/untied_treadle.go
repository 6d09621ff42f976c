package rules

import (
	"cmp"
	"slices"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

var untiedTreadle = lint.Rule{
	ID:    "draft/untied-treadle",
	Title: "the treadling uses a treadle that is tied to no shaft",
	Why: "An untied treadle opens no shed, so the pick is lost or lifts too little. " +
		"Either a column of the tie-up is blank, or the treadling names the wrong treadle.",
	Counts:  "If the draft has a lift plan, fettle uses that and doesn't look at the treadles.",
	Remedy:  "Tie the treadle, or correct the treadling.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n"},
	Fixed:   lint.Example{Draft: "[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n"},
	SafeOff: "for drafts whose tie-up you fill in at the loom",
	Source:  "rule of thumb",
	Data:    []lint.Field{{Key: "treadle", Text: "the treadle"}, {Key: "picks", Text: "the picks that press it"}},
	Weave:   true,
	Blocks:  blockedByGap,
	Check:   checkUntiedTreadle,

	Keys:     []string{"treadle"},
	Measures: []lint.Measure{{Key: "picks"}},
}

type press struct{ treadle, pick int }

func checkUntiedTreadle(p *lint.Pass) {
	d := p.Draft
	if d.LiftPlan.Len() > 0 {
		return
	}
	var idle []press
	for pick := 1; pick <= d.Treadling.Len(); pick++ {
		for _, treadle := range d.Treadling.Row(pick) {
			if len(d.Tieup.Row(int(treadle))) == 0 {
				idle = append(idle, press{int(treadle), pick})
			}
		}
	}
	slices.SortStableFunc(idle, func(a, b press) int { return cmp.Compare(a.treadle, b.treadle) })
	for len(idle) > 0 {
		treadle := idle[0].treadle
		var picks []int
		for len(idle) > 0 && idle[0].treadle == treadle {
			picks = append(picks, idle[0].pick)
			idle = idle[1:]
		}
		p.Report(schema.Place{Part: schema.PartTieup, Row: treadle},
			schema.Data{{Key: "treadle", Value: treadle}, {Key: "picks", Value: picks}},
			"treadle %d is tied to no shaft, but %s %s it; tie it, or correct the treadling",
			treadle, wording.Numbered("pick", picks), wording.Plural(len(picks), "presses", "press"))
		p.Mark(schema.Weft, picks...)
	}
}
