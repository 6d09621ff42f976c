package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var tooManyShafts = lint.Rule{
	ID:      "loom/too-many-shafts",
	Title:   "the draft needs more shafts than the loom has",
	Why:     "You can't thread a draft on a loom that lacks one of its shafts.",
	Counts:  "The highest shaft that the draft names counts, even if some lower shafts carry no end.",
	Remedy:  "If some shafts are empty, fettle clean --risky may make the draft fit. Otherwise use another loom or another draft.",
	Default: schema.Error,
	Faulty:  lint.Example{Settings: "[loom]\nshafts = 3\n"},
	Fixed:   lint.Example{Settings: "[loom]\nshafts = 4\n"},
	SafeOff: "for a collection that isn't meant for one loom",
	Source:  "rule of thumb",
	Data:    []lint.Field{{Key: "needed", Text: "the highest shaft in the draft"}, {Key: "available", Text: "shafts of the loom"}},
	Check:   checkTooManyShafts,

	Keys:     []string{},
	Measures: []lint.Measure{{Key: "needed", Over: "available"}},
}

func checkTooManyShafts(p *lint.Pass) {
	if many, ok := p.Figures.TooManyShafts(); ok {
		p.Report(schema.Place{Part: schema.PartWeaving, Field: schema.FieldShafts},
			schema.Data{{Key: "needed", Value: many.Needed}, {Key: "available", Value: many.Available}}, "%s", Words(many, p.Units()))
	}
}
