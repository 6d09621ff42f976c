package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/wording"
)

var yarnWeftSett = lint.Rule{
	ID:    "yarn/weft-sett",
	Title: "the picks are closer than the weft and the weave allow",
	Why:   "You can't beat in more picks than there is room for. The cloth then comes out longer than planned, and the weft runs out.",
	Counts: "The maximum is Ashenhurst's, by the size of the weft and the intersections of the ends. A pattern weft lies over its tabby, so only the tabby counts. " +
		"fettle reports picks over the maximum. If the warp is set under half of its own maximum, or that is unknown, the cloth may be weft-faced, and the limit is twice the maximum. " +
		"The rule of thumb is for firm yarns; it is too strict for soft ones and for a very fine warp.",
	Remedy:  "Plan fewer picks, or use a finer weft. Weave a sample.",
	Default: schema.Note,
	Faulty:  lint.Example{Settings: "[project]\nsett = 20/in\npicks = 40/in\n[yarn natural]\ngrist = 8/2 cotton\n"},
	Fixed:   lint.Example{Settings: "[project]\nsett = 20/in\npicks = 20/in\n[yarn natural]\ngrist = 8/2 cotton\n"},
	SafeOff: "for tapestry, rugs and other weft-faced cloth",
	Source:  "Ashenhurst, for the maximum; the factor for weft-faced cloth is a rule of thumb",
	Data: []lint.Field{{Key: "yarn", Text: "the yarn"}, {Key: "picks_per_cm", Text: "the picks per cm; of the tabby alone if there is one"},
		{Key: "max_per_cm", Text: "the maximum for this yarn in this weave"}, {Key: "percent", Text: "the picks in percent of the maximum"}},
	Weave: true,
	Check: checkYarnWeftSett,

	Keys:     []string{"yarn"},
	Measures: []lint.Measure{{Key: "percent"}},
}

func checkYarnWeftSett(p *lint.Pass) {
	if len(p.Setup.Yarns) == 0 || !p.Figures.Picks().Known() || p.Cloth().Layers() > 1 {
		return
	}
	limit := 200.0
	if _, percent := nearestMaximum(p); percent >= facedPercent {
		limit = 100
	}
	u := p.Units()
	for _, weft := range p.Figures.WeftMaximums() {
		percent := 100 * float64(weft.Picks/weft.Maximum)
		if !dressing.Over(percent, limit) {
			continue
		}
		name := p.Setup.Yarns[weft.Yarn].Name
		p.Report(spacingPlace(p, schema.Weft),
			schema.Data{{Key: "yarn", Value: wording.Plain(name, 60)}, {Key: "picks_per_cm", Value: float64(weft.Picks)},
				{Key: "max_per_cm", Value: float64(weft.Maximum)}, {Key: "percent", Value: percent}},
			"picks of %s are %s %% of the maximum for weft %s in this weave, %s; plan about %s, or use a finer yarn",
			u.Sett(weft.Picks), wording.Decimal(percent, 0), wording.Quote(name), u.Sett(weft.Maximum), u.RoughSett(weft.Maximum*0.8))
	}
}
