package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var tooManyShafts = lint.Rule{
	ID:    "loom/too-many-shafts",
	Title: "the draft needs more shafts than the loom has",
	Why: "A draft that names a shaft the loom has not got cannot be threaded on it. " +
		"Where some shafts carry no end, numbering the others anew may make it fit, and the finding says so.",
	Default: schema.Error,
	Faulty:  lint.Example{Settings: "[loom]\nshafts = 3\n"},
	Mended:  lint.Example{Settings: "[loom]\nshafts = 4\n"},
	SafeOff: "for a collection that is looked through without a loom in mind",
	Source:  "common practice, no source",
	Data:    []lint.Field{{Key: "needed", Text: "the highest shaft the draft names"}, {Key: "available", Text: "shafts of the loom"}},
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
