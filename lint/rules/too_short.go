package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var tooShort = lint.Rule{
	ID:      "reed/too-short",
	Title:   "the reed has too few dents for the warp",
	Why:     "You sley from the centre to both sides. If the reed ends first, you must take everything out again.",
	Counts:  "Dents = ends ÷ ends per dent, for the whole warp, in the order that fettle takes for the sett.",
	Remedy:  "Use a longer reed, fewer ends or a closer sett.",
	Default: schema.Error,
	Faulty:  lint.Example{Settings: "[reed]\ndents = 5/cm\nwidth = 60 cm\n[project]\nsett = 10/cm\nrepeats = 100\n"},
	Fixed:   lint.Example{Settings: "[reed]\ndents = 5/cm\nwidth = 80 cm\n[project]\nsett = 10/cm\nrepeats = 100\n"},
	SafeOff: "for a collection that isn't meant for one loom",
	Source:  "Brooks",
	Data:    []lint.Field{{Key: "dents_needed", Text: "dents that the warp takes"}, {Key: "dents", Text: "dents of the reed"}},
	Check:   checkTooShort,

	Keys:     []string{},
	Measures: []lint.Measure{{Key: "dents_needed", Over: "dents"}},
}

func checkTooShort(p *lint.Pass) {
	if short, ok := p.Figures.ReedTooShort(); ok {
		p.Report(warpPlace(p), schema.Data{{Key: "dents_needed", Value: short.Needed}, {Key: "dents", Value: short.Dents}}, "%s", Words(short, p.Units()))
	}
}
