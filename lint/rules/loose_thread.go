package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var looseThread = lint.Rule{
	ID:    "cloth/loose-thread",
	Title: "a thread isn't woven in",
	Why: "An end that never changes sides, or a pick that passes over or under every end, can be pulled straight out of the cloth. " +
		"Usually a shaft is missing from the tie-up, or the threading names a shaft that nothing lifts.",
	Counts:  "fettle skips floating selvedges if the project has them.",
	Remedy:  "Check the threading and the tie-up.",
	Default: schema.Error,
	Faulty: lint.Example{Draft: "[WEAVING]\nShafts=5\nTreadles=4\nRising Shed=true\n" +
		"[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=5\n6=2\n7=3\n8=4\n"},
	Fixed: lint.Example{Draft: "[WEAVING]\nShafts=5\nTreadles=4\nRising Shed=true\n" +
		"[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	SafeOff: "for stuffer ends or laid-in picks that only lie inside the cloth",
	Source:  "Clapham",
	Data: []lint.Field{{Key: "system", Text: "warp or weft"}, {Key: "threads", Text: "the loose ends or picks"},
		{Key: "count", Text: "number of loose threads"}},
	Weave: true,
	Check: checkLooseThread,

	Keys:     []string{"system"},
	Measures: []lint.Measure{{Key: "count"}},
}

func checkLooseThread(p *lint.Pass) {
	if p.Draft.Ends() == 0 || p.Draft.Picks() == 0 {
		return
	}
	p.Cloth() // ends the rule if the cloth is too large
	for _, system := range []schema.SystemName{schema.Warp, schema.Weft} {
		loose := p.Figures.LooseThreads(system)
		count := len(loose.Threads)
		if count == 0 {
			continue
		}
		p.Report(p.Draft.ThreadPlace(system, loose.Threads[0]),
			schema.Data{{Key: "system", Value: string(system)}, {Key: "threads", Value: loose.Threads}, {Key: "count", Value: count}},
			"%s", looseWords(loose))
		p.Mark(system, loose.Threads...)
	}
}
