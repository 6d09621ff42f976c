package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var shedUnstated = lint.Rule{
	ID:    "draft/shed-unstated",
	Title: "the draft doesn't say whether its shafts rise or sink",
	Why: "A tie-up works one way on a loom with rising shafts and the other way on one with sinking shafts. " +
		"The wrong way weaves the cloth face down.",
	Counts:  "fettle takes the shafts to rise; another program may take them to sink.",
	Remedy:  "State Rising Shed in the section WEAVING.",
	Default: schema.Note,
	Faulty:  lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=4\n"},
	Fixed:   lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=true\n"},
	SafeOff: "if both sides of the cloth are alike, or all your drafts are for one kind of loom",
	Source:  "rule of thumb",
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
		"the draft doesn't say whether its shafts rise or sink; fettle takes them to rise, so state it if they sink")
	offer(p, "state that the shafts rise", true, func(e schema.Editor) []schema.Edit { return e.Set(at, schema.Rising.String()) })
}
