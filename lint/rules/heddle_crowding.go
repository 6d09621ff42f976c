package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

var heddleCrowding = lint.Rule{
	ID:    "loom/heddle-crowding",
	Title: "the heddles of a shaft are too close together",
	Why: "Crowded heddles rub on each other and on the warp, the shed doesn't open clearly, and ends break. " +
		"Spread over more shafts, such as plain weave on four instead of two, the same ends have more room.",
	Counts:  "fettle divides the heddles on each shaft by the width in the reed. How close is too close depends on the heddles and the yarn.",
	Remedy:  "Spread the ends over more shafts, or use a more open sett.",
	Default: schema.Warning,
	Options: []lint.Option{{Name: "density", Kind: lint.PerCm, Default: 8, Text: "the most heddles per cm on one shaft"}},
	Faulty: lint.Example{
		Settings: "[project]\nsett = 40/cm\n",
	},
	Fixed: lint.Example{
		Settings: "[project]\nsett = 32/cm\n",
	},
	SafeOff: "with fine wire heddles: silk weavers use 25 to 45 to the inch",
	Source:  "Taylor, for plain weave on four shafts; Wolfensberger, for silk; the limit is a rule of thumb",
	Data: []lint.Field{{Key: "shaft", Text: "the shaft"}, {Key: "per_cm", Text: "heddles per cm of the width in the reed"},
		{Key: "limit", Text: "the limit per cm"}},
	Check: checkHeddleCrowding,

	Keys:     []string{"shaft"},
	Measures: []lint.Measure{{Key: "per_cm"}},
}

func checkHeddleCrowding(p *lint.Pass) {
	limit, _ := p.Option("density")
	width := p.Figures.Width()
	if !width.Known || !dressing.Over(float64(p.Figures.Sleyed()), limit) {
		return // no shaft has more heddles than there are ends
	}
	var first map[int]int // filled on the first finding
	for _, h := range p.Figures.Heddles() {
		perCm := h.PerCm(width)
		if !perCm.Known || !dressing.Over(perCm.Value, limit) {
			continue
		}
		if first == nil {
			first = firstEnds(&p.Draft.Threading)
		}
		u := p.Units()
		p.Report(schema.EndPlace(first[h.Shaft]),
			schema.Data{{Key: "shaft", Value: h.Shaft}, {Key: "per_cm", Value: perCm.Value}, {Key: "limit", Value: limit}},
			"%s on shaft %d in %s make %s (limit %s); spread the ends over more shafts, or use a more open sett",
			wording.Counted(h.Needed, "heddle"), h.Shaft, u.Length(measure.Length(width.Value)), u.Density(measure.Density(perCm.Value)), u.Density(measure.Density(limit)))
	}
}

func firstEnds(threading *schema.Rows) map[int]int {
	first := map[int]int{}
	for end := threading.Len(); end >= 1; end-- {
		for _, shaft := range threading.Row(end) {
			first[int(shaft)] = end
		}
	}
	return first
}
