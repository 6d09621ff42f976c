package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

var unbalancedLift = lint.Rule{
	ID:    "loom/unbalanced-lift",
	Title: "a pick doesn't balance on a counterbalance loom",
	Why: "On a counterbalance loom the shafts hang from each other over rollers, so as many must rise as sink. " +
		"Two up and two down works well; with one against three the shed opens unevenly and catches ends.",
	Counts:  "fettle counts the shafts with ends on them, and reports picks that lift more or less than half.",
	Remedy:  "Change the tie-up, or use another kind of loom.",
	Default: schema.Warning,
	Faulty: lint.Example{Draft: "[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n4=4\n",
		Settings: "[loom]\nshafts = 4\nshed = balanced\n"},
	Fixed: lint.Example{Draft: "[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n",
		Settings: "[loom]\nshafts = 4\nshed = balanced\n"},
	SafeOff: "on counterbalance looms with a shed regulator, or with pulleys and levers",
	Source:  "rule of thumb; true for rollers, not for pulleys and levers",
	Data: []lint.Field{{Key: "picks", Text: "the picks that don't lift half of the shafts"},
		{Key: "count", Text: "number of unbalanced picks"}, {Key: "lifted", Text: "shafts that the first of them lifts"}, {Key: "of", Text: "shafts with ends"}},
	Weave: true,
	Check: checkUnbalancedLift,

	Keys:     []string{},
	Measures: []lint.Measure{{Key: "count"}},
}

func checkUnbalancedLift(p *lint.Pass) {
	if p.Setup.Loom.Shed != schema.Balanced {
		return
	}
	shafts := p.Draft.Threading.Different()
	if len(shafts) == 0 || len(shafts) > mostCounted {
		return
	}
	picks, lifted := unbalanced(p.Draft, shafts)
	if len(picks) == 0 {
		return
	}
	p.Report(p.Draft.PickPlace(picks[0]),
		schema.Data{{Key: "picks", Value: picks}, {Key: "count", Value: len(picks)}, {Key: "lifted", Value: lifted}, {Key: "of", Value: len(shafts)}},
		"%s %s not lift half of the shafts: pick %d lifts %d of %d; change the tie-up, or use a loom that isn't counterbalance",
		wording.Numbered("pick", picks), wording.Plural(len(picks), "does", "do"), picks[0], lifted, len(shafts))
	p.Mark(schema.Weft, picks...)
}

// unbalanced lists the picks that don't lift half of the shafts, and counts the shafts
// that the first of them lifts.
func unbalanced(d *schema.Draft, shafts []int32) (picks []int, first int) {
	lifts := countLifts(d, shafts)
	for pick := 1; pick <= d.Picks(); pick++ {
		lifted := lifts.of(pick)
		if 2*lifted == len(shafts) {
			continue
		}
		if picks == nil {
			first = lifted
		}
		picks = append(picks, pick)
	}
	return picks, first
}
