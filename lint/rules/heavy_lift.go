package rules

import (
	"cmp"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

var heavyLift = lint.Rule{
	ID:    "loom/heavy-lift",
	Title: "most picks lift nearly all shafts",
	Why:   "A rising shed is lifted by foot or hand. If most picks lift 7 of 8 shafts, the cloth woven face down lifts one.",
	Counts: "fettle counts the shafts with ends on them, and reports the picks that lift more than three quarters, if they are more than half of all picks. " +
		"It skips looms that don't lift all shafts by force: sinking, counterbalance and countermarch. " +
		"Both limits are rules of thumb. They err on the side of silence: 3 of 4 shafts are heavy too.",
	Remedy:  "Weave the cloth face down: fettle convert --face-down turns it over, and --lift-rest keeps the threading.",
	Default: schema.Note,
	Faulty: lint.Example{Draft: "[WEAVING]\nShafts=8\nTreadles=8\nRising Shed=true\n" +
		"[TIEUP]\n1=2,3,4,5,6,7,8\n2=1,3,4,5,6,7,8\n3=1,2,4,5,6,7,8\n4=1,2,3,5,6,7,8\n5=1,2,3,4,6,7,8\n6=1,2,3,4,5,7,8\n7=1,2,3,4,5,6,8\n8=1,2,3,4,5,6,7\n" +
		"[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=5\n6=6\n7=7\n8=8\n[TREADLING]\n1=1\n2=2\n3=3\n4=4\n5=5\n6=6\n7=7\n8=8\n"},
	Fixed: lint.Example{Draft: "[WEAVING]\nShafts=8\nTreadles=8\nRising Shed=true\n" +
		"[TIEUP]\n1=1\n2=2\n3=3\n4=4\n5=5\n6=6\n7=7\n8=8\n" +
		"[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=5\n6=6\n7=7\n8=8\n[TREADLING]\n1=1\n2=2\n3=3\n4=4\n5=5\n6=6\n7=7\n8=8\n"},
	SafeOff: "on a loom whose lifts are driven by a motor or air",
	Source:  "rule of thumb",
	Data: []lint.Field{{Key: "picks", Text: "the picks with a heavy lift"}, {Key: "count", Text: "number of them"},
		{Key: "lifted", Text: "shafts that they lift, on average"}, {Key: "of", Text: "shafts with ends"}},
	Weave: true,
	Check: checkHeavyLift,

	Keys:     []string{},
	Measures: []lint.Measure{{Key: "count"}},
}

func checkHeavyLift(p *lint.Pass) {
	d, shafts := p.Draft, p.Figures.UsedShafts()
	shed := cmp.Or(p.Setup.Loom.Shed, d.Shed, schema.Rising)
	if shed != schema.Rising || len(shafts) == 0 || len(shafts) > mostCounted {
		return
	}
	lifts := countLifts(d, shafts)
	count, sum := 0, 0
	for pick := 1; pick <= d.Picks(); pick++ {
		if n := lifts.of(pick); heavy(n, len(shafts)) {
			count, sum = count+1, sum+n
		}
	}
	if 2*count <= d.Picks() {
		return
	}
	var picks []int
	for pick := 1; pick <= d.Picks(); pick++ {
		if heavy(lifts.of(pick), len(shafts)) {
			picks = append(picks, pick)
		}
	}
	mean := float64(sum) / float64(len(picks))
	p.Report(d.PickPlace(picks[0]),
		schema.Data{{Key: "picks", Value: picks}, {Key: "count", Value: len(picks)}, {Key: "lifted", Value: mean}, {Key: "of", Value: len(shafts)}},
		"%s of %d lift %s of %d shafts on average; woven face down they lift %s (fettle convert --face-down)",
		wording.Counted(len(picks), "pick"), d.Picks(), wording.Decimal(mean, 1), len(shafts), wording.Decimal(float64(len(shafts))-mean, 1))
	p.Mark(schema.Weft, picks...)
}

// heavy reports whether a lift is over three quarters of the shafts. One of all shafts
// makes no shed.
func heavy(lifted, shafts int) bool { return 4*lifted > 3*shafts && lifted < shafts }
