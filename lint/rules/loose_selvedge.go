package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/cloth"
)

var looseSelvedge = lint.Rule{
	ID:    "cloth/loose-selvedge",
	Title: "a single shuttle does not catch the edge at every turn",
	Why: "When the weft turns at an edge it holds only if the edge end changes sides between the two picks; else the weft slips back and leaves a loop. " +
		"Which turns are missed depends on the side the first pick starts from, so both are counted: start from the better side, or hang floating selvedges. " +
		"Drafts with several weft colors are woven with several shuttles and are not judged.",
	Default: schema.Note,
	Faulty:  lint.Example{Draft: "[TREADLING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=3\n"},
	Mended:  lint.Example{Draft: "[TREADLING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	SafeOff: "where floating selvedges, or a temple and a selvedge of its own, are always used",
	Source:  "computed from the interlacement: an edge is caught when its end changes between the two picks",
	Data: []lint.Field{{Key: "misses_from_left", Text: "turns missed when the first pick starts at the left edge"},
		{Key: "misses_from_right", Text: "turns missed when it starts at the right edge, where end 1 is"},
		{Key: "best_start", Text: "the side with fewer misses, left or right; left where they are alike"}},
	Weave: true,
	Check: checkLooseSelvedge,

	Keys:     []string{},
	Measures: []lint.Measure{{Key: "misses_from_left"}, {Key: "misses_from_right"}},
}

func checkLooseSelvedge(p *lint.Pass) {
	if p.Setup.Project.FloatingSelvedge || cloth.SeveralShuttles(p.Draft) {
		return
	}
	s := p.Cloth().Selvedge()
	if s.MissesFromLeft == 0 || s.MissesFromRight == 0 {
		return
	}
	side := "the " + s.BestStart()
	if s.MissesFromLeft == s.MissesFromRight {
		side = "either side"
	}
	p.Report(schema.EndPlace(1),
		schema.Data{{Key: "misses_from_left", Value: s.MissesFromLeft}, {Key: "misses_from_right", Value: s.MissesFromRight},
			{Key: "best_start", Value: s.BestStart()}},
		"one shuttle misses the edge at %d of %d turns started from the left, and at %d from the right; start from %s, with floating selvedges or another shaft for the edge ends",
		s.MissesFromLeft, s.Turns, s.MissesFromRight, side)
}
