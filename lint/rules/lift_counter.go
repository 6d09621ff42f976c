package rules

import (
	"math/bits"
	"slices"

	"fettle/schema"
)

// mostCounted is the most shafts that a liftCounter can have: a set of them fits in a word.
// No loom has nearly as many.
const mostCounted = 64

// liftCounter counts the shafts with ends that the picks of a draft raise. It keeps no list
// of the picks.
type liftCounter struct {
	draft  *schema.Draft
	shafts []int32  // with ends, ascending
	tied   []uint64 // by treadle, the shafts tied to it; bit n is shafts[n]
}

func countLifts(d *schema.Draft, shafts []int32) *liftCounter {
	l := &liftCounter{d, shafts, make([]uint64, d.Tieup.Len())}
	for i := range l.tied {
		l.tied[i] = l.setOf(d.Tieup.Row(i + 1))
	}
	return l
}

// of returns how many of the shafts a pick raises.
func (l *liftCounter) of(pick int) int {
	d, set := l.draft, uint64(0)
	if d.LiftPlan.Len() > 0 {
		set = l.setOf(d.LiftPlan.Row(pick))
	} else {
		for _, treadle := range d.Treadling.Row(pick) {
			if int(treadle) <= len(l.tied) {
				set |= l.tied[treadle-1]
			}
		}
	}
	if d.Shed == schema.Sinking {
		return len(l.shafts) - bits.OnesCount64(set)
	}
	return bits.OnesCount64(set)
}

// setOf returns the shafts that a row names: bit n is shafts[n].
func (l *liftCounter) setOf(row []int32) (set uint64) {
	for _, shaft := range row {
		if at, ok := slices.BinarySearch(l.shafts, shaft); ok {
			set |= 1 << at
		}
	}
	return set
}
