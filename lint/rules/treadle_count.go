package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var treadleCount = lint.Rule{
	ID:    "draft/treadle-count",
	Title: "the draft names more treadles than it declares",
	Why: "The declared number of treadles tells a weaver whether the tie-up fits the loom, and other programs make room for as many. " +
		"Where tie-up or treadling name a higher treadle, either the number is wrong or a treadle is mistyped. " +
		"Where one pick alone, or the tie-up alone, names the highest treadle, it may well be mistyped, and the fix that declares it is made at your word only; else the number is wrong.",
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
	where, once := namedOnce(used, naming{"pick", &d.Treadling})
	switch tied := used == d.Tieup.Len(); {
	case tied && where == "":
		where, once = "the tie-up", true
	case tied:
		once = false
	}
	reportHigher(p, "treadle", schema.FieldTreadles, d.Treadles, used, where, once)
}
