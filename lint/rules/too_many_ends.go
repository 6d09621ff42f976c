package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/dressing"
)

var tooManyEnds = lint.Rule{
	ID:    "loom/too-many-ends",
	Title: "the whole warp has more ends than fettle plans",
	Why: "A warp of over a million ends is not woven by hand: a repeat count or a finished width has a digit or a unit too many. " +
		"fettle works out no width, yarn or heddles for such a warp, so no rule about them reports anything until this is put right. " +
		"All the ends count: those of the draft, times the repeats, plus the balance.",
	Default: schema.Error,
	Faulty:  lint.Example{Settings: "[project]\nrepeats = 200000\n"},
	Mended:  lint.Example{Settings: "[project]\nrepeats = 20\n"},
	SafeOff: "never; the draft is not checked against loom, reed, heddles and yarn",
	Source:  "common practice, no source",
	Data:    []lint.Field{{Key: "ends", Text: "ends of the whole warp"}, {Key: "limit", Text: "the most that fettle plans"}},
	Check:   checkTooManyEnds,

	Keys:     []string{},
	Measures: []lint.Measure{{Key: "ends"}},
}

func checkTooManyEnds(p *lint.Pass) {
	if many, refused := p.Figures.TooManyEnds(); refused {
		p.Report(systemPlace(schema.Warp), schema.Data{{Key: "ends", Value: many.Ends}, {Key: "limit", Value: dressing.MostEnds}}, "%s", many)
	}
}
