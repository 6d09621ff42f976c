package cloth

import "fettle/schema"

// Repeat is how many ends, and how many picks, go by until the cloth begins
// anew: the smallest p from 1 up such that every thread weaves like the one p
// further on, as far as there is one. It is all the threads where nothing
// repeats, and 0 where there are no threads.
func (c *Cloth) Repeat() (ends, picks int) {
	if c.repeat == [2]int{} {
		c.repeat = [2]int{Period(c.warp.class), Period(c.weft.class)}
	}
	return c.repeat[0], c.repeat[1]
}

// Period is the smallest p from 1 up with list[i] = list[i+p] throughout, the
// whole length where nothing repeats and 0 for an empty list: the length less
// the longest border, by the failure function of Knuth, Morris and Pratt (1977).
// The length need not be a multiple of it: 1, 2, 1 has period 2.
func Period(list []int32) int {
	if len(list) == 0 {
		return 0
	}
	border := make([]int32, len(list))
	var k int32
	for i := 1; i < len(list); i++ {
		for k > 0 && list[i] != list[k] {
			k = border[k-1]
		}
		if list[i] == list[k] {
			k++
		}
		border[i] = k
	}
	return len(list) - int(k)
}

// Intersections counts, for each thread of the repeat in order, how often it
// passes between face and back on its way round the repeat of the threads it
// crosses. In plain weave it is 2.
func (c *Cloth) Intersections(name schema.SystemName) []int {
	s := c.systemOf(name)
	ends, picks := c.Repeat()
	own, across := ends, picks
	if name == schema.Weft {
		own, across = picks, ends
	}
	passes := c.passes(s, s.across.class[:across])
	list := make([]int, own)
	for i := range list {
		list[i] = passes[s.class[i]]
	}
	return list
}

// passes counts by class the changes between face and back along a round of
// the threads across, given by their classes.
func (c *Cloth) passes(s *system, round []int32) []int {
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

// IntersectionRate is how often a thread of a system passes between face and
// back for each thread it crosses, round the repeat, on average: 1 in plain
// weave, 0.4 in a 5-end satin. It is 0 where there is no cloth.
func (c *Cloth) IntersectionRate(name schema.SystemName) float64 {
	ends, picks := c.Repeat()
	if ends == 0 || picks == 0 {
		return 0
	}
	sum := 0
	for _, i := range c.Intersections(name) {
		sum += i
	}
	return float64(sum) / float64(ends*picks)
}

// WeaveValue is R ÷ (R + I) of Ashenhurst's rule for the maximum sett: R the
// ends of the repeat and I the intersections of a pick round it, averaged over
// the picks of the repeat. Plain weave has 0.5, a 2/2 twill 0.667. A pick that
// never passes between face and back leaves room for nothing and counts as 1.
// It is 0 where there is no cloth.
func (c *Cloth) WeaveValue() float64 {
	ends, _ := c.Repeat()
	picks := c.Intersections(schema.Weft)
	if ends == 0 || len(picks) == 0 {
		return 0
	}
	sum := 0.0
	for _, i := range picks {
		sum += float64(ends) / float64(ends+i)
	}
	return sum / float64(len(picks))
}
