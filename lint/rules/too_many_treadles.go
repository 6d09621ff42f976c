package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var tooManyTreadles = lint.Rule{
	ID:    "loom/too-many-treadles",
	Title: "the draft needs more treadles than the loom has",
	Why:   "Every treadle in the treadling must exist on the loom.",
	Counts: "A draft with only a lift plan needs one treadle for each different lift, pressed with one foot. fettle skips looms without treadles. " +
		"If the treadles are enough with several pressed together, the finding is a warning: as many as [loom] treadles at once says, or two, except on a counterbalance loom. " +
		"fettle searches for such a tie-up for a limited number of steps, so an error can be too strict; fettle fit searches longer.",
	Remedy:  "Use a dobby with a lift plan, or renumber or combine treadles as the finding suggests.",
	Default: schema.Error,
	Faulty:  lint.Example{Settings: "[loom]\nshafts = 4\ntreadles = 3\n"},
	Fixed:   lint.Example{Settings: "[loom]\nshafts = 4\ntreadles = 4\n"},
	SafeOff: "if you press several treadles at once and work out the tie-up at the loom",
	Source:  "rule of thumb",
	Data: []lint.Field{{Key: "needed", Text: "the highest treadle in the draft, or the different lifts of its lift plan"},
		{Key: "available", Text: "treadles of the loom"}},
	Check: checkTooManyTreadles,

	Keys:     []string{},
	Measures: []lint.Measure{{Key: "needed", Over: "available"}},
}

func checkTooManyTreadles(p *lint.Pass) {
	if p.Figures.NeedsLifts() {
		p.Cloth() // ends the rule if the cloth is too large
	}
	if many, ok := p.Figures.TooManyTreadles(); ok {
		severity := schema.Error
		if many.PressedTogether() {
			severity = schema.Warning
		}
		p.ReportSeverity(severity, schema.Place{Part: schema.PartWeaving, Field: schema.FieldTreadles},
			schema.Data{{Key: "needed", Value: many.Needed}, {Key: "available", Value: many.Available}}, "%s", Words(many, p.Units()))
	}
}
