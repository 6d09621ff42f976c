package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var tooManyTreadles = lint.Rule{
	ID:    "loom/too-many-treadles",
	Title: "the draft needs more treadles than the loom has",
	Why: "Each treadle that the treadling presses has to be there and be tied. " +
		"A draft with only a lift plan needs a treadle for each different lift when it is woven with one foot. " +
		"Nothing is said for a loom without treadles: its lifts come from a lift plan.",
	Default: schema.Error,
	Faulty:  lint.Example{Settings: "[loom]\nshafts = 4\ntreadles = 3\n"},
	Mended:  lint.Example{Settings: "[loom]\nshafts = 4\ntreadles = 4\n"},
	SafeOff: "where sheds are made with several treadles at once and the tie-up is worked out at the loom",
	Source:  "common practice, no source",
	Data: []lint.Field{{Key: "needed", Text: "the highest treadle the draft names, or the different lifts of its lift plan"},
		{Key: "available", Text: "treadles of the loom"}},
	Check: checkTooManyTreadles,

	Keys:     []string{},
	Measures: []lint.Measure{{Key: "needed", Over: "available"}},
}

func checkTooManyTreadles(p *lint.Pass) {
	if p.Figures.NeedsLifts() {
		p.Cloth() // one that is too large ends the rule here
	}
	if many, ok := p.Figures.TooManyTreadles(); ok {
		p.Report(schema.Place{Part: schema.PartWeaving, Field: schema.FieldTreadles},
			schema.Data{{Key: "needed", Value: many.Needed}, {Key: "available", Value: many.Available}}, "%s", Words(many, p.Units()))
	}
}
