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
	Title: "the draft uses more shafts than it declares",
	Why: "A weaver first looks at the number of shafts to see whether a draft fits the loom, and other programs rely on it. " +
		"If the draft uses a higher shaft, either the number or the shaft is wrong.",
	Counts: "If a single row uses the shaft, fettle takes it as a typing mistake, such as 33 for 3: it reports that row, the fix is risky, and the weave isn't judged until you correct it. " +
		"If several rows use every shaft up to the highest, the declared number is wrong.",
	Remedy:  "Declare the right number, or correct the row.",
	Default: schema.Error,
	Faulty:  lint.Example{Draft: "[WEAVING]\nShafts=3\nTreadles=4\nRising Shed=true\n"},
	Fixed:   lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=true\n"},
	SafeOff: "never; a wrong number misleads weavers and programs",
	Source:  "rule of thumb",
	Data:    []lint.Field{{Key: "declared", Text: "shafts declared"}, {Key: "used", Text: "the highest shaft used"}},
	Fixable: true,
	Check:   checkShaftCount,

	Keys:     []string{},
	ByText:   true, // a mistake in a row is one finding, the declared number another
	Measures: []lint.Measure{{Key: "used", Over: "declared"}},
}

func checkShaftCount(p *lint.Pass) {
	reportAbove(p, "shaft", schema.FieldShafts, p.Draft.Shafts, p.Figures.ShaftsAbove())
}

// reportAbove reports shafts, or treadles, above the declared number: each mistake at
// its row, and the declared number if that is wrong.
func reportAbove(p *lint.Pass, what string, field schema.Field, declared int, above dressing.Above) {
	at := schema.Place{Part: schema.PartWeaving, Field: field}
	for _, typo := range above.Typos {
		p.Report(typo.At, schema.Data{{Key: "declared", Value: declared}, {Key: "used", Value: typo.Number}}, "%s", typoWords(typo))
		switch {
		case typo.Meant == 0:
			declare(p, at, typo.Number, true)
		case typo.Fixed == nil:
			offerChange(p, fmt.Sprintf("number it treadle %d", typo.Meant), func(e schema.Editor) []schema.Edit { return e.Renumber(typo.At, typo.Meant) })
		default:
			offerChange(p, fmt.Sprintf("change %s to %s %d", typoRow(typo), what, typo.Meant), func(e schema.Editor) []schema.Edit { return e.SetRow(typo.At, typo.Fixed) })
		}
	}
	if declared == 0 || above.Highest <= declared {
		return
	}
	todo := "declare %d"
	if !above.Sure {
		todo = "correct the number, or declare %d"
	}
	p.Report(at, schema.Data{{Key: "declared", Value: declared}, {Key: "used", Value: above.Highest}},
		"the draft declares %s but uses %s %d; "+todo, wording.Counted(declared, what), what, above.Highest, above.Highest)
	declare(p, at, above.Highest, !above.Sure)
}
