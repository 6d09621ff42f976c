package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var tooShort = lint.Rule{
	ID:    "reed/too-short",
	Title: "the reed has fewer dents than the warp takes",
	Why: "Sleying starts at the centre and runs out to both sides; when the reed ends before the ends do, all of it has to come out again. " +
		"The dents are counted for the whole warp, in the order that comes nearest the sett.",
	Default: schema.Error,
	Faulty:  lint.Example{Settings: "[reed]\ndents = 5/cm\nwidth = 60 cm\n[project]\nsett = 10/cm\nrepeats = 100\n"},
	Mended:  lint.Example{Settings: "[reed]\ndents = 5/cm\nwidth = 80 cm\n[project]\nsett = 10/cm\nrepeats = 100\n"},
	SafeOff: "for a collection that is looked through without a loom in mind",
	Source:  "dents = ends ÷ ends in a dent, as in C. P. Brooks, Cotton Manufacturing",
	Data:    []lint.Field{{Key: "dents_needed", Text: "dents the warp takes"}, {Key: "dents", Text: "dents of the reed"}},
	Check:   checkTooShort,

	Keys:     []string{},
	Measures: []lint.Measure{{Key: "dents_needed", Over: "dents"}},
}

func checkTooShort(p *lint.Pass) {
	if short, ok := p.Figures.ReedTooShort(); ok {
		p.Report(warpPlace(p), schema.Data{{Key: "dents_needed", Value: short.Needed}, {Key: "dents", Value: short.Dents}}, "%s", Words(short, p.Units()))
	}
}
