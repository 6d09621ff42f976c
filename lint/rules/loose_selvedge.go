package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/cloth"
)

var looseSelvedge = lint.Rule{
	ID:    "cloth/loose-selvedge",
	Title: "a single shuttle misses the edge at some turns",
	Why:   "A turn of the weft holds only if the edge end changes sides between the two picks. Otherwise the weft slips back and leaves a loop.",
	Counts: "fettle counts the missed turns for a first pick from the left and from the right. " +
		"A draft with several weft colors takes several shuttles and isn't judged.",
	Remedy:  "Start from the better side, or use floating selvedges.",
	Default: schema.Note,
	Faulty:  lint.Example{Draft: "[TREADLING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=3\n"},
	Mended:  lint.Example{Draft: "[TREADLING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	SafeOff: "if you always use floating selvedges, or a separate selvedge",
	Source:  "computed from the interlacement",
	Data: []lint.Field{{Key: "misses_from_left", Text: "turns missed if the first pick starts at the left edge"},
		{Key: "misses_from_right", Text: "turns missed if it starts at the right edge, where end 1 is"},
		{Key: "best_start", Text: "the side with fewer misses, left or right; left if they are equal"}},
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
		"one shuttle misses the edge at %d of %d turns if it starts from the left, %d from the right; start from %s, and use floating selvedges",
		s.MissesFromLeft, s.Turns, s.MissesFromRight, side)
}
