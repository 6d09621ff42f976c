package cloth

import (
	"cmp"
	"math/bits"
	"slices"

	"fettle/schema"
)

// warpUp returns the share of crossings with the warp over the weft, 0 if there are
// no crossings.
func (c *Cloth) warpUp() float64 {
	all := c.Ends() * c.Picks()
	if all == 0 {
		return 0
	}
	up := 0
	for class, n := range c.upCounts(&c.warp) {
		up += n * int(c.warp.count[class])
	}
	return float64(up) / float64(all)
}

// Loose returns the threads of a system that are above, or below, all threads they
// cross, ascending. It leaves out threads that cross nothing.
func (c *Cloth) Loose(name schema.SystemName) []int {
	s := c.systemOf(name)
	all := len(s.across.class)
	if all == 0 {
		return nil
	}
	counts := c.upCounts(s)
	if !slices.ContainsFunc(counts, func(n int) bool { return n == 0 || n == all }) {
		return nil
	}
	var loose []int
	for i, class := range s.class {
		if n := counts[class]; n == 0 || n == all {
			loose = append(loose, i+1)
		}
	}
	return loose
}

// hangsTogether reports whether the cloth is one piece, with no part that lifts off
// the rest. Draw an arrow at each crossing from the upper thread to the lower: every
// thread must be reachable from every other. A single thread hangs together.
func (c *Cloth) hangsTogether() bool {
	if c.Ends() == 0 || c.Picks() == 0 {
		return c.Ends()+c.Picks() <= 1
	}
	return c.countParts().all == 1
}

// Layers returns how many parts with both ends and picks the cloth falls into. All
// other parts are single loose threads.
func (c *Cloth) Layers() int {
	if c.Ends() == 0 || c.Picks() == 0 {
		return 0
	}
	return c.countParts().layers
}

// LayerEnds returns how many ends each of the Layers has, the topmost first.
func (c *Cloth) LayerEnds() []int {
	c.Layers()
	return slices.Clone(c.layerEnds)
}

// partCounts counts the strongly connected parts of the graph of crossings.
type partCounts struct {
	layers int // those with both an end and a pick
	all    int
}

// countParts counts the parts of a cloth with ends and picks.
//
// It only needs to know how many threads each thread lies over. (Clapham, When a fabric
// hangs together, Bull. London Math. Soc. 12, 1980, 161–164; Enns, Geom. Dedicata 15,
// 1984, 259–260; both from memory.) Take t ends, which lie over C picks in total, and s
// picks, which lie under R ends in total. Counting crossings,
//
//	C − R ≤ t·(picks − s)
//
// with equality only if no other thread lies over any of them, so that they lift off.
// The best choice is the t ends that are up most and the s picks that are down most. For
// a given t, the two sides are closest if s counts the picks with fewer than t ends over
// them; adding picks with exactly t changes nothing. So the sets that lift off are
// nested, and the difference between two of them is a part.
func (c *Cloth) countParts() partCounts {
	if c.parts.all > 0 {
		return c.parts
	}
	p := &c.parts
	ends, picks := c.sortedUpCounts(&c.warp), c.sortedUpCounts(&c.weft)
	slices.Reverse(ends)
	var over, under int   // C and R
	var s, next int       // picks taken, and the next class of them
	taken, before := 0, 0 // picks and ends in the parts so far
	t := 0
	for at := 0; ; {
		for next < len(picks) && picks[next].up < t {
			s += picks[next].threads
			under += picks[next].threads * picks[next].up
			next++
		}
		if over-under == t*(c.Picks()-s) {
			switch {
			case s > taken:
				p.layers++
				c.layerEnds = append(c.layerEnds, t-before)
				p.all++
			case t > 0:
				p.all++
			}
			taken, before = s, t
			if next < len(picks) && picks[next].up == t {
				p.all += picks[next].threads
				taken += picks[next].threads
			}
		}
		if t == c.Ends() {
			return c.parts
		}
		over += ends[at].up
		t++
		if ends[at].threads--; ends[at].threads == 0 {
			at++
		}
	}
}

// upCount is a number of threads that are up, or under, at the same number of crossings.
type upCount struct{ up, threads int }

// sortedUpCounts returns the up counts of a system, ascending and without duplicates.
func (c *Cloth) sortedUpCounts(s *system) []upCount {
	list := make([]upCount, 0, len(s.first))
	for class, up := range c.upCounts(s) {
		list = append(list, upCount{up, int(s.count[class])})
	}
	slices.SortFunc(list, func(a, b upCount) int { return cmp.Compare(a.up, b.up) })
	joined := list[:0]
	for _, x := range list {
		if n := len(joined); n > 0 && joined[n-1].up == x.up {
			joined[n-1].threads += x.threads
		} else {
			joined = append(joined, x)
		}
	}
	return joined
}

// upCounts returns for each class of a system at how many crossings of one of its threads
// the warp is up.
func (c *Cloth) upCounts(s *system) []int {
	if s.up != nil {
		return s.up
	}
	s.up = make([]int, len(s.first))
	for base, words := range c.blocks(s.across) {
		threads := weightsOf(s.across.count[base:min(base+64, len(s.across.count))])
		for class, word := range words {
			s.up[class] += threads.sum(word)
		}
	}
	return s.up
}

// weights holds the counts of up to 64 classes, one plane for each bit.
type weights []uint64

func weightsOf(counts []int32) weights {
	var w weights
	for i, count := range counts {
		for len(w) < bits.Len32(uint32(count)) {
			w = append(w, 0)
		}
		for k := range w {
			w[k] |= uint64(count>>k&1) << i
		}
	}
	return w
}

// sum returns the sum of the counts of the classes in a word.
func (w weights) sum(word uint64) int {
	sum := 0
	for k, plane := range w {
		sum += bits.OnesCount64(word&plane) << k
	}
	return sum
}
