package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var treadleCount = lint.Rule{
	ID:    lint.TreadleCount,
	Title: "the draft uses more treadles than it declares",
	Why: "The number of treadles tells a weaver whether the tie-up fits the loom, and other programs rely on it. " +
		"If the draft uses a higher treadle, either the number or the treadle is wrong.",
	Counts: "If a single pick uses the treadle, fettle takes it as a typing mistake, such as 33 for 3: it reports that pick, the fix is risky, and the weave isn't judged until you correct it. " +
		"If tie-up and treadling use every treadle up to the highest, the declared number is wrong.",
	Remedy:  "Declare the right number, or correct the row.",
	Default: schema.Error,
	Faulty:  lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=3\nRising Shed=true\n"},
	Fixed:   lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=true\n"},
	SafeOff: "never; a wrong number misleads weavers and programs",
	Source:  "rule of thumb",
	Data:    []lint.Field{{Key: "declared", Text: "treadles declared"}, {Key: "used", Text: "the highest treadle used"}},
	Fixable: true,
	Check:   checkTreadleCount,

	Keys:     []string{},
	ByText:   true, // a mistake in a row is one finding, the declared number another
	Measures: []lint.Measure{{Key: "used", Over: "declared"}},
}

func checkTreadleCount(p *lint.Pass) {
	reportAbove(p, "treadle", schema.FieldTreadles, p.Draft.Treadles, p.Figures.TreadlesAbove())
}
