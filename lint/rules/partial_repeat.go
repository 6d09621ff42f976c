package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

var partialRepeat = lint.Rule{
	ID:    "draft/partial-repeat",
	Title: "the cloth ends in the middle of a repeat",
	Why: "Where the weave repeats and the threads are no whole number of repeats, the draft cannot be set beside itself: the pattern breaks at the join. " +
		"A few threads over are often meant, to balance the pattern at the other edge; then they belong to the balance of the whole warp and not into each repeat.",
	Default: schema.Note,
	Faulty: lint.Example{Draft: "[WARP]\nThreads=10\nColor=1\nUnits=Centimeters\nSpacing=0.1\n" +
		"[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n9=1\n10=2\n"},
	Mended: lint.Example{Draft: "[WARP]\nThreads=12\nColor=1\nUnits=Centimeters\nSpacing=0.1\n" +
		"[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n9=1\n10=2\n11=3\n12=4\n"},
	SafeOff: "for drafts that show the whole cloth, balanced at both edges",
	Source:  "P. Osterkamp, weaving tips (2004–2023), for balancing ends; the repeat is counted from the cloth itself",
	Data: []lint.Field{{Key: "system", Text: "warp or weft"}, {Key: "repeat", Text: "threads of one repeat"},
		{Key: "over", Text: "threads beyond the last whole repeat"}},
	Weave: true,
	Check: checkPartialRepeat,

	Keys:     []string{"system"},
	Measures: []lint.Measure{},
}

func checkPartialRepeat(p *lint.Pass) {
	ends, picks := p.Cloth().Repeat()
	reportRepeat(p, schema.Warp, p.Draft.Ends(), ends)
	reportRepeat(p, schema.Weft, p.Draft.Picks(), picks)
}

func reportRepeat(p *lint.Pass, system schema.SystemName, threads, repeat int) {
	if repeat == 0 || threads%repeat == 0 {
		return
	}
	thread, _ := threadsOf(system)
	left, whole := threads%repeat, threads/repeat
	p.Report(systemPlace(system),
		schema.Data{{Key: "system", Value: string(system)}, {Key: "repeat", Value: repeat}, {Key: "over", Value: left}},
		"%d %ss are %s of %d and %d over; if they do not balance the pattern, add %d or leave %d out",
		threads, thread, wording.Counted(whole, "repeat"), repeat, left, repeat-left, left)
}
