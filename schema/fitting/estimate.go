package fitting

import (
	"fettle/schema"
	"fettle/schema/cloth"
)

// Limits that keep an estimate fast.
const (
	fewSteps    = 300
	fewLifts    = 48
	fewPlacings = 2000
)

// FewestTreadles estimates how many treadles a draft needs if up to atOnce are
// pressed together. Fit may find fewer than best; atLeast is a proved lower bound.
// Both are 0 if there are too many lifts to compare.
func FewestTreadles(d *schema.Draft, c *cloth.Cloth, shed schema.Shed, atOnce int) (best, atLeast int) {
	lifts, err := raisedBy(d, c)
	if err != nil {
		return 0, 0
	}
	f := &fitter{draft: d, loom: Loom{Shed: shed, steps: fewSteps}, result: &Result{}}
	f.result.Treadles.AtOnce = atOnce
	if n := len(lifts.lifts); n > fewLifts {
		return n, counted(n, atOnce)
	}
	found := f.search(lifts)
	return found.treadles, found.atLeast
}

// HeddlesSuffice reports whether the ends can be spread over the loom's shafts so
// that no shaft lacks heddles. It gives up early, so false may be wrong.
func HeddlesSuffice(d *schema.Draft, c *cloth.Cloth, loom Loom) bool {
	if c.TooLarge() {
		return false
	}
	f := &fitter{draft: d, loom: loom, cloth: c, placings: fewPlacings, result: &Result{}}
	f.sortEnds()
	f.rethread()
	return len(f.result.Why) == 0
}
