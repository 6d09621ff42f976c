package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var layers = lint.Rule{
	ID:    "cloth/layers",
	Title: "the cloth falls apart into layers",
	Why: "Where no end and no pick of one part ever passes to the other side of another part, the two are separate cloths that lie one on the other. " +
		"That is what double weave wants, and nothing else does: in a single cloth a slip in tie-up or threading has cut it in two. " +
		"A tube or a cloth of double width hangs together at its edge and still shows here, since the turn of the weft is not drawn.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[TIEUP]\n1=1\n2=1,2,3\n3=3\n4=1,3,4\n"},
	Mended:  lint.Example{Draft: "[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n"},
	SafeOff: "for double weave, tubes and cloth of double width",
	Source: "Clapham, When a fabric hangs together, Bulletin of the London Mathematical Society 12 (1980), from memory; " +
		"the layers are the strongly connected parts of the crossings",
	Data:  []lint.Field{{Key: "layers", Text: "parts that hold ends and picks"}},
	Weave: true,
	Check: checkLayers,

	Keys:     []string{},
	Measures: []lint.Measure{{Key: "layers"}},
}

func checkLayers(p *lint.Pass) {
	if p.Draft.Ends() == 0 || p.Draft.Picks() == 0 {
		return
	}
	if n := p.Cloth().Layers(); n > 1 {
		p.Report(schema.Place{Part: schema.PartThreading}, schema.Data{{Key: "layers", Value: n}},
			"the cloth falls apart into %d layers that no thread joins; unless double weave is meant, look for a slip in tie-up or threading", n)
	}
}
