package dressing

import (
	"cmp"
	"math"

	"fettle/schema"
)

// MostInDent is the most ends in a dent of a reed that fettle chooses. It is a rule of
// thumb.
const MostInDent = 4

// UsualInDent is the number of ends in a dent that most weavers prefer. It is a rule of
// thumb.
const UsualInDent = 2

// ReedChoice is the reed in use, its sleying, and the reason for the choice. The zero
// value means no reed.
type ReedChoice struct {
	Reed    schema.Reed
	Sleying Sleying
	Why     ReedReason
	Owned   int // the number of reeds that the weaver has
}

// ReedReason says why a reed is in use.
type ReedReason int

// The reasons for a reed.
const (
	OnlyReed     ReedReason = iota // there is only one reed
	NamedReed                      // [project] reed names it
	ExactReed                      // within 0.5 % of the sett, in the shortest order
	NearestReed                    // none is exact, and this one is nearest
	CrowdedReed                    // every reed skips a dent or crowds one
	TooShortReed                   // no reed is as wide as the warp
	FirstReed                      // the sett isn't known
)

// Reed returns the reed in use: the one that the project names. Otherwise fettle
// considers reeds as wide as the warp, with at most four ends in a dent and none skipped.
// Of the exact ones it chooses the shortest order, then the one nearest to two ends a
// dent. If none is exact, it chooses the nearest. The first stated wins a tie.
func (f *Figures) Reed() ReedChoice { return f.reed.get(f.computeReed) }

func (f *Figures) computeReed() ReedChoice {
	reeds, sett := f.Setup.Reeds, f.Sett().Density
	if len(reeds) == 0 {
		return ReedChoice{}
	}
	c := ReedChoice{Reed: reeds[0], Sleying: sleyFor(reeds[0].Dents, sett), Owned: len(reeds)}
	switch {
	case len(reeds) == 1:
		return c
	case f.Setup.ReedNamed:
		c.Why = NamedReed
		return c
	}
	c.Why = FirstReed
	for _, reed := range reeds {
		if next := f.judge(reed, sleyFor(reed.Dents, sett)); next.Sleying.Dents > 0 && next.better(c) {
			next.Owned = c.Owned
			c = next
		}
	}
	return c
}

// judge rates how suitable a reed is.
func (f *Figures) judge(reed schema.Reed, order Sleying) ReedChoice {
	c := ReedChoice{Reed: reed, Sleying: order, Why: NearestReed}
	have := dentsOf(reed)
	switch {
	case have.Known && float64(order.dentsFor(f.warpAt(order.Sett()).All)) > have.Value:
		c.Why = TooShortReed
	case order.Fullest() > MostInDent || order.Ends < order.Dents:
		c.Why = CrowdedReed
	case order.Exact():
		c.Why = ExactReed
	}
	return c
}

// better reports whether a reed is preferred to another. The reasons are in the order
// of preference.
func (c ReedChoice) better(than ReedChoice) bool {
	order := cmp.Compare(c.Why, than.Why)
	if order == 0 && c.Why == ExactReed {
		order = cmp.Or(cmp.Compare(c.Sleying.Dents, than.Sleying.Dents),
			clearly(c.Sleying.fromUsual(), than.Sleying.fromUsual()))
	} else if order == 0 {
		order = clearly(math.Abs(c.Sleying.OffPercent()), math.Abs(than.Sleying.OffPercent()))
	}
	return order < 0
}

// clearly reports how two numbers compare, ignoring floating-point error.
func clearly(a, b float64) int {
	if math.Abs(a-b) <= hair {
		return 0
	}
	return cmp.Compare(a, b)
}

// fromUsual returns how far the average of a sleying is from two ends a dent.
func (o Sleying) fromUsual() float64 {
	return math.Abs(float64(o.Ends)/float64(o.Dents) - UsualInDent)
}

// Sleying returns the sleying in the reed in use. ok is false if the reed or the sett is
// unknown.
func (f *Figures) Sleying() (order Sleying, ok bool) {
	order = f.Reed().Sleying
	return order, order.Dents > 0
}

// OtherReed returns a better reed than the one that the project names, if that isn't
// within 0.5 % of the sett: the one with the shortest order that is. If the named reed
// isn't even within 3 %, a reed within 3 % will do.
func (f *Figures) OtherReed() (reed schema.Reed, order Sleying, ok bool) {
	inUse, ok := f.Sleying()
	if !ok || inUse.Exact() || !f.Setup.ReedNamed {
		return schema.Reed{}, Sleying{}, false
	}
	for _, r := range f.Setup.Reeds[1:] {
		o := sleyFor(r.Dents, inUse.Wanted)
		if o.class() > inUse.class() && o.before(order) && f.judge(r, o).Why <= NearestReed {
			reed, order = r, o
		}
	}
	return reed, order, order.Dents > 0
}

// reedDents returns the number of whole dents in the reed in use, unknown if its width or
// its dents are.
func (f *Figures) reedDents() Figure { return dentsOf(f.Reed().Reed) }

func dentsOf(reed schema.Reed) Figure {
	if reed.Dents <= 0 || reed.Width <= 0 {
		return Figure{}
	}
	return known(math.Floor(float64(reed.Dents)*float64(reed.Width)/10 + hair))
}

// emptyDents returns the empty dents of the reed in use, on the side of end 1 and on the
// other, with the warp centred in the reed. An odd dent goes to the other side. Both are
// unknown if the warp doesn't fit.
func (f *Figures) emptyDents() (first, second Figure) {
	have, order, w := f.reedDents(), f.Reed().Sleying, f.Warp()
	if !have.Known || order.Dents == 0 || w.All == 0 {
		return Figure{}, Figure{}
	}
	half := math.Floor(have.Value / 2)
	a := half - float64(order.dentsReversed(w.firstHalf()))
	b := have.Value - half - float64(order.dentsFor(w.All-w.firstHalf()))
	if a < 0 || b < 0 {
		return Figure{}, Figure{}
	}
	return known(a), known(b)
}
