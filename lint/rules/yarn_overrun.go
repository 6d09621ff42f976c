package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

var yarnOverrun = lint.Rule{
	ID:    "yarn/overrun",
	Title: "the project needs more of a yarn than you have",
	Why:   "Yarn from another dye lot rarely matches, so find out before you wind the warp.",
	Counts: "Warp yarn is ends × warp length, with take-up and loom waste; weft yarn follows from picks and width. fettle adds up all colors that the yarn is for. " +
		"Take-up and shrinkage are estimates until you weave a sample, so keep some yarn in reserve.",
	Remedy:  "Get more yarn, or weave fewer, shorter or narrower items.",
	Default: schema.Error,
	Faulty: lint.Example{Settings: "[project]\nsett = 10/cm\npicks = 10/cm\nfinished length = 10 m\ntake-up = 10 %\n" +
		"[yarn natural]\ngrist = 100 tex\nstock = 5 m\n"},
	Fixed: lint.Example{Settings: "[project]\nsett = 10/cm\npicks = 10/cm\nfinished length = 10 m\ntake-up = 10 %\n" +
		"[yarn natural]\ngrist = 100 tex\nstock = 2 x 250 g\n"},
	SafeOff: "if you buy yarn after you plan",
	Source:  "Taylor and Brooks, for yarn from ends, picks, width and length",
	Data: []lint.Field{{Key: "yarn", Text: "the yarn"}, {Key: "needed_m", Text: "metres needed"},
		{Key: "stock_m", Text: "metres you have"}, {Key: "short_m", Text: "metres short"}},
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
