package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/dressing"
)

var crowdedDent = lint.Rule{
	ID:    "reed/crowded-dent",
	Title: "too many ends share a dent",
	Why: "Many ends in one dent twist around each other, wear, and leave stripes at the wires of the reed. " +
		"A finer reed with fewer ends in each dent gives the same sett and a more even cloth.",
	Counts:  "fettle looks at the fullest dent of the sleying order.",
	Remedy:  "Use a finer reed, or a more open sett.",
	Default: schema.Warning,
	Options: []lint.Option{{Name: "ends", Kind: lint.Threads, Default: 4, Text: "the most ends in one dent"}},
	Faulty:  lint.Example{Settings: "[reed]\ndents = 20/10cm\n[project]\nsett = 10/cm\n"},
	Fixed:   lint.Example{Settings: "[reed]\ndents = 50/10cm\n[project]\nsett = 10/cm\n"},
	SafeOff: "for fine silk, or if you want reed marks",
	Source:  "the limit is a rule of thumb",
	Data:    []lint.Field{{Key: "ends_per_dent", Text: "ends in the fullest dent"}, {Key: "limit", Text: "the limit"}},
	Check:   checkCrowdedDent,

	Keys:     []string{},
	Measures: []lint.Measure{{Key: "ends_per_dent"}},
}

func checkCrowdedDent(p *lint.Pass) {
	sley, ok := p.Figures.Sleying()
	limit, _ := p.Option("ends")
	if !ok || sley.Fullest() <= int(limit) {
		return
	}
	u := p.Units()
	p.Report(warpPlace(p), schema.Data{{Key: "ends_per_dent", Value: sley.Fullest()}, {Key: "limit", Value: int(limit)}},
		"%s in a reed of %s puts %d ends in a dent (limit %d, sleyed %s); use a finer reed, or a more open sett",
		u.Density(sley.Wanted), u.Dents(sley.Reed), sley.Fullest(), int(limit), dressing.OrderText(sley.Order()))
}
