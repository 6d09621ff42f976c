package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var tooWide = lint.Rule{
	ID:    "loom/too-wide",
	Title: "the warp is wider in the reed than the loom weaves",
	Why:   "You can't beam or beat a warp that is wider than the loom's weaving width.",
	Counts: "Width in the reed is ends ÷ sett, for the sett that the reed can give, with all repeats and the balance. " +
		"The finished cloth is narrower.",
	Remedy:  "Use fewer ends, fewer repeats or a closer sett.",
	Default: schema.Error,
	Faulty:  lint.Example{Settings: "[loom]\nweaving width = 60 cm\n[project]\nsett = 10/cm\nrepeats = 100\n"},
	Fixed:   lint.Example{Settings: "[loom]\nweaving width = 60 cm\n[project]\nsett = 10/cm\nrepeats = 75\n"},
	SafeOff: "for a collection that isn't meant for one loom",
	Source:  "Brooks",
	Data: []lint.Field{{Key: "width_mm", Text: "width of the warp in the reed, in mm"},
		{Key: "limit_mm", Text: "weaving width of the loom, in mm"}},
	Check: checkTooWide,

	Keys:     []string{},
	Measures: []lint.Measure{{Key: "width_mm", Over: "limit_mm"}},
}

func checkTooWide(p *lint.Pass) {
	if wide, ok := p.Figures.TooWide(); ok {
		p.Report(warpPlace(p), schema.Data{{Key: "width_mm", Value: float64(wide.Width)}, {Key: "limit_mm", Value: float64(wide.Limit)}}, "%s", Words(wide, p.Units()))
	}
}
