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
		"Picks of one weft color are judged by the tightest weave that they repeat, so overshot is held to its tabby. If that takes up less than a tenth of the picks, such as a plain hem, the finding is a note. " +
		"Where yarns alternate in the warp, their average diameter counts. " +
		"k follows from the count of the yarn: 0.84 for woollen run, cut and skein, 0.92 for cotton and linen, 0.9 for all others; mills go up to 0.95 for cotton. " +
		"The rule of thumb is for firm yarns in a single cloth, and it is too strict for a soft weft that is beaten hard. fettle doesn't judge cloth in layers.",
	Remedy:  "Use a more open sett, or a finer yarn. Weave a sample.",
	Default: schema.Warning,
	Options: []lint.Option{{Name: "k", Kind: lint.Number, Default: dressing.UsualK, Text: "thread diameters per inch ÷ √(yards per pound), for all yarns; unless you state it, it follows from the count of each"},
		{Name: "percent", Kind: lint.Percent, Default: 100, Text: "the most, in percent of the maximum sett"}},
	Faulty:  lint.Example{Settings: "[project]\nsett = 40/in\n[yarn natural]\ngrist = 8/2 cotton\n"},
	Fixed:   lint.Example{Settings: "[project]\nsett = 26/in\n[yarn natural]\ngrist = 8/2 cotton\n"},
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
	limit, _ := p.Option("percent")
	for _, m := range p.Figures.MaximumSetts(statedK(p)) {
		yarn := p.Setup.Yarns[m.Yarn].Name
		switch {
		case !m.Leads: // the thicker yarn of its repeat has the same maximum
		case dressing.Over(100*float64(sett/m.Maximum), limit):
			reportYarnSett(p, schema.Warning, yarn, sett, m.Maximum)
		case dressing.Over(100*float64(sett/m.Brief), limit):
			reportYarnSett(p, schema.Note, yarn, sett, m.Brief)
		}
	}
}

// statedK returns the k that the settings state for the rule, or 0.
func statedK(p *lint.Pass) float64 {
	k, stated := p.Option("k")
	if !stated {
		return 0
	}
	return k
}

func reportYarnSett(p *lint.Pass, severity schema.Severity, yarn string, sett, most measure.Density) {
	u, percent, where := p.Units(), 100*float64(sett/most), "in this weave"
	if severity == schema.Note {
		where = "in the tightest part of this weave"
	}
	p.ReportSeverity(severity, warpPlace(p),
		schema.Data{{Key: "yarn", Value: wording.Plain(yarn, 60)}, {Key: "sett_per_cm", Value: float64(sett)}, {Key: "max_per_cm", Value: float64(most)}, {Key: "percent", Value: percent}},
		"a sett of %s is %s %% of the maximum for yarn %s %s, %s; open it to about %s, or use a finer yarn",
		u.Sett(sett), wording.Decimal(percent, 0), wording.Quote(yarn), where, u.Sett(most), u.RoughSett(most*0.8))
}
