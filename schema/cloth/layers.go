package cloth

import (
	"cmp"
	"math/bits"
	"slices"

	"fettle/schema"
)

// WarpUp returns the share of crossings with the warp over the weft, 0 if there are
// no crossings.
func (c *Cloth) WarpUp() float64 {
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

// HangsTogether reports whether the cloth is one piece, with no part that lifts off
// the rest. Draw an arrow at each crossing from the upper thread to the lower: every
// thread must be reachable from every other. A single thread hangs together.
func (c *Cloth) HangsTogether() bool {
	if c.Ends() == 0 || c.Picks() == 0 {
		return c.Ends()+c.Picks() <= 1
	}
	return c.fallApart().all == 1
}

// Layers returns how many parts with both ends and picks the cloth falls into. All
// other parts are single loose threads.
func (c *Cloth) Layers() int {
	if c.Ends() == 0 || c.Picks() == 0 {
		return 0
	}
	return c.fallApart().layers
}

// LayerEnds returns how many ends each of the Layers has, the topmost first.
func (c *Cloth) LayerEnds() []int {
	c.Layers()
	return slices.Clone(c.layerEnds)
}

// partCounts counts the strongly connected parts of the graph of crossings.
type partCounts struct {
	layers int // those that hold an end and a pick
	all    int
}

// fallApart counts the parts of a cloth that has ends and picks.
//
// It needs only how many threads each thread lies over. (Clapham, When a
// fabric hangs together, Bull. London Math. Soc. 12, 1980, 161–164; Enns,
// Geom. Dedicata 15, 1984, 259–260; both from memory.) Let t ends lie over C
// picks between them, counted at each, and s picks likewise under R ends.
// Crossing by crossing
//
//	C − R ≤ t·(picks − s)
//
// with equality just when nothing outside the t ends and s picks lies over any
// of them: when they come off the top. The best choice is always the t ends
// that are up most and the s picks that have least over them. For a given t
// the two sides are nearest where s counts the picks with fewer than t ends
// over them, and stay as near while picks with exactly t are added. So the
// sets that come off the top lie one in the next, and what each adds to the one
// before is a part.
func (c *Cloth) fallApart() partCounts {
	if c.parts.all > 0 {
		return c.parts
	}
	p := &c.parts
	ends, picks := c.byUpCount(&c.warp), c.byUpCount(&c.weft)
	slices.Reverse(ends)
	var over, under int   // C and R
	var s, next int       // picks taken, and the next class of them
	taken, before := 0, 0 // the picks and the ends of the parts so far
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

// standing is a number of threads alike and at how many crossings of theirs
// the warp is up.
type standing struct{ up, threads int }

// byUpCount sorts the threads of a system by their up counts, least first;
// all with the same count are one entry.
func (c *Cloth) byUpCount(s *system) []standing {
	list := make([]standing, 0, len(s.first))
	for class, up := range c.upCounts(s) {
		list = append(list, standing{up, int(s.count[class])})
	}
	slices.SortFunc(list, func(a, b standing) int { return cmp.Compare(a.up, b.up) })
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

// upCounts is for each class of a system at how many crossings of one of its
// threads the warp is up.
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

// weights are the counts of up to 64 classes, plane by plane, to sum those of
// the classes in a word.
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

// sum adds the weights of the classes in a word.
func (w weights) sum(word uint64) int {
	sum := 0
	for k, plane := range w {
		sum += bits.OnesCount64(word&plane) << k
	}
	return sum
}
