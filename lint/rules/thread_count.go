package rules

import (
	"fmt"
	"strconv"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

var threadCount = lint.Rule{
	ID:    "draft/thread-count",
	Title: "the draft lists more threads than it declares, or its treadling ends early",
	Why: "You wind the warp by the declared number of ends; the declared number of picks is one treadling repeat. " +
		"If the tables don't match, the number or the table is out of date.",
	Counts:  "A threading may leave out ends: they are on no shaft. fettle compares the declared picks with the longer of treadling and lift plan.",
	Remedy:  "Declare the right number, or correct the table. Either may be right, so the fix needs --risky.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[WARP]\nThreads=6\nColor=1\nUnits=Centimeters\nSpacing=0.1\n"},
	Fixed:   lint.Example{Draft: "[WARP]\nThreads=8\nColor=1\nUnits=Centimeters\nSpacing=0.1\n"},
	SafeOff: "if your collection often declares wrong numbers and its tables are right",
	Source:  "rule of thumb",
	Data: []lint.Field{{Key: "system", Text: "warp or weft"}, {Key: "declared", Text: "threads declared"},
		{Key: "listed", Text: "the highest end of the threading, or the highest pick of treadling or lift plan"}},
	Fixable: true,
	Weave:   true,
	Blocks:  blockedByGap,
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
	case declared == 0 || listed == 0: // the reader reports a missing treadling
	case listed > declared:
		reportThreadCount(p, schema.Weft, listed, "the "+table+" goes on to pick")
	case listed < declared:
		reportThreadCount(p, schema.Weft, listed, "the "+table+" ends at pick")
	}
}

func reportThreadCount(p *lint.Pass, system schema.SystemName, listed int, what string) {
	declared := p.Draft.Of(system).Threads
	thread, _ := threadsOf(system)
	if reportLoneRow(p, system, declared, listed) {
		return
	}
	p.Report(systemPlace(system),
		schema.Data{{Key: "system", Value: string(system)}, {Key: "declared", Value: declared}, {Key: "listed", Value: listed}},
		"the draft declares %s but %s %d; declare %d, or correct the table", wording.Counted(declared, thread), what, listed, listed)
	at, number := systemPlace(system), strconv.Itoa(listed)
	set := func(e schema.Editor) []schema.Edit { return e.Set(at, number) }
	if listed < declared {
		offerChange(p, "declare "+number, set) // picks after the end of the table are lost
		return
	}
	offer(p, "declare "+number, true, set) // the extra rows may be the mistake
}

// reportLoneRow reports a single row above the declared threads if a row below is
// missing, because its number is then mistyped. It returns false otherwise.
func reportLoneRow(p *lint.Pass, system schema.SystemName, declared, listed int) bool {
	d := p.Draft
	rows, at := &d.Threading, schema.EndPlace(listed)
	if system == schema.Weft {
		if rows, at = &d.Treadling, d.PickPlace(listed); d.LiftPlan.Len() == listed {
			rows = &d.LiftPlan
		}
	}
	missing, meant := 0, 0
	for n := 1; n < listed; n++ {
		switch {
		case len(rows.Row(n)) > 0 && n > declared:
			return false
		case len(rows.Row(n)) == 0 && n <= declared:
			missing, meant = missing+1, n
		}
	}
	if missing == 0 {
		return false
	}
	thread, _ := threadsOf(system)
	todo := "correct its number, or declare " + strconv.Itoa(listed)
	if missing == 1 {
		todo = fmt.Sprintf("%s %d has no row, so this may be its row", thread, meant)
	}
	p.Report(at, schema.Data{{Key: "system", Value: string(system)}, {Key: "declared", Value: declared}, {Key: "listed", Value: listed}},
		"the draft declares %s but has a row for %s %d; %s", wording.Counted(declared, thread), thread, listed, todo)
	if missing == 1 {
		offerChange(p, "number the row "+strconv.Itoa(meant), func(e schema.Editor) []schema.Edit { return e.Renumber(at, meant) })
	}
	return true
}
