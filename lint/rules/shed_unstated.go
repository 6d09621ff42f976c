package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var shedUnstated = lint.Rule{
	ID:    "draft/shed-unstated",
	Title: "the draft does not say whether its shafts rise or sink",
	Why: "A tie-up is read one way on a loom whose shafts rise and the other way on one whose shafts sink; the wrong way gives the cloth face down. " +
		"Where a draft does not say which is meant, rising is taken here, and another program may take the other.",
	Default: schema.Note,
	Faulty:  lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=4\n"},
	Mended:  lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=true\n"},
	SafeOff: "where both sides of the cloth are alike, or all drafts are for one kind of loom",
	Source:  "common practice, no source",
	Fixable: true,
	Weave:   true,
	Check:   checkShedUnstated,

	Keys:     []string{},
	Measures: []lint.Measure{},
}

func checkShedUnstated(p *lint.Pass) {
	if p.Draft.Shed != schema.ShedUnstated {
		return
	}
	at := schema.Place{Part: schema.PartWeaving, Field: schema.FieldShed}
	p.Report(at, schema.Data{},
		"the draft does not say whether the shafts it names rise or sink; they are taken to rise: state it, so that the cloth does not come face down")
	offer(p, "say that the shafts rise", true, func(e schema.Editor) []schema.Edit { return e.Set(at, schema.Rising.String()) })
}
