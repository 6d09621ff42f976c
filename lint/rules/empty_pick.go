package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

var emptyPick = lint.Rule{
	ID:    "draft/empty-pick",
	Title: "a pick presses no treadle, or lifts no shaft",
	Why: "A pick without a shed isn't woven in: the weft lies across the whole cloth. " +
		"Usually a row of the treadling was left blank, by mistake or as a mark between repeats.",
	Counts:  "If the draft has a lift plan, fettle looks at that; otherwise at the treadling.",
	Remedy:  "Fill in the row, or delete it.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[TREADLING]\n1=1\n2=2\n3=3\n4=4\n5=0\n6=2\n7=3\n8=4\n"},
	Fixed:   lint.Example{Draft: "[TREADLING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	SafeOff: "if blank picks stand for a pause, or for something laid in by hand such as a rod",
	Source:  "rule of thumb",
	Data:    []lint.Field{{Key: "picks", Text: "the picks without a shed"}, {Key: "count", Text: "number of picks without a shed"}},
	Weave:   true,
	Blocks:  blockedByGap,
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
		"%s %s, so %s no shed; fill in or delete the %s",
		wording.Numbered("pick", picks), lacks(len(picks))+what, wording.Plural(len(picks), "it opens", "they open"), wording.Plural(len(picks), "row", "rows"))
	p.Mark(schema.Weft, picks...)
}
