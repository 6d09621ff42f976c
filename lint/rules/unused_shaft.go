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
	Why: "A shaft without an end does nothing but take up room, and where tie-up or lift plan move it the loom lifts an empty shaft. " +
		"The draft may have been cut from a larger one, or a part of the threading be missing.",
	Default: schema.Note,
	Faulty:  lint.Example{Draft: "[WEAVING]\nShafts=6\nTreadles=4\nRising Shed=true\n"},
	Mended:  lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=true\n"},
	SafeOff: "where drafts declare the shafts of the loom and not their own",
	Source:  "common practice, no source",
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
	reportUnused(p, at, "shaft", shafts, wording.Plural(len(shafts), "carries", "carry")+" no end; look whether ends are missing",
		func(e schema.Editor) []schema.Edit { return leaveShaftsOut(e, d) })
}

// leaveShaftsOut gives the edits after which each shaft carries an end.
func leaveShaftsOut(e schema.Editor, d *schema.Draft) []schema.Edit {
	rank, count := ranks(&d.Threading)
	var p patch
	if d.Shafts > 0 {
		p.need(e.Set(schema.Place{Part: schema.PartWeaving, Field: schema.FieldShafts}, strconv.Itoa(count)))
	}
	p.setRows(e, schema.PartThreading, &d.Threading, rank)
	p.setRows(e, schema.PartTieup, &d.Tieup, rank)
	p.setRows(e, schema.PartLiftPlan, &d.LiftPlan, rank)
	return p.whole()
}
