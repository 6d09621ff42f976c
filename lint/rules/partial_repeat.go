package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/wording"
)

var partialRepeat = lint.Rule{
	ID:    "draft/partial-repeat",
	Title: "the cloth ends in the middle of a repeat",
	Why: "If the threads aren't a whole number of repeats, the pattern breaks when you weave the draft several times side by side. " +
		"A few extra threads are often there to balance the pattern at the other edge; they belong in the balance of the warp, not in each repeat.",
	Counts: "fettle finds the repeat in the cloth itself, not in the threading, and reports it if there are at least two whole ones. " +
		"It doesn't report a cloth that is the same from both edges, because the extra threads balance it, nor a draft of the whole work from fettle plan.",
	Remedy:  "Add or delete threads, or move the extra ones to balance under [project].",
	Default: schema.Note,
	Faulty: lint.Example{Draft: "[WARP]\nThreads=10\nColor=1\nUnits=Centimeters\nSpacing=0.1\n" +
		"[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n9=1\n10=2\n"},
	Fixed: lint.Example{Draft: "[WARP]\nThreads=12\nColor=1\nUnits=Centimeters\nSpacing=0.1\n" +
		"[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n9=1\n10=2\n11=3\n12=4\n"},
	SafeOff: "for drafts that show the whole cloth, balanced at both edges",
	Source:  "Osterkamp, for balancing ends; the repeat is computed",
	Data: []lint.Field{{Key: "system", Text: "warp or weft"}, {Key: "repeat", Text: "threads in one repeat"},
		{Key: "over", Text: "threads after the last whole repeat"}},
	Weave: true,
	Check: checkPartialRepeat,

	Keys:     []string{"system"},
	Measures: []lint.Measure{},
}

func checkPartialRepeat(p *lint.Pass) {
	if p.Draft.IsWholeWork() {
		return // nobody repeats it
	}
	ends, picks := p.Cloth().Repeat()
	reportRepeat(p, schema.Warp, p.Draft.Ends(), ends)
	reportRepeat(p, schema.Weft, p.Draft.Picks(), picks)
}

func reportRepeat(p *lint.Pass, system schema.SystemName, threads, repeat int) {
	if repeat == 0 || threads%repeat == 0 || threads < 2*repeat {
		return
	}
	if weaves, _ := p.Cloth().Alike(system); cloth.Symmetric(weaves) {
		return
	}
	thread, _ := threadsOf(system)
	left, whole := threads%repeat, threads/repeat
	p.Report(systemPlace(system),
		schema.Data{{Key: "system", Value: string(system)}, {Key: "repeat", Value: repeat}, {Key: "over", Value: left}},
		"%d %ss are %s of %d and %d over; add %d, or delete %d, unless they balance the pattern",
		threads, thread, wording.Counted(whole, "repeat"), repeat, left, repeat-left, left)
}
