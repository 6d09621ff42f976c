package rules

import (
	"math/bits"
	"slices"

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

// mostBalanced is the most shafts that the rule judges: a set of them fits in a word,
// and no counterbalance loom has nearly as many.
const mostBalanced = 64

func checkUnbalancedLift(p *lint.Pass) {
	if p.Setup.Loom.Shed != schema.Balanced {
		return
	}
	shafts := p.Draft.Threading.Different()
	if len(shafts) == 0 || len(shafts) > mostBalanced {
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
	tied := sets(&d.Tieup, shafts)
	for pick, set := range lifts(d, shafts, tied) {
		lifted := bits.OnesCount64(set)
		if d.Shed == schema.Sinking {
			lifted = len(shafts) - lifted
		}
		if 2*lifted == len(shafts) {
			continue
		}
		if picks == nil {
			first = lifted
		}
		picks = append(picks, pick+1)
	}
	return picks, first
}

// lifts returns the set of shafts that each pick names.
func lifts(d *schema.Draft, shafts []int32, tied []uint64) []uint64 {
	var list []uint64
	if d.LiftPlan.Len() > 0 {
		list = sets(&d.LiftPlan, shafts)
	} else {
		list = make([]uint64, d.Treadling.Len())
		for i := range list {
			for _, treadle := range d.Treadling.Row(i + 1) {
				if int(treadle) <= len(tied) {
					list[i] |= tied[treadle-1]
				}
			}
		}
	}
	return append(list, make([]uint64, d.Picks()-len(list))...)
}

// sets returns the shafts that each row names: bit n is shafts[n].
func sets(rows *schema.Rows, shafts []int32) []uint64 {
	list := make([]uint64, rows.Len())
	for i := range list {
		list[i] = setOf(rows.Row(i+1), shafts)
	}
	return list
}

// setOf returns the shafts that a row names: bit n is shafts[n].
func setOf(row, shafts []int32) (set uint64) {
	for _, shaft := range row {
		if at, ok := slices.BinarySearch(shafts, shaft); ok {
			set |= 1 << at
		}
	}
	return set
}
