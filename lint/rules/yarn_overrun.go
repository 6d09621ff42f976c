package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

var yarnOverrun = lint.Rule{
	ID:    "yarn/overrun",
	Title: "the work takes more of a yarn than there is",
	Why: "Yarn from another dye lot never quite matches, so it is best to know before winding that there is enough. " +
		"What is needed follows from the ends, the warp length with take-up and loom waste, and the picks; all colors that the yarn stands for are summed, warp and weft. " +
		"Take-up and shrinkage are rules of thumb until a sample is woven: leave a little over.",
	Default: schema.Error,
	Faulty: lint.Example{Settings: "[project]\nsett = 10/cm\npicks = 10/cm\nfinished length = 10 m\ntake-up = 10 %\n" +
		"[yarn natural]\ngrist = 100 tex\nstock = 5 m\n"},
	Mended: lint.Example{Settings: "[project]\nsett = 10/cm\npicks = 10/cm\nfinished length = 10 m\ntake-up = 10 %\n" +
		"[yarn natural]\ngrist = 100 tex\nstock = 2 x 250 g\n"},
	SafeOff: "where the yarn is bought after the plan is made",
	Source:  "J. T. Taylor, Cotton Weaving and Designing, 6th ed., and C. P. Brooks, Cotton Manufacturing, for yarn from ends, picks, width and length",
	Data: []lint.Field{{Key: "yarn", Text: "the yarn"}, {Key: "needed_m", Text: "metres the work takes"},
		{Key: "stock_m", Text: "metres there are"}, {Key: "short_m", Text: "metres that lack"}},
	Check: checkYarnOverrun,

	Keys:     []string{"yarn"},
	Measures: []lint.Measure{{Key: "short_m"}},
}

func checkYarnOverrun(p *lint.Pass) {
	for _, short := range p.Figures.YarnsShort() {
		p.Report(yarnPlace(p, short.Yarn),
			schema.Data{{Key: "yarn", Value: wording.Plain(short.Name, 60)}, {Key: "needed_m", Value: short.Metres.Value},
				{Key: "stock_m", Value: short.Stock.Value}, {Key: "short_m", Value: short.Short.Value}}, "%s", Words(short, p.Units()))
	}
}
