package cloth

import (
	"fmt"

	"fettle/schema"
)

// Alike numbers the threads of a system from 0 by how they weave: threads with the
// same number weave alike throughout. first is the first thread, from 1, of each
// number. Where the cloth is TooLarge, threads that weave alike may differ. The
// lists belong to the cloth.
func (c *Cloth) Alike(name schema.SystemName) (number []int32, first []int) {
	s := c.systemOf(name)
	first = make([]int, len(s.first))
	for i, thread := range s.first {
		first[i] = int(thread) + 1
	}
	return s.class, first
}

// DifferentEnds returns how many of the ends on a shaft weave differently: the
// fewest shafts that weave the cloth with one shaft an end.
func (c *Cloth) DifferentEnds() int {
	seen := make([]bool, len(c.warp.first))
	n := 0
	for i, class := range c.warp.class {
		if !seen[class] && len(c.draft.Threading.Row(i+1)) > 0 {
			seen[class] = true
			n++
		}
	}
	return n
}

// Lifts returns the different lifts of the picks, in the order of the first picks
// that have them, and for each pick the number of its lift, from 0. It is an error
// where the picks name more shafts than fettle writes.
func (c *Cloth) Lifts() (lifts [][]int32, of []int, err error) {
	if n := c.liftMarks(); n > mostMarks {
		return nil, nil, fmt.Errorf("its lifts hold %d marks in all, and fettle compares up to %d", n, mostMarks)
	}
	numbers := map[string]int{}
	of = make([]int, c.Picks())
	var key []byte
	for pick := 1; pick <= c.Picks(); pick++ {
		lift := c.LiftOf(pick)
		key = key[:0]
		for _, s := range lift {
			key = append(key, byte(s), byte(s>>8), byte(s>>16), byte(s>>24))
		}
		n, known := numbers[string(key)]
		if !known {
			n = len(lifts)
			numbers[string(key)] = n
			lifts = append(lifts, lift)
		}
		of[pick-1] = n
	}
	return lifts, of, nil
}
