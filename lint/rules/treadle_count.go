package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var treadleCount = lint.Rule{
	ID:    lint.TreadleCount,
	Title: "the draft names more treadles than it declares",
	Why: "The declared number of treadles tells a weaver whether the tie-up fits the loom, and other programs make room for as many. " +
		"Where tie-up or treadling name a higher treadle, either the number is wrong or a treadle is mistyped. " +
		"A treadle that one pick alone names is most likely mistyped, above all where a key was struck twice, as in 33 for 3. " +
		"The finding is then at that pick, its fix is risky, and the weave is judged only once it is right. Where tie-up and treadling name every treadle up to the highest, the declared number is wrong.",
	Default: schema.Error,
	Faulty:  lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=3\nRising Shed=true\n"},
	Mended:  lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=true\n"},
	SafeOff: "never; either number misleads",
	Source:  "common practice, no source",
	Data:    []lint.Field{{Key: "declared", Text: "treadles declared"}, {Key: "used", Text: "the highest treadle named"}},
	Fixable: true,
	Check:   checkTreadleCount,

	Keys:     []string{},
	ByText:   true, // a slip in a row is one, the declared number another
	Measures: []lint.Measure{{Key: "used", Over: "declared"}},
}

func checkTreadleCount(p *lint.Pass) {
	reportAbove(p, "treadle", schema.FieldTreadles, p.Draft.Treadles, p.Figures.TreadlesAbove())
}
