package rules

import (
	"fmt"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

var yarnMargin = lint.Rule{
	ID:    "yarn/margin",
	Title: "the yarn is enough only if nothing is lost",
	Why:   "Take-up, shrinkage and loom waste always cost yarn. Losses that you don't state count as 0, so a stock that just covers the figures runs out before the end.",
	Counts: fmt.Sprintf("fettle computes the yarn again with the usual size of each loss that isn't stated: take-up %g %%, shrinkage of the warp %g %%, weft take-up %g %%, loom waste %g cm. ",
		100*schema.UsualTakeUp, 100*schema.UsualShrinkageWarp, 100*schema.UsualWeftTakeUp, schema.UsualLoomWaste/measure.Length(10)) +
		"It reports a yarn if the stock covers the first figure but not the second. " +
		"These are rules of thumb for cotton and wool on a floor loom; for silk, or on a small loom, they are too high.",
	Remedy:  "State the losses under [project], measured on a sample, or get more yarn.",
	Default: schema.Warning,
	Faulty: lint.Example{Settings: "[project]\nsett = 10/cm\npicks = 10/cm\nfinished length = 10 m\n" +
		"[yarn natural]\ngrist = 100 tex\nstock = 170 m\n"},
	Fixed: lint.Example{Settings: "[project]\nsett = 10/cm\npicks = 10/cm\nfinished length = 10 m\n" +
		"take-up = 2 %\nshrinkage = 1 %\nweft take-up = 2 %\nloom waste = 10 cm\n" +
		"[yarn natural]\ngrist = 100 tex\nstock = 170 m\n"},
	SafeOff: "if you buy yarn after you plan, or always keep a reserve",
	Source:  "the ranges of the usual losses are in print; the one number for each is a rule of thumb",
	Data: []lint.Field{{Key: "yarn", Text: "the yarn"}, {Key: "needed_m", Text: "metres needed if nothing unstated is lost"},
		{Key: "usual_m", Text: "metres needed with the usual losses"}, {Key: "stock_m", Text: "metres you have"},
		{Key: "short_m", Text: "metres short of the second figure"}, {Key: "unstated", Text: "the losses that aren't stated"}},
	Check: checkYarnMargin,

	Keys:     []string{"yarn"},
	Measures: []lint.Measure{{Key: "short_m"}},
}

func checkYarnMargin(p *lint.Pass) {
	u := p.Units()
	for _, m := range p.Figures.YarnMargins() {
		var unstated []string
		for _, key := range m.Unstated {
			unstated = append(unstated, "[project] "+key)
		}
		name := p.Setup.Yarns[m.Yarn].Name
		p.Report(yarnPlace(p, m.Yarn),
			schema.Data{{Key: "yarn", Value: wording.Plain(name, 60)}, {Key: "needed_m", Value: m.Needed}, {Key: "usual_m", Value: m.Usual},
				{Key: "stock_m", Value: m.Stock}, {Key: "short_m", Value: m.Short}, {Key: "unstated", Value: unstated}},
			"yarn %s is enough only if nothing is lost: with usual losses it takes %s and you have %s, %s short; state %s, or get more",
			wording.Quote(name), u.YarnNeeded(m.Usual), u.YarnThere(m.Stock), u.YarnShort(m.Stock, m.Usual), wording.Listed(unstated))
	}
}
