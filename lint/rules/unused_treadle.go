package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var unusedTreadle = lint.Rule{
	ID:    "draft/unused-treadle",
	Title: "a treadle is never pressed",
	Why: "A treadle that no pick presses need not be tied, which saves crawling under the loom. " +
		"It may also be a sign that a part of the treadling is missing.",
	Default: schema.Note,
	Faulty:  lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=6\nRising Shed=true\n[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n5=1,3\n6=2,4\n"},
	Mended:  lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=true\n[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n"},
	SafeOff: "where a tie-up serves several treadlings, each in a draft of its own",
	Source:  "common practice, no source",
	Data:    []lint.Field{{Key: "treadles", Text: "the treadles that no pick presses"}},
	Check:   checkUnusedTreadle,
}

func checkUnusedTreadle(p *lint.Pass) {
	d := p.Draft
	most := d.Treadles
	if most == 0 {
		most = d.HighestTreadle()
	}
	treadles := unused(&d.Treadling, most)
	if len(treadles) == 0 {
		return
	}
	at := schema.Place{Part: schema.PartTieup, Row: treadles[0]}
	if d.Tieup.Len() < treadles[0] {
		at = schema.Place{Part: schema.PartWeaving, Field: schema.FieldTreadles}
	}
	p.Report(at, schema.Data{{Key: "treadles", Value: treadles}},
		"%s %s never pressed; leave %s untied, or look whether picks are missing",
		numbered("treadle", treadles), plural(len(treadles), "is", "are"), plural(len(treadles), "it", "them"))
}
