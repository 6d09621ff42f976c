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

// Selvedge returns how the edges are caught. The weft turns at one edge after odd
// picks and at the other after even picks. A turn catches the edge end only if that
// end changes between the two picks. End 1 is the right edge. A cloth without ends
// has no misses.
func (c *Cloth) Selvedge() Selvedge {
	s := Selvedge{Turns: max(0, c.Picks()-1)}
	if c.Ends() == 0 {
		return s
	}
	words := make([]uint64, len(c.weft.first))
	c.up(&c.warp, []int32{c.warp.class[0], c.warp.class[c.Ends()-1]}, words)
	for pick := 1; pick <= s.Turns; pick++ {
		caught := words[c.weft.class[pick-1]] ^ words[c.weft.class[pick]]
		right, left := 1-int(caught&1), 1-int(caught>>1&1)
		if pick%2 == 0 {
			right, left = left, right
		}
		s.MissesFromLeft += right // its odd picks end at the right edge
		s.MissesFromRight += left
	}
	return s
}
