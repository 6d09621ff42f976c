package dressing

import (
	"math"
	"strconv"
)

// Figure is a number that may be unknown because something it follows from was
// not stated. The zero value is unknown.
type Figure struct {
	Value float64
	Known bool
}

// known is a figure that is known, so long as the number is one.
func known(v float64) Figure {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return Figure{}
	}
	return Figure{v, true}
}

// times multiplies; the product with an unknown is unknown.
func (f Figure) times(g Figure) Figure {
	if !f.Known || !g.Known {
		return Figure{}
	}
	return known(f.Value * g.Value)
}

// plus adds; the sum with an unknown is unknown.
func (f Figure) plus(g Figure) Figure {
	if !f.Known || !g.Known {
		return Figure{}
	}
	return known(f.Value + g.Value)
}

// scaled is the figure times a number.
func (f Figure) scaled(by float64) Figure { return f.times(known(by)) }

// IsZero says whether the figure is unknown, so that JSON leaves it out.
func (f Figure) IsZero() bool { return !f.Known }

// MarshalJSON writes the number to six places, or null.
func (f Figure) MarshalJSON() ([]byte, error) {
	if !f.Known {
		return []byte("null"), nil
	}
	return strconv.AppendFloat(nil, math.Round(f.Value*1e6)/1e6, 'f', -1, 64), nil
}

// Over says whether a figure is strictly over its limit. What is exactly at it is
// not, whatever floating point adds.
func Over(figure, limit float64) bool { return figure > limit*(1+hair) }

// whole rounds up to a whole number, forgiving what floating point adds to one.
func whole(v float64) float64 {
	if near := math.Round(v); math.Abs(v-near) <= hair*math.Max(1, math.Abs(v)) {
		return near
	}
	return math.Ceil(v)
}
