package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var shaftCount = lint.Rule{
	ID:    "draft/shaft-count",
	Title: "the draft names more shafts than it declares",
	Why: "The declared number of shafts is what a weaver reads first to see whether a draft fits the loom, and what other programs make room for. " +
		"Where threading, tie-up or lift plan name a higher shaft, either the number is wrong or a shaft is mistyped. " +
		"Where one row alone names the highest shaft, it may well be mistyped, and the fix that declares it is made at your word only; where several do, the number is wrong.",
	Default: schema.Error,
	Faulty:  lint.Example{Draft: "[WEAVING]\nShafts=3\nTreadles=4\nRising Shed=true\n"},
	Mended:  lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=true\n"},
	SafeOff: "never; either number misleads",
	Source:  "common practice, no source",
	Data:    []lint.Field{{Key: "declared", Text: "shafts declared"}, {Key: "used", Text: "the highest shaft named"}},
	Fixable: true,
	Check:   checkShaftCount,
}

func checkShaftCount(p *lint.Pass) {
	d := p.Draft
	used := d.HighestShaft()
	if d.Shafts == 0 || used <= d.Shafts {
		return
	}
	where, once := namedOnce(used, naming{"end", &d.Threading}, naming{"treadle", &d.Tieup}, naming{"pick", &d.LiftPlan})
	reportHigher(p, "shaft", schema.FieldShafts, d.Shafts, used, where, once)
}
