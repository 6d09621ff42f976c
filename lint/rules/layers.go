package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var layers = lint.Rule{
	ID:    "cloth/layers",
	Title: "the cloth falls apart into layers",
	Why: "In double weave two cloths lie one on top of the other. " +
		"In a single cloth, separate layers mean a mistake in the tie-up or threading.",
	Counts: "Two parts are separate layers if no end or pick of one ever passes to the other side of the other. " +
		"Tubes and double-width cloth are joined at the edge, but still count as two layers: a draft doesn't show where the weft turns.",
	Remedy:  "Check the tie-up and the threading.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[TIEUP]\n1=1\n2=1,2,3\n3=3\n4=1,3,4\n"},
	Fixed:   lint.Example{Draft: "[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n"},
	SafeOff: "for double weave, tubes and double-width cloth",
	Source:  "Clapham; the layers are the strongly connected components of the crossings",
	Data:    []lint.Field{{Key: "layers", Text: "the number of layers with both ends and picks"}},
	Weave:   true,
	Check:   checkLayers,

	Keys:     []string{},
	Measures: []lint.Measure{{Key: "layers"}},
}

func checkLayers(p *lint.Pass) {
	if p.Draft.Ends() == 0 || p.Draft.Picks() == 0 {
		return
	}
	if n := p.Cloth().Layers(); n > 1 {
		p.Report(schema.Place{Part: schema.PartThreading}, schema.Data{{Key: "layers", Value: n}},
			"the cloth falls apart into %d separate layers; unless you want double weave, check the tie-up and threading", n)
	}
}
