package dressing

import (
	"cmp"
	"math"
	"slices"

	"fettle/schema/measure"
	"fettle/schema/wording"
)

// The longest sleying order in dents, and the limits for the difference from the sett:
// 0.5 % counts as exact, and 3 % is acceptable.
const (
	longestOrder = 8
	exactPercent = 0.5
	fairPercent  = 3
)

// hair is larger than any floating-point error in a percentage, a tie or a whole number.
const hair = 1e-9

// Sleying is the order of ends in the dents of a reed: Ends in every Dents dents, spread
// as evenly as possible.
type Sleying struct {
	Reed   measure.Density // dents per centimetre
	Wanted measure.Density // the requested sett
	Ends   int
	Dents  int // at most 8
}

// sleyFor returns the shortest order within 0.5 % of the sett, otherwise the shortest within
// 3 %, otherwise the nearest, and the shortest of several. Of two equally near numbers of
// ends in the same dents, it takes the higher. An unknown reed or sett gives the zero
// Sleying.
func sleyFor(reed, sett measure.Density) Sleying {
	if !(reed > 0 && sett > 0) {
		return Sleying{}
	}
	var fair, nearest Sleying
	for dents := 1; dents <= longestOrder; dents++ {
		order := sleyIn(dents, reed, sett)
		off := math.Abs(order.OffPercent())
		if off <= exactPercent+hair {
			return order
		}
		if fair.Dents == 0 && off <= fairPercent+hair {
			fair = order
		}
		if nearest.Dents == 0 || off < math.Abs(nearest.OffPercent())-hair {
			nearest = order
		}
	}
	if fair.Dents > 0 {
		return fair
	}
	return nearest
}

// sleyIn returns the order with this many dents that comes nearest to the sett.
func sleyIn(dents int, reed, sett measure.Density) Sleying {
	ends := max(math.Floor(float64(sett/reed)*float64(dents)+0.5+hair), 1)
	return Sleying{reed, sett, int(min(ends, math.MaxInt32)), dents}
}

// before reports whether an order is in a better class than another, or in the same but
// shorter.
func (o Sleying) before(other Sleying) bool {
	return cmp.Or(cmp.Compare(other.class(), o.class()), cmp.Compare(o.Dents, other.Dents)) < 0
}

// class ranks sleyings by how near they are to the sett. The zero value ranks lowest.
func (o Sleying) class() int {
	switch {
	case o.Dents == 0:
		return -1
	case o.Exact():
		return 2
	case o.Fair():
		return 1
	}
	return 0
}

// Exact reports whether the order comes within 0.5 % of the sett.
func (o Sleying) Exact() bool { return math.Abs(o.OffPercent()) <= exactPercent+hair }

// Fair reports whether the order comes within 3 % of the sett.
func (o Sleying) Fair() bool { return math.Abs(o.OffPercent()) <= fairPercent+hair }

// Sett returns the sett that the order gives, in ends per centimetre.
func (o Sleying) Sett() measure.Density {
	if o.Dents == 0 {
		return 0
	}
	return o.Reed * measure.Density(o.Ends) / measure.Density(o.Dents)
}

// OffPercent returns the difference of the order's sett from the wanted one in percent.
// It is negative if the order's sett is lower.
func (o Sleying) OffPercent() float64 {
	if o.Dents == 0 {
		return 0
	}
	off := 100 * (float64(o.Sett()/o.Wanted) - 1)
	if math.Abs(off) < hair {
		return 0
	}
	return off
}

// Order returns the number of ends in each dent, starting at the first. 0 leaves a dent
// empty.
func (o Sleying) Order() []int {
	order := make([]int, o.Dents)
	for k := range order {
		order[k] = (k+1)*o.Ends/o.Dents - k*o.Ends/o.Dents
	}
	return order
}

// fromCentre returns the order from the centre of the reed outward, for the first half of
// the ends and for the second. Across the centre they form one continuous order.
func (o Sleying) fromCentre() (firstHalf, secondHalf []int) {
	secondHalf = o.Order()
	firstHalf = slices.Clone(secondHalf)
	slices.Reverse(firstHalf)
	return firstHalf, secondHalf
}

// Fullest returns the number of ends in the fullest dent.
func (o Sleying) Fullest() int {
	if o.Dents == 0 {
		return 0
	}
	return (o.Ends + o.Dents - 1) / o.Dents
}

// dentsFor returns the number of dents for some ends.
func (o Sleying) dentsFor(ends int) int {
	if o.Ends == 0 {
		return 0
	}
	return (ends*o.Dents + o.Ends - 1) / o.Ends
}

// dentsReversed returns how many dents some ends take in the reversed order, as it runs
// from the centre to end 1.
func (o Sleying) dentsReversed(ends int) int {
	if ends == 0 {
		return 0
	}
	return (ends-1)*o.Dents/o.Ends + 1
}

// widthError returns how much wider some ends are in the reed than at the stated sett, in
// millimetres. It is negative if they are narrower.
func (o Sleying) widthError(ends int) Figure {
	if o.Dents == 0 {
		return Figure{}
	}
	return known(10 * float64(ends) * (1/float64(o.Sett()) - 1/float64(o.Wanted)))
}

// Nearest returns the order in the same reed that comes nearest to the sett, and the
// shortest of several. It is the order itself if no other is nearer.
func (o Sleying) Nearest() Sleying {
	nearest := o
	for dents := 1; dents <= longestOrder && o.Dents > 0; dents++ {
		other := sleyIn(dents, o.Reed, o.Wanted)
		if math.Abs(other.OffPercent()) < math.Abs(nearest.OffPercent())-hair {
			nearest = other
		}
	}
	return nearest
}

// OrderText returns a sleying order as weavers write it: 1-1-2.
func OrderText(order []int) string { return wording.JoinNumbers(order, "-", "") }

// DentTen is ten dents side by side, or the fewer that are left at an edge, from the
// centre outward. From and To are the first and the last end in them, 0 if all are empty.
type DentTen struct {
	Dents int   `json:"dents"` // from the centre to its last dent
	From  int   `json:"from"`
	To    int   `json:"to"`
	Ends  []int `json:"ends"` // in each dent
}

// dentTens counts the dents of half a warp in tens. nth returns the number of its nth end
// from the centre.
func dentTens(order []int, ends int, nth func(int) int) []DentTen {
	if !slices.ContainsFunc(order, func(n int) bool { return n > 0 }) {
		return nil
	}
	var tens []DentTen
	for dents, used := 0, 0; used < ends; {
		ten, before := DentTen{Ends: make([]int, 0, 10)}, used
		for len(ten.Ends) < cap(ten.Ends) && used < ends {
			n := min(order[dents%len(order)], ends-used)
			ten.Ends = append(ten.Ends, n)
			dents, used = dents+1, used+n
		}
		ten.Dents = dents
		if used > before {
			ten.From, ten.To = nth(before+1), nth(used)
		}
		tens = append(tens, ten)
	}
	return tens
}
