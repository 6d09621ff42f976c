package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

var yarnSett = lint.Rule{
	ID:    "yarn/sett",
	Title: "the sett is closer than the yarn and the weave allow",
	Why: "Ashenhurst's rule says how many ends of a yarn lie side by side in an inch, and the weave says how much room the weft needs between them. " +
		"Closer than that the weft cannot be beaten in, and the warp breaks; most cloth is set at three quarters to four fifths of it. " +
		"The rule is for firm yarns in a single cloth, and a sample tells more: k is 0.84 for woollen yarns, and mills have gone up to 0.95 for cotton. " +
		"A cloth that falls apart into layers is not judged.",
	Default: schema.Warning,
	Options: []lint.Option{{Name: "k", Kind: lint.Number, Default: dressing.UsualK, Text: "diameters to the inch for the square root of the yards in a pound"},
		{Name: "percent", Kind: lint.Percent, Default: 100, Text: "how much of the greatest sett is allowed"}},
	Faulty:  lint.Example{Settings: "[project]\nsett = 40/in\n[yarn natural]\ngrist = 8/2 cotton\n"},
	Mended:  lint.Example{Settings: "[project]\nsett = 26/in\n[yarn natural]\ngrist = 8/2 cotton\n"},
	SafeOff: "for warp-faced cloth, bands and rep, which are set closer on purpose",
	Source: "Ashenhurst's rule as taught, with 8/2 cotton at 26 ends an inch in plain weave; " +
		"J. T. Taylor, Cotton Weaving and Designing, 6th ed., for k",
	Data: []lint.Field{{Key: "yarn", Text: "the yarn"}, {Key: "sett_per_cm", Text: "the sett, in ends per cm"},
		{Key: "max_per_cm", Text: "the greatest for this yarn in this weave"}, {Key: "percent", Text: "the sett in percent of that"}},
	Weave: true,
	Check: checkYarnSett,

	Keys:     []string{"yarn"},
	Measures: []lint.Measure{{Key: "percent"}},
}

func checkYarnSett(p *lint.Pass) {
	sett := p.Figures.Sett().Density
	if len(p.Setup.Yarns) == 0 || sett <= 0 {
		return
	}
	if _, refused := p.Figures.TooManyEnds(); refused || p.Cloth().Layers() > 1 {
		return
	}
	k, _ := p.Option("k")
	limit, _ := p.Option("percent")
	for _, use := range p.Figures.YarnUses() {
		yarn := p.Setup.Yarns[use.Yarn]
		most := dressing.MaximumSett(yarn.Grist, k, p.Cloth().WeaveValue())
		if use.WarpShare == 0 || most <= 0 {
			continue
		}
		if percent := 100 * float64(sett/most); dressing.Over(percent, limit) {
			reportYarnSett(p, yarn.Name, sett, most, percent)
		}
	}
}

func reportYarnSett(p *lint.Pass, yarn string, sett, most measure.Density, percent float64) {
	u := p.Units()
	p.Report(warpPlace(p),
		schema.Data{{Key: "yarn", Value: wording.Plain(yarn, 60)}, {Key: "sett_per_cm", Value: float64(sett)}, {Key: "max_per_cm", Value: float64(most)}, {Key: "percent", Value: percent}},
		"a sett of %s is %s %% of the closest that yarn %s can be woven at in this weave, %s; about %s is usual: open the sett, or take a finer yarn",
		u.Sett(sett), wording.Decimal(percent, 0), wording.Quote(yarn), u.Sett(most), u.RoughSett(most*0.8))
}
