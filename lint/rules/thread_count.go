package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var threadCount = lint.Rule{
	ID:    "draft/thread-count",
	Title: "the draft lists more threads than it declares, or its treadling ends early",
	Why: "The declared number of ends is what the warp is wound by, and the declared number of picks is one treadling repeat. " +
		"Where the threading goes on beyond it, or the treadling stops short of it, one of the two is left over from an earlier state of the draft. " +
		"A threading may leave ends out without being wrong: those are ends on no shaft.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[WARP]\nThreads=6\nColor=1\nUnits=Centimeters\nSpacing=0.1\n"},
	Mended:  lint.Example{Draft: "[WARP]\nThreads=8\nColor=1\nUnits=Centimeters\nSpacing=0.1\n"},
	SafeOff: "where a collection is known to declare its threads carelessly and the tables are right",
	Source:  "common practice, no source",
	Data: []lint.Field{{Key: "system", Text: "warp or weft"}, {Key: "declared", Text: "threads declared"},
		{Key: "listed", Text: "the highest end of the threading, or the highest pick of treadling or lift plan"}},
	Fixable: true,
	Weave:   true,
	Check:   checkThreadCount,

	Keys:     []string{"system"},
	Measures: []lint.Measure{{Key: "listed", Over: "declared", Both: true}},
}

func checkThreadCount(p *lint.Pass) {
	d := p.Draft
	if listed := d.Threading.Len(); d.Warp.Threads > 0 && listed > d.Warp.Threads {
		reportThreadCount(p, schema.Warp, listed, "the threading goes on to end")
	}
	listed := max(d.Treadling.Len(), d.LiftPlan.Len())
	table := "treadling"
	if d.LiftPlan.Len() == listed {
		table = "lift plan"
	}
	switch declared := d.Weft.Threads; {
	case declared == 0 || listed == 0: // a draft without a treadling is for its reader to tell
	case listed > declared:
		reportThreadCount(p, schema.Weft, listed, "the "+table+" goes on to pick")
	case listed < declared:
		reportThreadCount(p, schema.Weft, listed, "the "+table+" ends at pick")
	}
}

func reportThreadCount(p *lint.Pass, system schema.SystemName, listed int, what string) {
	declared := p.Draft.Of(system).Threads
	thread, _ := threadsOf(system)
	p.Report(systemPlace(system),
		schema.Data{{Key: "system", Value: string(system)}, {Key: "declared", Value: declared}, {Key: "listed", Value: listed}},
		"the draft declares %s and %s %d; declare %d, or put the table right", schema.Counted(declared, thread), what, listed, listed)
	// Picks that the table does not reach lift nothing; without them the draft is another.
	declare(p, systemPlace(system), listed, listed < declared)
}
