package cloth

import (
	"math"
	"slices"

	"fettle/schema"
)

// Repeat returns the number of ends and of picks after which the cloth repeats: the
// smallest p of 1 or more such that each thread weaves like the one p further on. It
// returns all threads if nothing repeats, and 0 if there are no threads.
func (c *Cloth) Repeat() (ends, picks int) {
	if c.repeat == [2]int{} {
		c.repeat = [2]int{Period(c.warp.class), Period(c.weft.class)}
	}
	return c.repeat[0], c.repeat[1]
}

// Period returns the smallest p of 1 or more with list[i] = list[i+p] throughout;
// the whole length if nothing repeats, and 0 for an empty list. It uses the failure
// function of Knuth, Morris and Pratt (1977). The length need not be a multiple of
// the period: 1, 2, 1 has period 2.
func Period(list []int32) int {
	if len(list) == 0 {
		return 0
	}
	return len(list) - int(Borders(list, nil)[len(list)-1])
}

// Borders returns for each thread the length of the longest border of the list up to
// and including it: its longest part, short of the whole, that is both start and end.
// The first n threads have period n - border of the nth. The result uses the memory of
// buffer if that is large enough.
func Borders(list, buffer []int32) []int32 {
	border := slices.Grow(buffer[:0], len(list))[:len(list)]
	var k int32
	for i := range list {
		if i == 0 {
			border[0] = 0
			continue
		}
		for k > 0 && list[i] != list[k] {
			k = border[k-1]
		}
		if list[i] == list[k] {
			k++
		}
		border[i] = k
	}
	return border
}

// Symmetric reports whether a list reads the same from both ends.
func Symmetric(list []int32) bool {
	for i, j := 0, len(list)-1; i < j; i, j = i+1, j-1 {
		if list[i] != list[j] {
			return false
		}
	}
	return true
}

// intersections returns, for each thread of the repeat, how often it passes between
// face and back in one repeat of the threads it crosses: 2 in plain weave.
func (c *Cloth) intersections(name schema.SystemName) []int {
	s := c.systemOf(name)
	ends, picks := c.Repeat()
	own, across := ends, picks
	if name == schema.Weft {
		own, across = picks, ends
	}
	passes := c.changes(s, s.across.class[:across])
	list := make([]int, own)
	for i := range list {
		list[i] = passes[s.class[i]]
	}
	return list
}

// changes counts, for each class, the changes between face and back around the threads
// across, given by their classes.
func (c *Cloth) changes(s *system, round []int32) []int {
	passes := make([]int, len(s.first))
	for base, words := range c.blocks(s) {
		var changes tally
		for i, class := range round {
			before := round[(i+len(round)-1)%len(round)]
			changes.add(words[class] ^ words[before])
		}
		for lane := range min(64, len(passes)-base) {
			passes[base+lane] = changes.of(lane)
		}
	}
	return passes
}

// IntersectionRate returns how often a thread passes between face and back for each
// thread it crosses, on average over the repeat: 1 in plain weave, 0.4 in a 5-end
// satin, 0 if there is no cloth.
func (c *Cloth) IntersectionRate(name schema.SystemName) float64 {
	ends, picks := c.Repeat()
	if ends == 0 || picks == 0 {
		return 0
	}
	sum := 0
	for _, i := range c.intersections(name) {
		sum += i
	}
	return float64(sum) / float64(ends*picks)
}

// WeftWeaveValue returns R ÷ (R + I) of Ashenhurst's rule for the maximum sett of the weft,
// averaged over the ends of the repeat: R is the picks of the repeat, I the intersections
// of an end. It is 0.5 for plain weave, 0.667 for a 2/2 twill, and 0 if there is no cloth.
// An end without intersections counts as 1.
func (c *Cloth) WeftWeaveValue() float64 {
	ends, picks := c.Repeat()
	if ends == 0 || picks == 0 {
		return 0
	}
	sum := 0.0
	for _, i := range c.intersections(schema.Warp) {
		sum += float64(picks) / float64(picks+i)
	}
	return sum / float64(ends)
}

// WeaveValues returns R ÷ (R + I) of the same rule for the warp, for each pick where it is
// woven most tightly: averaged over the weave repeat of the stretch that the pick is in,
// among the picks of its own weft. R is the ends of the repeat. A pick that is in no
// stretch gets the average of its weft. weft numbers the wefts of the picks; picks of
// different wefts are judged apart, so that the tabby of an overshot isn't averaged with
// its pattern.
func (c *Cloth) WeaveValues(weft func(pick int) int) []float64 {
	ends, _ := c.Repeat()
	if ends == 0 {
		return nil
	}
	passes := c.changes(&c.weft, c.warp.class[:ends])
	picks := map[int][]int{}
	for pick := 1; pick <= c.Picks(); pick++ {
		n := weft(pick)
		picks[n] = append(picks[n], pick)
	}
	values := make([]float64, c.Picks())
	for _, own := range picks {
		kinds, each := make([]int32, len(own)), make([]float64, len(own))
		for i, pick := range own {
			kinds[i] = c.weft.class[pick-1]
			each[i] = -float64(ends) / float64(ends+passes[kinds[i]])
		}
		for i, most := range MostByRepeat(kinds, 2, each) {
			values[own[i]-1] = -most
		}
	}
	return values
}

// The longest repeat of a stretch that MostByRepeat looks for, and the shortest stretch. A
// shorter stretch has room from its neighbours. Both are a rule of thumb.
const (
	longestStretchRepeat = 64
	shortestStretch      = 8
)

// MostByRepeat returns, for each thing of a list, the highest average of a value over one
// repeat of a stretch that it is in. Equal things have equal kinds and values. A stretch
// repeats itself at least twice, by shortest things or more. A thing in no stretch gets the
// average of the whole list. NaN is an unknown value, and so is an average with one.
func MostByRepeat(kinds []int32, shortest int, value []float64) []float64 {
	n := len(kinds)
	most, in := make([]float64, n), make([]bool, n)
	for p := shortest; p <= min(longestStretchRepeat, n/2); p++ {
		for from := 0; from+2*p <= n; {
			to := from + p
			for to < n && kinds[to] == kinds[to-p] {
				to++
			}
			if to-from >= max(2*p, shortestStretch) {
				average := mean(value[from : from+p])
				for i := from; i < to; i++ {
					if !in[i] || math.IsNaN(most[i]) || average > most[i] {
						most[i], in[i] = average, true
					}
				}
				if to-from == n {
					return most // any other repeat of the whole is a multiple
				}
			}
			from = to - p + 1
		}
	}
	all := mean(value)
	for i := range most {
		if !in[i] {
			most[i] = all
		}
	}
	return most
}

func mean(list []float64) float64 {
	sum := 0.0
	for _, v := range list {
		sum += v
	}
	return sum / float64(len(list))
}
