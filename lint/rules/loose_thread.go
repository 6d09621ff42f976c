package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

var looseThread = lint.Rule{
	ID:    "cloth/loose-thread",
	Title: "a thread lies wholly above or below all others",
	Why: "An end that never changes, or a pick that passes over or under everything, is not woven in: it can be pulled straight out of the cloth. " +
		"Mostly a shaft is missing from the tie-up, or the threading names one that nothing lifts. " +
		"Floating selvedges, where the project has them, are left out.",
	Default: schema.Error,
	Faulty: lint.Example{Draft: "[WEAVING]\nShafts=5\nTreadles=4\nRising Shed=true\n" +
		"[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=5\n6=2\n7=3\n8=4\n"},
	Mended:  lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	SafeOff: "for stuffer ends or laid-in picks that only lie within the cloth",
	Source:  "Clapham, When a fabric hangs together, Bulletin of the London Mathematical Society 12 (1980), from memory",
	Data: []lint.Field{{Key: "system", Text: "warp or weft"}, {Key: "threads", Text: "the loose ends or picks"},
		{Key: "count", Text: "how many they are"}},
	Weave: true,
	Check: checkLooseThread,

	Keys:     []string{"system"},
	Measures: []lint.Measure{{Key: "count"}},
}

func checkLooseThread(p *lint.Pass) {
	if p.Draft.Ends() == 0 || p.Draft.Picks() == 0 {
		return
	}
	p.Cloth() // one that is too large ends the rule here
	for _, system := range []schema.SystemName{schema.Warp, schema.Weft} {
		loose := p.Figures.LooseThreads(system)
		count := len(loose.Threads)
		if count == 0 {
			continue
		}
		_, crossed := threadsOf(system)
		p.Report(p.Draft.ThreadPlace(system, loose.Threads[0]),
			schema.Data{{Key: "system", Value: string(system)}, {Key: "threads", Value: loose.Threads}, {Key: "count", Value: count}},
			"%s on one side of every %s and %s not woven in; %s", looseWords(loose), crossed, wording.Plural(count, "is", "are"), lookAtShafts)
	}
}
