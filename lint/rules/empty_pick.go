package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

var emptyPick = lint.Rule{
	ID:    "draft/empty-pick",
	Title: "a pick presses no treadle, or lifts no shaft",
	Why: "A pick that opens no shed has nowhere to go: the weft lies across the whole cloth without being bound. " +
		"Mostly a row of the treadling was left blank, as a mark between repeats or by a slip of the pen.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[TREADLING]\n1=1\n2=2\n3=3\n4=4\n5=0\n6=2\n7=3\n8=4\n"},
	Mended:  lint.Example{Draft: "[TREADLING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	SafeOff: "where blank picks stand for something laid in by hand, such as a rod, or a pause",
	Source:  "common practice, no source",
	Data:    []lint.Field{{Key: "picks", Text: "the picks without a shed"}, {Key: "count", Text: "how many they are"}},
	Weave:   true,
	Holds:   gapHolds,
	Check:   checkEmptyPick,

	Keys:     []string{},
	Measures: []lint.Measure{{Key: "count"}},
}

func checkEmptyPick(p *lint.Pass) {
	d := p.Draft
	table, what := &d.Treadling, "no treadle"
	lacks := func(n int) string { return wording.Plural(n, "presses ", "press ") }
	if d.LiftPlan.Len() > 0 {
		table, what = &d.LiftPlan, "no shaft"
		lacks = func(n int) string { return wording.Plural(n, "lifts ", "lift ") }
	}
	var picks []int
	for pick := 1; pick <= d.Picks(); pick++ {
		if len(table.Row(pick)) == 0 {
			picks = append(picks, pick)
		}
	}
	if len(picks) == 0 {
		return
	}
	p.Report(d.PickPlace(picks[0]), schema.Data{{Key: "picks", Value: picks}, {Key: "count", Value: len(picks)}},
		"%s %s, so there is no shed for the weft; fill in what is meant, or take the %s out",
		wording.Numbered("pick", picks), lacks(len(picks))+what, wording.Plural(len(picks), "row", "rows"))
}
