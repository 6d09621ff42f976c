// Package dressing works out all figures for dressing a loom with a draft: the warp, the
// sleying, heddles, lengths, picks and yarn, the winding, and the threading in groups.
//
// Of joins a draft and a setup into Figures. Each figure is a method that computes it at
// the first call and keeps it.
//
// Ends, picks, shafts and dents are numbered from 1. End 1 is at the right edge of the
// cloth. Lengths are in millimetres and densities per centimetre, unless a name says
// otherwise.
package dressing

import (
	"math"
	"strconv"

	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/measure"
)

// Figures computes the figures of a draft that is woven with a setup, and keeps them.
// Don't change the draft or the setup in the meantime. Only one goroutine may use it at a
// time.
type Figures struct {
	Draft *schema.Draft
	Setup *schema.Setup

	cloth         *cloth.Cloth
	warp          memo[fullWarp]
	warps         memo[warpSets]
	sett, picks   memo[Spacing]
	reed          memo[ReedChoice]
	heddles       memo[[]ShaftHeddles]
	lengths       memo[Lengths]
	onLoom        memo[*schema.Draft]
	pressed       memo[bool]
	allParts      memo[parts]
	plainHem      memo[plainHem]
	usedShafts    memo[[]int32]
	pickNumbers   memo[[]int32]
	stretches     memo[[]Stretch]
	weftRuns      memo[[]ColorRun]
	warpYarns     memo[yarnIndex]
	weftYarns     memo[yarnIndex]
	anyYarns      memo[yarnIndex] // regardless of their use
	warpUse       memo[[]ColorUse]
	weftUse       memo[[]ColorUse]
	yarnUses      memo[[]YarnUse]
	noYarns       memo[[]NoYarn]
	pickValues    memo[[]float64]
	shaftsAbove   memo[Above]
	treadlesAbove memo[Above]
}

// Of returns the figures of a draft that is woven with a setup. It computes nothing yet. A
// draft of the whole work has the setup's repeats, items and hems in it already.
func Of(d *schema.Draft, s *schema.Setup) *Figures {
	f := &Figures{Draft: d, Setup: s}
	if d.IsWholeWork() {
		f.Setup = f.writtenOut()
	}
	return f
}

// Cloth returns the cloth that the draft weaves.
func (f *Figures) Cloth() *cloth.Cloth {
	if f.cloth == nil {
		f.cloth = cloth.Of(f.Draft)
	}
	return f.cloth
}

// memo keeps a figure after it is computed.
type memo[T any] struct {
	value T
	done  bool
}

func (m *memo[T]) get(compute func() T) T {
	if !m.done {
		m.value, m.done = compute(), true
	}
	return m.value
}

// Figure is a number that is unknown if a value that it needs isn't stated. The zero
// value is unknown.
type Figure struct {
	Value float64
	Known bool
}

// known returns a known figure, or an unknown one for NaN and infinity.
func known(v float64) Figure {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return Figure{}
	}
	return Figure{v, true}
}

// times multiplies; the product is unknown if either factor is.
func (f Figure) times(g Figure) Figure {
	if !f.Known || !g.Known {
		return Figure{}
	}
	return known(f.Value * g.Value)
}

// plus adds; the sum is unknown if either part is.
func (f Figure) plus(g Figure) Figure {
	if !f.Known || !g.Known {
		return Figure{}
	}
	return known(f.Value + g.Value)
}

// over divides; the quotient is unknown if either number is.
func (f Figure) over(g Figure) Figure {
	if !f.Known || !g.Known {
		return Figure{}
	}
	return known(f.Value / g.Value)
}

func (f Figure) scaled(by float64) Figure { return f.times(known(by)) }

// IsZero reports whether the figure is unknown. JSON then leaves it out.
func (f Figure) IsZero() bool { return !f.Known }

// MarshalJSON writes the number with at most six decimals, or null if it is unknown.
func (f Figure) MarshalJSON() ([]byte, error) {
	if !f.Known {
		return []byte("null"), nil
	}
	return strconv.AppendFloat(nil, math.Round(f.Value*1e6)/1e6, 'f', -1, 64), nil
}

// Over reports whether a figure exceeds its limit by more than floating-point error.
func Over(figure, limit float64) bool { return figure > limit*(1+hair) }

// roundUp rounds up to a whole number, but ignores floating-point error. That is below
// 1e-11 of a number even for the sum of the yarn of ten thousand ends.
func roundUp(v float64) float64 {
	if near := math.Round(v); math.Abs(v-near) <= 1e-11*math.Max(1, math.Abs(v)) {
		return near
	}
	return math.Ceil(v)
}

// density returns a density as a figure, unknown for 0.
func density(d measure.Density) Figure {
	if d <= 0 {
		return Figure{}
	}
	return known(float64(d))
}
