package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

var liftConflict = lint.Rule{
	ID:    "draft/lift-conflict",
	Title: "lift plan and treadling disagree about a pick",
	Why: "A draft may say what rises twice, by its treadles and by a lift plan, and both have to weave the same cloth. " +
		"Where they differ, a dobby weaver and a treadle weaver get different cloth from one draft, and neither is told. " +
		"The lift plan is taken here.",
	Default: schema.Error,
	Faulty:  lint.Example{Draft: "[LIFTPLAN]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n5=1,3\n6=2,3\n7=3,4\n8=1,4\n"},
	Mended:  lint.Example{Draft: "[LIFTPLAN]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n5=1,2\n6=2,3\n7=3,4\n8=1,4\n"},
	SafeOff: "where the tie-up is only a relic and everyone weaves by the lift plan",
	Source:  "common practice, no source",
	Data:    []lint.Field{{Key: "picks", Text: "the picks about which they disagree"}, {Key: "count", Text: "how many they are"}},
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
		"at %s the treadles lift other shafts than the lift plan, which is taken here; put one of them right, or take one out",
		wording.Numbered("pick", picks))
	if d.Treadling.Len() > max(d.Weft.Threads, d.LiftPlan.Len()) {
		return // the last picks are only in the treadling
	}
	offer(p, "take tie-up and treadling out, since the lift plan is taken", true, func(e schema.Editor) []schema.Edit {
		var p patch
		p.need(e.Drop(schema.Place{Part: schema.PartTieup}))
		p.need(e.Drop(schema.Place{Part: schema.PartTreadling}))
		return p.whole()
	})
}
