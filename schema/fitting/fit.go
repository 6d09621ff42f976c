// Package fitting fits a draft to a loom without changing the cloth. It saves shafts
// and treadles, spreads ends over the heddles, and changes the shed and the way of
// lifting. If a draft can't fit, it gives the reason.
package fitting

import (
	"errors"
	"slices"

	"fettle/schema"
	"fettle/schema/cloth"
)

// Loom describes the loom that a draft is fitted to. Zero values are unknown.
type Loom struct {
	Shafts        int
	Treadles      int  // 0 and known: the loom weaves from a lift plan
	TreadlesKnown bool // whether Treadles is known
	AtOnce        int  // the most treadles pressed together; 0: one
	Shed          schema.Shed
	Heddles       schema.Heddles
	WarpEnds      int // ends of the whole warp, which repeats the draft; 0: the draft's
	steps         int // the limit for the search for a tie-up; 0: mostSteps
}

// Change names a part of a draft that Fit changes.
type Change string

// The changes, in the order in which a Result lists them.
const (
	Lifts    Change = "lifts" // a lift plan replaces treadles, or treadles a lift plan
	Shed     Change = "shed"
	Shafts   Change = "shafts"
	Treadles Change = "treadles"
	Heddles  Change = "heddles"
)

// Result holds how a draft fits a loom, in the form of `fit --format json`.
type Result struct {
	Fits      bool          `json:"fits"`
	Changed   []Change      `json:"changed"`
	Shafts    ShaftCount    `json:"shafts"`
	Treadles  TreadleCount  `json:"treadles"`
	Heddles   []HeddleCount `json:"heddles"`   // of the fitted draft, or of the old one if it can't fit
	Threading *Threading    `json:"threading"` // nil if the threading stays
	Tieup     *Tieup        `json:"tieup"`     // nil if the tie-up stays
	Why       []Reason      `json:"why"`       // why it can't fit; empty if it does
	Draft     *schema.Draft `json:"-"`         // the fitted draft, nil for none
}

// ShaftCount holds how many shafts a draft takes. Available is nil if unknown.
type ShaftCount struct {
	Used      int  `json:"used"`   // shafts that carry an end
	Fewest    int  `json:"fewest"` // one for each kind of end; ends that weave alike can share a shaft
	Available *int `json:"available"`
	Result    int  `json:"result"`
}

// TreadleCount holds how many treadles a draft takes. Available is nil if unknown.
type TreadleCount struct {
	Used      int  `json:"used"` // treadles that are pressed; 0 with a lift plan
	AtOnce    int  `json:"at_once"`
	Fewest    int  `json:"fewest"`   // the smallest number found that makes every lift
	AtLeast   int  `json:"at_least"` // proved: no smaller number makes every lift
	Proved    bool `json:"proved"`   // whether Fewest equals AtLeast
	Available *int `json:"available"`
	Result    int  `json:"result"`
}

// HeddleCount holds how many heddles a shaft needs and has. Available is nil if
// unknown, or if the loom lacks the shaft.
type HeddleCount struct {
	Shaft     int  `json:"shaft"`
	Needed    int  `json:"needed"`
	Available *int `json:"available"`
}

// Reason is one reason why a draft can't fit: the rule that reports it, the numbers
// and the proof.
type Reason struct {
	Rule      string `json:"rule"`
	Needed    int    `json:"needed"`
	Available int    `json:"available"`
	Ends      []int  `json:"ends,omitempty"`  // one of each kind; all weave differently
	Lifts     []int  `json:"lifts,omitempty"` // picks whose lifts need that many treadles
	Shaft     int    `json:"shaft,omitempty"`
	// MoreAtOnce reports that fewer treadles may do if two are pressed together. The loom
	// allows it, but the search pressed one at a time.
	MoreAtOnce bool `json:"more_at_once,omitempty"`
	// Undecided reports that Fit found no way, but didn't prove that there is none.
	Undecided bool `json:"-"`
}

type fitter struct {
	draft    *schema.Draft
	loom     Loom
	cloth    *cloth.Cloth
	result   *Result
	kinds    []kind
	kindOf   []int     // by end - 1; -1 for an end on no shaft
	down     [][]int32 // the shafts that each new treadle ties down; nil unless for a countermarch
	placings int       // how many choices of shafts to try for the heddles
}

var (
	errTooLarge = errors.New("too many of its ends and picks differ, so comparing them would take hours; fit a part of it")
	errChanged  = errors.New("the fitted draft would weave another cloth; this is a bug in fettle, please report it with the draft")
)

// Fit fits a draft to a loom. It keeps the cloth and changes as little as it can; a
// fitted draft stays as it is. The error is for a draft that is too large to compare.
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
	for i := range r.Heddles { // a setting for each shaft says nothing about shafts that the loom lacks
		if f.loom.Shafts > 0 && r.Heddles[i].Shaft > f.loom.Shafts {
			r.Heddles[i].Available = nil
		}
	}
	order := []Change{Lifts, Shed, Shafts, Treadles, Heddles}
	slices.SortFunc(r.Changed, func(a, b Change) int { return slices.Index(order, a) - slices.Index(order, b) })
	if len(r.Why) > 0 {
		r.Changed = []Change{}
		r.Shafts.Result, r.Treadles.Result = r.Shafts.Used, r.Treadles.Used
		return r, nil
	}
	if !cloth.Same(d, lifted) {
		return nil, errChanged
	}
	r.Fits, r.Draft = true, lifted
	r.Threading, r.Tieup = threadingOf(&d.Threading, &lifted.Threading), tieupOf(&d.Tieup, &lifted.Tieup, f.down)
	return r, nil
}

func (f *fitter) changed(what Change) {
	if !slices.Contains(f.result.Changed, what) {
		f.result.Changed = append(f.result.Changed, what)
	}
}

// otherShed reports whether the loom raises shafts and the draft sinks them, or the
// other way round.
func (f *fitter) otherShed() bool {
	loom := f.loom.Shed
	return (loom == schema.Rising || loom == schema.Sinking) && (loom == schema.Sinking) != (f.draft.Shed == schema.Sinking)
}

func (f *fitter) settleShed(d *schema.Draft) (*schema.Draft, error) {
	if !f.otherShed() || len(f.result.Why) > 0 && d.Threading.MostInRow() > 1 {
		return d, nil
	}
	f.changed(Shed)
	return cloth.WithShed(d, f.loom.Shed)
}

// known returns a pointer to a count, nil if it is unknown.
func known(n int, is bool) *int {
	if !is {
		return nil
	}
	return &n
}
