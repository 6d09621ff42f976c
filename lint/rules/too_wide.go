package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var tooWide = lint.Rule{
	ID:    "loom/too-wide",
	Title: "the warp is wider in the reed than the loom weaves",
	Why: "A warp wider than the loom's weaving width cannot be beamed and beaten on it. " +
		"The width is that in the reed, by the sett as it can be sleyed, of all the draft's repeats and balancing ends; the cloth comes out narrower.",
	Default: schema.Error,
	Faulty:  lint.Example{Settings: "[loom]\nweaving width = 60 cm\n[project]\nsett = 10/cm\nrepeats = 100\n"},
	Mended:  lint.Example{Settings: "[loom]\nweaving width = 60 cm\n[project]\nsett = 10/cm\nrepeats = 75\n"},
	SafeOff: "for a collection that is looked through without a loom in mind",
	Source:  "width in the reed = ends ÷ sett, as in C. P. Brooks, Cotton Manufacturing",
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
