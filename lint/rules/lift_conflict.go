package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

var liftConflict = lint.Rule{
	ID:    "draft/lift-conflict",
	Title: "lift plan and treadling disagree about a pick",
	Why: "A draft can say what to lift twice: by its treadles and by a lift plan. " +
		"If they differ, a dobby weaver and a treadle weaver get different cloth from one draft.",
	Counts:  "fettle uses the lift plan.",
	Remedy:  "Correct or delete one of the two. fettle clean --risky deletes the tie-up and treadling.",
	Default: schema.Error,
	Faulty:  lint.Example{Draft: "[LIFTPLAN]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n5=1,3\n6=2,3\n7=3,4\n8=1,4\n"},
	Fixed:   lint.Example{Draft: "[LIFTPLAN]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n5=1,2\n6=2,3\n7=3,4\n8=1,4\n"},
	SafeOff: "if the tie-up is out of date and everyone weaves by the lift plan",
	Source:  "rule of thumb",
	Data:    []lint.Field{{Key: "picks", Text: "the picks that differ"}, {Key: "count", Text: "number of picks that differ"}},
	Fixable: true,
	Weave:   true,
	Check:   checkLiftConflict,

	Keys:     []string{},
	Measures: []lint.Measure{{Key: "count"}},
}

func checkLiftConflict(p *lint.Pass) {
	d := p.Draft
	if d.LiftPlan.Len() == 0 || d.Tieup.Count() == 0 || d.Treadling.Count() == 0 {
		return
	}
	picks := p.Cloth().LiftConflicts()
	if len(picks) == 0 {
		return
	}
	p.Report(d.PickPlace(picks[0]), schema.Data{{Key: "picks", Value: picks}, {Key: "count", Value: len(picks)}},
		"the treadles and the lift plan disagree at %s; fettle uses the lift plan, so correct or delete one of them",
		wording.Numbered("pick", picks))
	p.Mark(schema.Weft, picks...)
	if d.Treadling.Len() > max(d.Weft.Threads, d.LiftPlan.Len()) {
		return // only the treadling has the last picks
	}
	offer(p, "delete the tie-up and treadling, and keep the lift plan", true, func(e schema.Editor) []schema.Edit {
		var p patch
		p.need(e.Drop(schema.Place{Part: schema.PartTieup}))
		p.need(e.Drop(schema.Place{Part: schema.PartTreadling}))
		return p.whole()
	})
}
