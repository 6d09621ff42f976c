package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var treadleCount = lint.Rule{
	ID:    "draft/treadle-count",
	Title: "the draft names more treadles than it declares",
	Why: "The declared number of treadles tells a weaver whether the tie-up fits the loom, and other programs make room for as many. " +
		"Where tie-up or treadling name a higher treadle, either the number is wrong or a treadle is mistyped.",
	Default: schema.Error,
	Faulty:  lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=3\nRising Shed=true\n"},
	Mended:  lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=true\n"},
	SafeOff: "never; either number misleads",
	Source:  "common practice, no source",
	Data:    []lint.Field{{Key: "declared", Text: "treadles declared"}, {Key: "used", Text: "the highest treadle named"}},
	Fixable: true,
	Check:   checkTreadleCount,
}

func checkTreadleCount(p *lint.Pass) {
	d := p.Draft
	used := d.HighestTreadle()
	if d.Treadles == 0 || used <= d.Treadles {
		return
	}
	at := schema.Place{Part: schema.PartWeaving, Field: schema.FieldTreadles}
	p.Report(at, schema.Data{{Key: "declared", Value: d.Treadles}, {Key: "used", Value: used}},
		"the draft declares %s and names treadle %d; declare %d, or put right what is mistyped", schema.Counted(d.Treadles, "treadle"), used, used)
	declare(p, at, used, false)
}
