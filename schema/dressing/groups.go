package dressing

import "fettle/schema"

// Start is where threading starts.
type Start uint8

const (
	FromRight  Start = iota // at end 1
	FromLeft                // at the last end
	FromCentre              // at the centre, first to end 1 and then to the last
)

// Group is ends that are threaded together before they are checked, in the
// order in which they are threaded; From lies beyond To where that runs towards
// end 1.
type Group struct {
	From   int         `json:"from"`
	To     int         `json:"to"`
	Shafts [][]int32   `json:"shafts"` // by end; empty for an end on none
	Tally  map[int]int `json:"tally"`  // ends on each shaft
}

// usualGroup is the size of a group where the threading has no repeat.
const usualGroup = 12

// Groups cuts the whole warp into groups for threading. A size of 0 takes the
// threading's own repeat, or 12 ends where it has none. From the centre the
// last group of each half is the smaller one, otherwise the last of all.
func (f *Figures) Groups(size int, start Start) []Group {
	d, w := f.Draft, f.Warp()
	if w.All == 0 {
		return nil
	}
	if size <= 0 {
		size = f.groupSize()
	}
	switch start {
	case FromLeft:
		return groupsDown(nil, d, w, w.All, 1, size)
	case FromCentre:
		return groupsUp(groupsDown(nil, d, w, w.Half(), 1, size), d, w, w.Half()+1, w.All, size)
	}
	return groupsUp(nil, d, w, 1, w.All, size)
}

func (f *Figures) groupSize() int {
	if p := f.ThreadingRepeat(); p < f.Warp().All {
		return p
	}
	return usualGroup
}

func groupsUp(list []Group, d *schema.Draft, w Warp, from, to, size int) []Group {
	for ; from <= to; from += min(size, w.All) {
		list = append(list, group(d, w, from, from+min(size-1, to-from)))
	}
	return list
}

func groupsDown(list []Group, d *schema.Draft, w Warp, from, to, size int) []Group {
	for ; from >= to; from -= min(size, w.All) {
		list = append(list, group(d, w, from, from-min(size-1, from-to)))
	}
	return list
}

func group(d *schema.Draft, w Warp, from, to int) Group {
	step := 1
	if to < from {
		step = -1
	}
	g := Group{from, to, make([][]int32, 0, (to-from)*step+1), map[int]int{}}
	for end := from; ; end += step {
		row := d.Threading.Row(w.DraftEnd(end))
		if row == nil {
			row = []int32{}
		}
		g.Shafts = append(g.Shafts, row)
		for _, shaft := range row {
			g.Tally[int(shaft)]++
		}
		if end == to {
			return g
		}
	}
}
