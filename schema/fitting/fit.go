// Package fitting fits a draft to a loom: the same cloth with fewer shafts, fewer
// treadles, another way of lifting, the loom's shed, and ends spread so that the
// heddles suffice. What does not fit is refused with the reason.
package fitting

import (
	"errors"
	"slices"

	"fettle/schema"
	"fettle/schema/cloth"
)

// Loom is what a draft is fitted to. Zero values are unknown.
type Loom struct {
	Shafts        int
	Treadles      int  // 0, where they are known: lifts come from a lift plan
	TreadlesKnown bool // whether Treadles is known
	AtOnce        int  // treadles that are pressed together; 0: one
	Shed          schema.Shed
	Heddles       schema.Heddles
	WarpEnds      int // ends of the whole warp, which repeats the draft; 0: the draft's
	steps         int // that the search for a tie-up may take; 0: mostSteps
}

// Change is something of a draft that was changed to fit it.
type Change string

// The changes, in the order in which a Result lists them.
const (
	Lifts    Change = "lifts" // lifts come from a lift plan or from treadles, as the loom wants
	Shed     Change = "shed"
	Shafts   Change = "shafts"
	Treadles Change = "treadles"
	Heddles  Change = "heddles"
)

// Result says how a draft fits a loom. Its JSON is the shape that `fit --format
// json` writes.
type Result struct {
	Fits     bool          `json:"fits"`
	Changed  []Change      `json:"changed"`
	Shafts   ShaftCount    `json:"shafts"`
	Treadles TreadleCount  `json:"treadles"`
	Heddles  []HeddleCount `json:"heddles"` // of the result; of the draft as it is where it cannot fit
	Why      []Reason      `json:"why"`     // why it cannot fit; empty where it does
	Draft    *schema.Draft `json:"-"`       // the draft that fits, nil for none
	Moves    []Move        `json:"-"`       // which ends go to which shaft, where the threading changes
	Down     [][]int32     `json:"-"`       // by treadle, the shafts tied down; nil unless the tie-up was made for a countermarch
}

// ShaftCount is how many shafts a draft takes. Available is nil where it is unknown.
type ShaftCount struct {
	Used      int  `json:"used"`   // shafts that carry an end
	Fewest    int  `json:"fewest"` // different ends: ends that weave alike can share a shaft
	Available *int `json:"available"`
	Result    int  `json:"result"`
}

// TreadleCount is how many treadles a draft takes.
type TreadleCount struct {
	Used      int  `json:"used"` // treadles that are pressed; 0 with a lift plan
	AtOnce    int  `json:"at_once"`
	Fewest    int  `json:"fewest"`   // the fewest found that make every lift
	AtLeast   int  `json:"at_least"` // proved: fewer cannot make them
	Proved    bool `json:"proved"`   // whether the two are the same
	Available *int `json:"available"`
	Result    int  `json:"result"`
}

// HeddleCount is how many heddles a shaft takes and has.
type HeddleCount struct {
	Shaft     int  `json:"shaft"`
	Needed    int  `json:"needed"`
	Available *int `json:"available"`
}

// Reason is one thing that a loom lacks for a draft: the rule that says so, and
// the proof.
type Reason struct {
	Rule      string `json:"rule"`
	Needed    int    `json:"needed"`
	Available int    `json:"available"`
	Ends      []int  `json:"ends,omitempty"`  // one of each kind; all weave differently
	Lifts     []int  `json:"lifts,omitempty"` // picks whose lifts need so many treadles
	Shaft     int    `json:"shaft,omitempty"`
	// Undecided says that no way was found and none is proved impossible.
	Undecided bool `json:"-"`
}

// Move is some ends that go from one row of the threading to one shaft.
type Move struct {
	From  []int32 // the old shafts
	To    int32
	Ends  int
	First int // the first of the ends
}

// fitter is one draft being fitted.
type fitter struct {
	draft  *schema.Draft
	loom   Loom
	cloth  *cloth.Cloth
	result *Result
	kinds  []kind
	kindOf []int // by end - 1; -1 for an end on no shaft
	// placings is how many choices of shafts for the heddles are tried.
	placings int
}

var (
	errTooLarge = errors.New("so many of its ends and picks differ that comparing them would take hours; fit a part of it")
	errChanged  = errors.New("the fitted draft would weave another cloth; this is a fault of fettle, so please report it with the draft")
)

// Fit fits a draft to a loom. It changes as little as it can, and the cloth stays
// the same. The error is for a draft that is too large to compare.
func Fit(d *schema.Draft, loom Loom) (*Result, error) {
	f := &fitter{draft: d, loom: loom, cloth: cloth.Of(d), placings: mostPlacings,
		result: &Result{Changed: []Change{}, Heddles: []HeddleCount{}, Why: []Reason{}}}
	if f.cloth.TooLarge() {
		return nil, errTooLarge
	}
	f.sortEnds()
	r := f.result
	threaded := f.rethread()
	settled, err := f.settleShed(threaded)
	if err != nil {
		return nil, err
	}
	lifted, err := f.relift(settled)
	if err != nil {
		return nil, err
	}
	r.Shafts.Result = len(lifted.Threading.Different())
	r.Heddles = append(r.Heddles, f.heddleCounts(&lifted.Threading)...)
	order := []Change{Lifts, Shed, Shafts, Treadles, Heddles}
	slices.SortFunc(r.Changed, func(a, b Change) int { return slices.Index(order, a) - slices.Index(order, b) })
	if len(r.Why) > 0 {
		r.Changed, r.Moves, r.Down = []Change{}, nil, nil
		r.Shafts.Result, r.Treadles.Result = r.Shafts.Used, r.Treadles.Used
		return r, nil
	}
	if !cloth.Same(d, lifted) {
		return nil, errChanged
	}
	r.Fits, r.Draft = true, lifted
	return r, nil
}

func (f *fitter) changed(what Change) {
	if !slices.Contains(f.result.Changed, what) {
		f.result.Changed = append(f.result.Changed, what)
	}
}

// otherShed reports whether the loom moves shafts the other way than the draft.
func (f *fitter) otherShed() bool {
	loom := f.loom.Shed
	return (loom == schema.Rising || loom == schema.Sinking) && (loom == schema.Sinking) != (f.draft.Shed == schema.Sinking)
}

func (f *fitter) settleShed(d *schema.Draft) (*schema.Draft, error) {
	if !f.otherShed() || len(f.result.Why) > 0 && !oneShaftEach(&d.Threading) {
		return d, nil
	}
	f.changed(Shed)
	return cloth.WithShed(d, f.loom.Shed)
}

// known returns a count, nil for one that is unknown.
func known(n int, is bool) *int {
	if !is {
		return nil
	}
	return &n
}
