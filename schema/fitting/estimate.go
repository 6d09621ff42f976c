package fitting

import (
	"fettle/schema"
	"fettle/schema/cloth"
)

// An estimate costs little: it searches few lifts, and gives up early.
const (
	fewSteps    = 300
	fewLifts    = 48
	fewPlacings = 2000
)

// FewestTreadles estimates how few treadles make the lifts of a draft, pressed up
// to so many together, and gives a number that is proved to be needed. Fit may find
// fewer. Both are 0 where the lifts are too many to compare.
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

// HeddlesSuffice reports whether ends can be spread over the loom's shafts so that
// the heddles suffice. A no may be wrong where there are very many ways.
func HeddlesSuffice(d *schema.Draft, c *cloth.Cloth, loom Loom) bool {
	if c.TooLarge() {
		return false
	}
	f := &fitter{draft: d, loom: loom, cloth: c, placings: fewPlacings, result: &Result{}}
	f.sortEnds()
	f.rethread()
	return len(f.result.Why) == 0
}
