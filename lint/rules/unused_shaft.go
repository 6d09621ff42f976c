package rules

import (
	"strconv"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

var unusedShaft = lint.Rule{
	ID:    "draft/unused-shaft",
	Title: "a shaft carries no end",
	Why: "A shaft without ends only takes up room, and the loom may lift it for nothing. " +
		"The draft may come from a larger one, or part of its threading is missing.",
	Counts:  "If the draft declares no number of shafts, fettle looks at all shafts up to the highest it uses.",
	Remedy:  "Add the missing ends, or let fettle clean --risky remove the shaft and renumber the rest.",
	Default: schema.Note,
	Faulty:  lint.Example{Draft: "[WEAVING]\nShafts=6\nTreadles=4\nRising Shed=true\n"},
	Fixed:   lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=true\n"},
	SafeOff: "if your drafts declare the shafts of the loom, not their own",
	Source:  "rule of thumb",
	Data:    []lint.Field{{Key: "shafts", Text: "the shafts without an end"}},
	Fixable: true,
	Weave:   true,
	Check:   checkUnusedShaft,

	Keys:     []string{},
	Measures: []lint.Measure{{Key: "shafts"}},
}

func checkUnusedShaft(p *lint.Pass) {
	d := p.Draft
	most := d.Shafts
	if most == 0 {
		most = d.HighestShaft()
	}
	shafts := unused(&d.Threading, most)
	if len(shafts) == 0 {
		return
	}
	at := schema.Place{Part: schema.PartWeaving, Field: schema.FieldShafts}
	reportUnused(p, at, "shaft", "end", shafts, wording.Plural(len(shafts), "carries", "carry")+" no end",
		func(e schema.Editor) []schema.Edit { return removeShafts(e, d) })
}

// removeShafts returns the edits that remove all shafts without an end.
func removeShafts(e schema.Editor, d *schema.Draft) []schema.Edit {
	rank := d.Threading.Ranks()
	var p patch
	if d.Shafts > 0 {
		p.need(e.Set(schema.Place{Part: schema.PartWeaving, Field: schema.FieldShafts}, strconv.Itoa(len(rank))))
	}
	p.setRows(e, schema.PartThreading, &d.Threading, rank)
	p.setRows(e, schema.PartTieup, &d.Tieup, rank)
	p.setRows(e, schema.PartLiftPlan, &d.LiftPlan, rank)
	return p.whole()
}
