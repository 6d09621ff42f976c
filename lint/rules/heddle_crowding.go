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
	Title: "the heddles of a shaft stand closer than they should",
	Why: "Heddles crowded on one shaft rub on each other and on the warp, the shed does not clear, and ends break. " +
		"The same ends spread over more shafts, as plain weave is on four instead of two, stand easier. " +
		"How close is too close depends on the heddles and the yarn.",
	Default: schema.Warning,
	Options: []lint.Option{{Name: "density", Kind: lint.PerCm, Default: 8, Text: "the most heddles to the centimetre on one shaft"}},
	Faulty: lint.Example{
		Draft:    "[WEAVING]\nShafts=2\nTreadles=2\nRising Shed=true\n[TIEUP]\n1=1\n2=2\n[THREADING]\n1=1\n2=2\n3=1\n4=2\n5=1\n6=2\n7=1\n8=2\n[TREADLING]\n1=1\n2=2\n3=1\n4=2\n5=1\n6=2\n7=1\n8=2\n",
		Settings: "[project]\nsett = 20/cm\n",
	},
	Mended: lint.Example{
		Draft:    "[WEAVING]\nShafts=4\nTreadles=2\nRising Shed=true\n[TIEUP]\n1=1,3\n2=2,4\n[TREADLING]\n1=1\n2=2\n3=1\n4=2\n5=1\n6=2\n7=1\n8=2\n",
		Settings: "[project]\nsett = 20/cm\n",
	},
	SafeOff: "with fine wire heddles: silk weavers stand 25 to 45 to the inch",
	Source: "J. T. Taylor, Cotton Weaving and Designing, 6th ed., for plain cloth on four shafts rather than two; " +
		"A. Wolfensberger, Theory of Silk Weaving, 2nd ed. 1921, for silk; the limit is common practice, no source",
	Data: []lint.Field{{Key: "shaft", Text: "the shaft"}, {Key: "per_cm", Text: "heddles in a centimetre of the width in the reed"},
		{Key: "limit", Text: "the limit, per cm"}},
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
	var first map[int]int // made when something is found
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
			"%s on shaft %d in a width of %s are %s, over the limit of %s; spread its ends over more shafts, or take a more open sett",
			wording.Counted(h.Needed, "heddle"), h.Shaft, u.Length(measure.Length(width.Value)), u.Density(measure.Density(perCm.Value)), u.Density(measure.Density(limit)))
	}
}

// firstEnds is the first end on each shaft that carries one.
func firstEnds(threading *schema.Rows) map[int]int {
	first := map[int]int{}
	for end := threading.Len(); end >= 1; end-- {
		for _, shaft := range threading.Row(end) {
			first[int(shaft)] = end
		}
	}
	return first
}
