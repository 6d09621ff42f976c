package cloth

import "fettle/schema"

// Selvedge counts the turns at which the edge end doesn't catch the weft of a single
// shuttle, for each side that the first pick can start from.
type Selvedge struct {
	Turns           int // picks less one
	MissesFromLeft  int // pick 1 travels from the left edge to the right
	MissesFromRight int
}

// BestStart returns the side, "left" or "right", with fewer misses; "left" if they
// are equal.
func (s Selvedge) BestStart() string {
	if s.MissesFromRight < s.MissesFromLeft {
		return "right"
	}
	return "left"
}

// SeveralShuttles reports whether the picks have several colors, which need several
// shuttles.
func SeveralShuttles(d *schema.Draft) bool {
	if len(d.Weft.Colors) == 0 {
		return false
	}
	for pick := 2; pick <= d.Picks(); pick++ {
		if d.Weft.ColorOf(pick) != d.Weft.ColorOf(1) {
			return true
		}
	}
	return false
}

// Selvedge returns how the edges of the draft are caught.
func (c *Cloth) Selvedge() Selvedge { return c.SelvedgeAt(1, c.Ends(), 1) }

// SelvedgeAt returns how the edges are caught if these ends of the draft are at the right
// and the left edge, and the weft starts from a pick and goes once through all of them.
// The weft turns at one edge after odd picks and at the other after even picks. A turn
// catches the edge end only if that end changes between the two picks. A cloth without
// ends has no misses.
func (c *Cloth) SelvedgeAt(right, left, pick int) Selvedge {
	s := Selvedge{Turns: max(0, c.Picks()-1)}
	if c.Ends() == 0 {
		return s
	}
	words := c.edgeWords(right, left)
	for turn, at := 1, pick-1; turn <= s.Turns; turn++ {
		next := (at + 1) % c.Picks()
		r, l := missed(words[c.weft.class[at]] ^ words[c.weft.class[next]])
		if turn%2 == 0 {
			r, l = l, r
		}
		s.MissesFromLeft += r // its odd picks end at the right edge
		s.MissesFromRight += l
		at = next
	}
	return s
}

// edgeWords returns for each class of picks whether the warp is up at two ends, bit 0 for
// the right one and bit 1 for the left one.
func (c *Cloth) edgeWords(right, left int) []uint64 {
	words := make([]uint64, len(c.weft.first))
	c.up(&c.warp, []int32{c.warp.class[right-1], c.warp.class[left-1]}, words)
	return words
}

// missed returns 1 for each edge end that didn't change between two picks.
func missed(changed uint64) (right, left int) {
	return 1 - int(changed&1), 1 - int(changed>>1&1)
}

// BestFirstPick returns the pick to start from so that a single shuttle misses the fewest
// turns, with these ends at the edges; the first if several are equal.
func (c *Cloth) BestFirstPick(right, left int) int {
	picks := c.Picks()
	if c.Ends() == 0 || picks < 2 {
		return 1
	}
	words := c.edgeWords(right, left)
	// sums[b][i] counts the misses of the first i turns of two rounds, if the turns with
	// the parity b are at the right edge.
	var sums [2][]int32
	for b := range sums {
		sums[b] = make([]int32, 2*picks+1)
	}
	for i := range 2 * picks {
		at := i % picks
		r, l := missed(words[c.weft.class[at]] ^ words[c.weft.class[(at+1)%picks]])
		sums[i%2][i+1] = sums[i%2][i] + int32(r)
		sums[1-i%2][i+1] = sums[1-i%2][i] + int32(l)
	}
	best, fewest := 1, int32(picks)
	for first := range picks {
		for b := range sums {
			if n := sums[b][first+picks-1] - sums[b][first]; n < fewest {
				best, fewest = first+1, n
			}
		}
	}
	return best
}
