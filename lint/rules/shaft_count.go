package rules

import (
	"fmt"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/wording"
)

var shaftCount = lint.Rule{
	ID:    lint.ShaftCount,
	Title: "the draft names more shafts than it declares",
	Why: "The declared number of shafts is what a weaver reads first to see whether a draft fits the loom, and what other programs make room for. " +
		"Where threading, tie-up or lift plan name a higher shaft, either the number is wrong or a shaft is mistyped. " +
		"A shaft that one row alone names is most likely mistyped, above all where a key was struck twice, as in 33 for 3. " +
		"The finding is then at that row, its fix is risky, and the weave is judged only once it is right. Where several rows name every shaft up to the highest, the declared number is wrong.",
	Default: schema.Error,
	Faulty:  lint.Example{Draft: "[WEAVING]\nShafts=3\nTreadles=4\nRising Shed=true\n"},
	Mended:  lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=true\n"},
	SafeOff: "never; either number misleads",
	Source:  "common practice, no source",
	Data:    []lint.Field{{Key: "declared", Text: "shafts declared"}, {Key: "used", Text: "the highest shaft named"}},
	Fixable: true,
	Check:   checkShaftCount,

	Keys:     []string{},
	ByText:   true, // a slip in a row is one, the declared number another
	Measures: []lint.Measure{{Key: "used", Over: "declared"}},
}

func checkShaftCount(p *lint.Pass) {
	reportAbove(p, "shaft", schema.FieldShafts, p.Draft.Shafts, p.Figures.ShaftsAbove())
}

// reportAbove reports what a draft names above the shafts, or treadles, that it
// declares: each slip at its row, and the declared number where it is wrong.
func reportAbove(p *lint.Pass, what string, field schema.Field, declared int, above dressing.Above) {
	at := schema.Place{Part: schema.PartWeaving, Field: field}
	for _, slip := range above.Slips {
		p.Report(slip.At, schema.Data{{Key: "declared", Value: declared}, {Key: "used", Value: slip.Number}}, "%s", slipWords(slip))
		switch {
		case slip.Meant == 0:
			declare(p, at, slip.Number, true)
		case slip.Fixed == nil:
			offerChange(p, fmt.Sprintf("tie treadle %d", slip.Meant), func(e schema.Editor) []schema.Edit { return e.Renumber(slip.At, slip.Meant) })
		default:
			offerChange(p, fmt.Sprintf("have %s name %s %d", slipRow(slip), what, slip.Meant), func(e schema.Editor) []schema.Edit { return e.SetRow(slip.At, slip.Fixed) })
		}
	}
	if declared == 0 || above.Highest <= declared {
		return
	}
	todo := "declare %d"
	if !above.Sure {
		todo = "correct the slip, or declare %d"
	}
	p.Report(at, schema.Data{{Key: "declared", Value: declared}, {Key: "used", Value: above.Highest}},
		"the draft declares %s and names %s %d; "+todo, wording.Counted(declared, what), what, above.Highest, above.Highest)
	declare(p, at, above.Highest, !above.Sure)
}
