package dressing

import (
	"math"

	"fettle/schema/measure"
)

// Stretch is a piece of the warp that is woven, or left without picks for a
// fringe, in the order of the work. Lengths are as on the loom with the tension
// released.
type Stretch struct {
	Item     int    `json:"item"` // from 1; 0 for the sample
	Part     string `json:"part"`
	LengthCm Figure `json:"length_cm"`
	Picks    Figure `json:"picks,omitzero"`
	// FromDraftPick is the draft's pick that it begins with: the draft is gone
	// through over and over, from the first stretch to the last.
	FromDraftPick Figure `json:"from_draft_pick,omitzero"`
	// WovenCm and UpToPick are what has been woven at its end, in all.
	WovenCm  Figure `json:"woven_cm"`
	UpToPick Figure `json:"up_to_pick,omitzero"`
}

// The parts of the work that a stretch can be.
const (
	SamplePart = "sample"
	HemPart    = "hem"
	ClothPart  = "cloth"
	FringePart = "fringe" // without picks
)

// mostItems is for how many items the stretches are listed.
const mostItems = 200

// Stretches lists what is woven one after the other: the sample, and then each
// item with half of its fringe and of its hem at either end. Picks are rounded
// so that they add up to Lengths.PicksWoven. There are none where the length is
// not known, or for more than mostItems items.
func (f *Figures) Stretches() []Stretch { return f.stretches.get(f.computeStretches) }

func (f *Figures) computeStretches() []Stretch {
	p, l := &f.Setup.Project, f.Lengths()
	if !l.Woven.Known || f.Items() > mostItems {
		return nil
	}
	r := progress{total: l.Woven.Value, picks: l.PicksWoven, draft: f.Draft.Picks(), washed: 1 / (1 - p.ShrinkageWarp)}
	r.weave(0, SamplePart, p.Sample)
	for item := 1; item <= f.Items(); item++ {
		r.leave(item, p.Fringe/2)
		r.weave(item, HemPart, p.Hem/2)
		r.weave(item, ClothPart, p.FinishedLength)
		r.weave(item, HemPart, p.Hem/2)
		r.leave(item, p.Fringe/2)
	}
	return r.list
}

// progress is the work under way: how far the cloth has come.
type progress struct {
	total  float64 // millimetres to weave
	picks  Figure  // in all
	draft  int     // picks of the draft
	washed float64 // millimetres on the loom for one when finished
	woven  float64
	upTo   float64 // picks so far
	list   []Stretch
}

// weave adds a stretch that is so long when finished.
func (r *progress) weave(item int, part string, finished measure.Length) {
	if finished <= 0 {
		return
	}
	long := float64(finished) * r.washed
	r.woven += long
	x := Stretch{Item: item, Part: part, LengthCm: known(long / 10), WovenCm: known(r.woven / 10)}
	if r.picks.Known {
		next := math.Round(r.picks.Value * math.Min(r.woven/r.total, 1))
		x.Picks, x.UpToPick = known(next-r.upTo), known(next)
		if r.draft > 0 && next > r.upTo {
			x.FromDraftPick = known(float64(wholePicks(r.upTo)%r.draft + 1))
		}
		r.upTo = next
	}
	r.list = append(r.list, x)
}

// leave adds a stretch of so much warp without picks.
func (r *progress) leave(item int, long measure.Length) {
	if long <= 0 {
		return
	}
	x := Stretch{Item: item, Part: FringePart, LengthCm: known(float64(long) / 10), WovenCm: known(r.woven / 10)}
	if r.picks.Known {
		x.UpToPick = known(r.upTo)
	}
	r.list = append(r.list, x)
}

// hidden is what part of an item's picks a repeat must be for it to show where in
// it an item begins.
const hidden = 0.05

// ItemsDiffer reports whether items begin at different picks of the draft's
// repeat, and the repeat is long enough for that to show.
func (f *Figures) ItemsDiffer() bool {
	repeat := f.PickRepeat()
	starts := map[int]bool{}
	picks, item := 0.0, 0
	for _, x := range f.Stretches() {
		if !x.FromDraftPick.Known || x.Item == 0 {
			continue
		}
		if x.Item != item {
			item = x.Item
			starts[(int(x.FromDraftPick.Value)-1)%repeat] = true
		}
		picks = max(picks, x.Picks.Value)
	}
	return len(starts) > 1 && float64(repeat) > hidden*picks
}
