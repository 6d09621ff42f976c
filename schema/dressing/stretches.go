package dressing

import (
	"slices"

	"fettle/schema"
	"fettle/schema/measure"
)

// Stretch is a woven part of the work, or warp left unwoven for a fringe, in the order of
// the work. Lengths are on the loom without tension.
type Stretch struct {
	Item     int    `json:"item"` // from 1; 0 for the sample
	Part     string `json:"part"`
	LengthCm Figure `json:"length_cm"`
	Picks    Figure `json:"picks,omitzero"`
	Weave    string `json:"weave,omitempty"` // DraftWeave or PlainWeave, "" for a fringe
	// FromDraftPick is the draft's pick at which it begins: 1, or the next pick if the
	// draft continues from part to part.
	FromDraftPick Figure `json:"from_draft_pick,omitzero"`
	// WovenCm and UpToPick count all weaving up to its end. TapeCm is the reading there
	// of a tape along the cloth, with fringes; it starts again after a sample is cut off.
	WovenCm  Figure `json:"woven_cm"`
	TapeCm   Figure `json:"tape_cm"`
	UpToPick Figure `json:"up_to_pick,omitzero"`
	// Length and OnTape are LengthCm and TapeCm in the weaver's units. Each length is
	// rounded before it is added, so the columns of a sheet add up.
	Length, OnTape measure.Length `json:"-"`
	// RepeatsShed reports that its first pick has the same shed as the pick before it. It
	// is false after a cut.
	RepeatsShed bool `json:"repeats_shed,omitempty"`
}

// The parts of the work.
const (
	SamplePart = "sample"
	HemPart    = "hem"
	ClothPart  = "cloth"
	FringePart = "fringe" // without picks
)

// The weaves of a stretch.
const (
	DraftWeave = "draft"
	PlainWeave = "plain"
)

// mostItems is the most items whose stretches are listed.
const mostItems = 200

// Stretches lists the weaving in order: the sample, and then for each item a hem, the
// cloth and a hem, with half of its fringe before and half after. It is empty if the
// length is unknown, or for more than mostItems items.
func (f *Figures) Stretches() []Stretch { return f.stretches.get(f.computeStretches) }

func (f *Figures) computeStretches() []Stretch {
	p, w := &f.Setup.Project, f.parts()
	if !w.woven().Known || w.items > mostItems {
		return nil
	}
	r := progress{figures: f, hemWeave: DraftWeave}
	if _, plain := f.PlainHem(); plain {
		r.hemWeave = PlainWeave
	}
	r.weave(0, SamplePart, w.sample)
	if p.CutOffSample {
		r.cutOff()
	}
	for item := 1; item <= w.items; item++ {
		before := f.Setup.Units.OnTape(p.Fringe / 2)
		r.leave(item, float64(p.Fringe/2), before)
		r.weave(item, HemPart, w.hem)
		r.weave(item, ClothPart, w.cloth)
		r.weave(item, HemPart, w.hem)
		r.leave(item, float64(p.Fringe/2), f.Setup.Units.OnTape(p.Fringe)-before)
	}
	return r.list
}

// progress holds how far the weaving has come.
type progress struct {
	figures     *Figures
	hemWeave    string
	woven, tape float64 // millimetres
	onTape      measure.Length
	upTo        Figure  // picks so far
	last        []int32 // the raised shafts at the last pick
	joined      bool    // the next pick directly follows the last, unless the item changes
	list        []Stretch
}

