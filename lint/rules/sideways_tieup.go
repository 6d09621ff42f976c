package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var sidewaysTieup = lint.Rule{
	ID:    "draft/sideways-tieup",
	Title: "the rows of the tie-up are shafts, not treadles",
	Why:   "Each row of a tie-up is a treadle and lists the shafts tied to it. A tie-up that was typed sideways weaves another cloth.",
	Counts: "fettle reports it if the tie-up has as many rows as there are shafts, its highest number is the number of treadles, and no end is on a higher shaft than declared. " +
		"A square tie-up looks the same both ways and isn't reported. Findings that follow from a sideways tie-up are left out.",
	Remedy:  "Turn the tie-up: one row for each treadle.",
	Default: schema.Error,
	Faulty: lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=6\nRising Shed=true\n" +
		"[TIEUP]\n1=1,4,5\n2=1,2,6\n3=2,3,5\n4=3,4,6\n[TREADLING]\n1=1\n2=2\n3=3\n4=4\n5=5\n6=6\n7=5\n8=6\n"},
	Fixed: lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=6\nRising Shed=true\n" +
		"[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n5=1,3\n6=2,4\n[TREADLING]\n1=1\n2=2\n3=3\n4=4\n5=5\n6=6\n7=5\n8=6\n"},
	SafeOff: "never; every program reads the rows as treadles",
	Source:  "WIF 1.1 (1997) as fettle understands it",
	Data: []lint.Field{{Key: "rows", Text: "rows of the tie-up"}, {Key: "shafts", Text: "shafts of the draft"},
		{Key: "treadles", Text: "treadles of the draft, and the highest number in the tie-up"}},
	Fixable: true,
	Weave:   true,
	Blocks: []string{"draft/shaft-count", "draft/treadle-count", "draft/untied-treadle", "draft/unused-shaft", "draft/unused-treadle",
		"draft/partial-repeat", "draft/slip", "draft/doubled-thread", "draft/like-treadles", "draft/broken-plain-weave", "cloth",
		"loom/too-many-shafts", "loom/too-many-treadles", "loom/unbalanced-lift", "loom/heavy-lift", "yarn/sett", "yarn/weft-sett"},

	Keys:     []string{},
	Measures: []lint.Measure{},

	Check: checkSidewaysTieup,
}

func checkSidewaysTieup(p *lint.Pass) {
	d := p.Draft
	shafts, treadles := d.Shafts, d.Treadles
	if shafts == 0 {
		shafts = d.Threading.Highest()
	}
	if treadles == 0 {
		treadles = d.Treadling.Highest()
	}
	rows := d.Tieup.Len()
	if d.LiftPlan.Len() > 0 || rows == 0 || rows != shafts || d.Tieup.Highest() != treadles || shafts == treadles ||
		d.Threading.Highest() > shafts || d.Treadling.Highest() > treadles {
		return
	}
	p.Report(schema.Place{Part: schema.PartTieup},
		schema.Data{{Key: "rows", Value: rows}, {Key: "shafts", Value: shafts}, {Key: "treadles", Value: treadles}},
		"the tie-up is sideways: it has %d rows, one for each shaft, and names %d treadles; turn it, with one row for each treadle", rows, treadles)
	offerChange(p, "turn the tie-up", func(e schema.Editor) []schema.Edit {
		return e.SetRows(schema.PartTieup, turnedTieup(&d.Tieup, treadles))
	})
}

// turnedTieup exchanges the rows and numbers of a tie-up.
func turnedTieup(t *schema.Rows, rows int) [][]int32 {
	list := make([][]int32, rows)
	for n := 1; n <= t.Len(); n++ {
		for _, v := range t.Row(n) {
			list[v-1] = append(list[v-1], int32(n))
		}
	}
	return list
}
