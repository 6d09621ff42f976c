// Package cloth computes what a draft weaves: which thread is on top at every
// crossing, and from that its floats, repeats, layers and selvedges.
//
// It never builds the grid of ends and picks. Ends that weave alike form a class,
// and so do picks. The crossings of 64 classes with all classes of the other system
// are computed together, one bit each. Time grows with the size of the draft, plus
// distinct lifts × distinct ends ÷ 64; memory grows with the size of the draft.
//
// Ends and picks are numbered from 1. End 1 is the right edge.
package cloth

import (
	"iter"
	"math/rand/v2"
	"slices"

	"fettle/schema"
)

// Cloth is the interlacement of a draft, in classes of ends and picks that weave alike.
// Don't change the draft while you use its cloth. Only one goroutine at a time may use
// it.
type Cloth struct {
	draft   *schema.Draft
	planned bool // lifts come from the lift plan
	sinking bool
	seed    uint64 // a secret of the hashes, so that no draft can attack them

	warp, weft system
	bareClass  int32   // the class of the ends on no shaft, -1 for none
	lifts      []int32 // the first pick, from 0, of each different row of pickRows

	// Computed on demand.
	parts     partCounts
	layerEnds []int  // of each layer, from the top
	repeat    [2]int // ends, picks
}

// system is the warp or the weft, with the paths from its classes to the classes of the
// other.
type system struct {
	strands
	paths  paths
	across *system
	up     []int // by class, see upCounts; computed on demand
}

// Of returns the cloth that a draft weaves. A lift plan wins over tie-up and
// treadling; an unstated shed is rising.
func Of(d *schema.Draft) *Cloth {
	c := &Cloth{
		draft:   d,
		planned: d.LiftPlan.Len() > 0,
		sinking: d.Shed == schema.Sinking,
		seed:    rand.Uint64(),
	}
	c.warp.across, c.weft.across = &c.weft, &c.warp
	c.warp.strands = classify(&d.Threading, d.Ends(), c.seed)
	c.weft.strands = classify(c.pickRows(), d.Picks(), c.seed)
	c.lifts = c.weft.first
	c.connect()
	if !c.TooLarge() {
		c.mergeAlike(&c.weft)
		c.mergeAlike(&c.warp)
	}
	return c
}

// maxWork limits the words of 64 crossings that are computed. They take a few seconds,
// and are far more than any loom's drafts need.
const maxWork = 1 << 27

// TooLarge reports whether the cloth has so many different ends and picks that
// computing all crossings would take seconds to hours. The work grows with different
// ends × picks, and with different picks × ends.
func (c *Cloth) TooLarge() bool {
	return work(&c.warp)+work(&c.weft) > maxWork
}

// work returns how many words it takes to compute the crossings of a system.
func work(s *system) int {
	return (len(s.first) + 63) / 64 * len(s.across.class)
}

// pickRows returns the table with the shafts or treadles of each pick.
func (c *Cloth) pickRows() *schema.Rows {
	if c.planned {
		return &c.draft.LiftPlan
	}
	return &c.draft.Treadling
}

// connect makes the paths between the classes: from ends over shafts (and treadles) to
// picks, and back.
func (c *Cloth) connect() {
	shafts := ranksOf(&c.draft.Threading, c.warp.first)
	ends := tableOf(&c.draft.Threading, c.warp.first, shafts.rank)
	onShaft := ends.inverse(shafts.count)
	c.bareClass = int32(slices.IndexFunc(c.warp.first, func(end int32) bool {
		return len(c.draft.Threading.Row(int(end)+1)) == 0
	}))
	if c.planned {
		lifts := tableOf(&c.draft.LiftPlan, c.weft.first, shafts.rank)
		c.warp.paths = pathsOf(ends, lifts.inverse(shafts.count))
		c.weft.paths = pathsOf(lifts, onShaft)
		return
	}
	treadles := c.draft.Tieup.Len()
	tied := tableOf(&c.draft.Tieup, countTo(treadles), shafts.rank)
	pressed := tableOf(&c.draft.Treadling, c.weft.first, rankBelow(treadles))
	c.warp.paths = pathsOf(ends, tied.inverse(shafts.count), pressed.inverse(treadles))
	c.weft.paths = pathsOf(pressed, tied, onShaft)
}

// mergeAlike merges the classes that weave alike, although the draft threads or lifts
// them differently.
func (c *Cloth) mergeAlike(s *system) {
	p := newPartition(len(s.first), c.seed)
	for _, words := range c.blocks(s.across) {
		if p.done() {
			break
		}
		p.refine(words)
	}
	if p.done() {
		return
	}
	s.strands = s.merged(p)
	c.connect()
}

// up sets bit i of out[n] if the warp is up where class lanes[i] of the system (at most
// 64 of them) crosses class n of the other.
func (c *Cloth) up(s *system, lanes []int32, out []uint64) {
	s.paths.walk(lanes, out)
	if !c.sinking {
		return
	}
	valid := lowBits(len(lanes))
	if s == &c.warp {
		for i, class := range lanes {
			if class == c.bareClass {
				valid &^= 1 << i
			}
		}
	}
	for n := range out {
		out[n] = ^out[n] & valid
	}
	if s == &c.weft && c.bareClass >= 0 {
		out[c.bareClass] = 0
	}
}

// blocks yields the classes of a system 64 at a time: the first of them, and for each
// class of the other the bits of those that cross it warp up. The words are valid until
// the next step.
func (c *Cloth) blocks(s *system) iter.Seq2[int, []uint64] {
	return func(yield func(int, []uint64) bool) {
		out := make([]uint64, len(s.across.first))
		lanes := countTo(min(64, len(s.first)))
		for base := 0; base < len(s.first); base += 64 {
			lanes = lanes[:min(64, len(s.first)-base)]
			for i := range lanes {
				lanes[i] = int32(base + i)
			}
			c.up(s, lanes, out)
			if !yield(base, out) {
				return
			}
		}
	}
}

func (c *Cloth) systemOf(name schema.SystemName) *system {
	if name == schema.Warp {
		return &c.warp
	}
	return &c.weft
}

// Ends returns the number of ends.
func (c *Cloth) Ends() int { return len(c.warp.class) }

// Picks returns the number of picks.
func (c *Cloth) Picks() int { return len(c.weft.class) }

// Up reports whether the end is over the pick; false outside the cloth.
func (c *Cloth) Up(end, pick int) bool {
	shafts := c.draft.Threading.Row(end)
	if len(shafts) == 0 || pick < 1 || pick > c.Picks() {
		return false
	}
	return c.liftsAny(shafts, pick) != c.sinking
}

// liftsAny reports whether a pick names any of the shafts.
func (c *Cloth) liftsAny(shafts []int32, pick int) bool {
	if c.planned {
		return haveCommon(shafts, c.draft.LiftPlan.Row(pick))
	}
	return slices.ContainsFunc(c.draft.Treadling.Row(pick), func(treadle int32) bool {
		return haveCommon(shafts, c.draft.Tieup.Row(int(treadle)))
	})
}

// haveCommon reports whether two ascending rows have a number in common.
func haveCommon(a, b []int32) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	return slices.ContainsFunc(a, func(n int32) bool {
		_, found := slices.BinarySearch(b, n)
		return found
	})
}

// lowBits returns a word with the lowest n bits set, n from 0 to 64.
func lowBits(n int) uint64 { return 1<<n - 1 }