func (r *progress) weave(item int, name string, x part) {
	if x.woven.Value <= 0 {
		return
	}
	if len(r.list) == 0 {
		r.upTo = known(0)
	}
	r.woven, r.tape = r.woven+x.woven.Value, r.tape+x.woven.Value
	s := Stretch{Item: item, Part: name, Weave: DraftWeave, LengthCm: x.woven.scaled(0.1), Picks: x.picks,
		WovenCm: known(r.woven / 10), TapeCm: known(r.tape / 10), Length: r.figures.onTape(x), OnTape: r.onTape + r.figures.onTape(x)}
	r.onTape = s.OnTape
	if name == HemPart {
		s.Weave = r.hemWeave
	}
	if draft := r.figures.Draft.Picks(); draft > 0 && x.picks.Value > 0 && r.upTo.Known {
		s.FromDraftPick = known(1)
		if r.figures.Setup.Project.ContinueDraft {
			s.FromDraftPick = known(float64(wholePicks(r.upTo.Value)%draft + 1))
		}
		s.RepeatsShed = r.joined && r.list[len(r.list)-1].Item == item && len(r.last) > 0 && slices.Equal(r.last, r.figures.raised(s, 1))
		r.last, r.joined = r.figures.raised(s, wholePicks(x.picks.Value)), true
	}
	r.upTo = r.upTo.plus(x.picks)
	s.UpToPick = r.upTo
	r.list = append(r.list, s)
}

// leave adds a stretch of warp without picks.
func (r *progress) leave(item int, long float64, onTape measure.Length) {
	if long <= 0 {
		return
	}
	if len(r.list) == 0 && r.figures.Picks().Known() {
		r.upTo = known(0)
	}
	r.tape, r.onTape, r.joined = r.tape+long, r.onTape+onTape, false
	r.list = append(r.list, Stretch{Item: item, Part: FringePart, LengthCm: known(long / 10),
		WovenCm: known(r.woven / 10), TapeCm: known(r.tape / 10), UpToPick: r.upTo, Length: onTape, OnTape: r.onTape})
}

func (r *progress) cutOff() { r.tape, r.onTape, r.joined = 0, 0, false }

// onTape returns the woven length of a part, rounded to the weaver's tape.
func (f *Figures) onTape(x part) measure.Length {
	return f.Setup.Units.OnTape(measure.Length(x.woven.Value))
}

// wovenOnTape returns the woven length of all parts. Each part is rounded before it is
// added, as in Stretches.
func (f *Figures) wovenOnTape() measure.Length {
	w := f.parts()
	return f.onTape(w.sample) + measure.Length(w.items)*(2*f.onTape(w.hem)+f.onTape(w.cloth))
}

// afterSample returns the picks and the length to weave after a sample that is cut off.
func (f *Figures) afterSample() AfterSample {
	p, w := &f.Setup.Project, f.parts()
	a := AfterSample{p.CutOffSample && p.Sample > 0, w.picks(), f.wovenOnTape()}
	if a.CutOff {
		a.Picks, a.OnTape = a.Picks.plus(w.sample.picks.scaled(-1)), a.OnTape-f.onTape(w.sample)
	}
	return a
}

// draftPick returns the draft's pick for a pick of a stretch, counted from 1. It gives
// the color, and the lift unless the stretch is plain weave. The draft must have picks.
func (f *Figures) draftPick(s Stretch, n int) int {
	return (int(s.FromDraftPick.Value)-1+n-1)%f.Draft.Picks() + 1
}

// lift returns the shafts that the draft names, or would name, for a pick of a stretch,
// from 1. In a draft with a sinking shed they go down.
func (f *Figures) lift(s Stretch, n int) []int32 {
	if s.Weave == PlainWeave {
		hem, _ := f.PlainHem()
		return hem.Lifts[(n-1)%2]
	}
	return f.Cloth().LiftOf(f.draftPick(s, n))
}

// raised returns the raised shafts that carry ends at a pick of a stretch, counted from
// 1.
func (f *Figures) raised(s Stretch, n int) []int32 {
	lift, sinking := f.lift(s, n), f.Draft.Shed == schema.Sinking
	return without(f.UsedShafts(), func(shaft int32) bool { return in(lift, shaft) == sinking })
}

// hidden is the largest part of an item that one repeat can take up without making its
// starting pick visible.
const hidden = 0.05

// itemsDiffer reports whether items begin at different picks of the draft's repeat, and
// the repeat is long enough for that to show.
func (f *Figures) itemsDiffer() bool {
	repeat := f.pickRepeat()
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
