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
	Why:   "If the ends are too close, you can't beat the weft in and the warp breaks. Most cloth is set at 75 to 80 % of the maximum.",
	Counts: "Ashenhurst's rule gives how many ends of a yarn fit side by side in an inch; the weave says how much of that room the weft needs. " +
		"The rule is for firm yarns in a single cloth: k is 0.84 for woollen yarns, and mills go up to 0.95 for cotton. fettle doesn't judge cloth in layers.",
	Remedy:  "Use a more open sett, or a finer yarn. Weave a sample.",
	Default: schema.Warning,
	Options: []lint.Option{{Name: "k", Kind: lint.Number, Default: dressing.UsualK, Text: "thread diameters per inch ÷ √(yards per pound)"},
		{Name: "percent", Kind: lint.Percent, Default: 100, Text: "the most, in percent of the maximum sett"}},
	Faulty:  lint.Example{Settings: "[project]\nsett = 40/in\n[yarn natural]\ngrist = 8/2 cotton\n"},
	Mended:  lint.Example{Settings: "[project]\nsett = 26/in\n[yarn natural]\ngrist = 8/2 cotton\n"},
	SafeOff: "for warp-faced cloth, bands and rep, which are set closer on purpose",
	Source:  "Ashenhurst; Faena, for 8/2 cotton at 26 ends per inch in plain weave; Taylor, for k",
	Data: []lint.Field{{Key: "yarn", Text: "the yarn"}, {Key: "sett_per_cm", Text: "the sett, in ends per cm"},
		{Key: "max_per_cm", Text: "the maximum for this yarn in this weave"}, {Key: "percent", Text: "the sett in percent of the maximum"}},
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
		"a sett of %s is %s %% of the maximum for yarn %s in this weave, %s; open it to about %s, or use a finer yarn",
		u.Sett(sett), wording.Decimal(percent, 0), wording.Quote(yarn), u.Sett(most), u.RoughSett(most*0.8))
}
