package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/dressing"
)

var tooManyEnds = lint.Rule{
	ID:    "loom/too-many-ends",
	Title: "the warp has more ends than fettle can plan",
	Why:   "Nobody weaves a warp of over a million ends by hand: a repeat count or a finished width has a digit too many or the wrong unit.",
	Counts: "fettle counts the draft's ends for every repeat, and the balance. " +
		"Until you correct it, rules about width, yarn and heddles don't run.",
	Remedy:  "Correct the setting that the finding names.",
	Default: schema.Error,
	Faulty:  lint.Example{Settings: "[project]\nrepeats = 200000\n"},
	Fixed:   lint.Example{Settings: "[project]\nrepeats = 20\n"},
	SafeOff: "never; fettle can't check the draft against the loom, reed, heddles and yarn",
	Source:  "rule of thumb",
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
