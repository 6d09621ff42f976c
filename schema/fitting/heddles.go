package fitting

import (
	"cmp"
	"maps"
	"slices"

	"fettle/schema"
)

// times is how often an end of the draft stands in the whole warp.
func (f *fitter) times(end int) int {
	ends := f.draft.Ends()
	if f.loom.WarpEnds == 0 || ends == 0 {
		return 1
	}
	n := f.loom.WarpEnds / ends
	if end <= f.loom.WarpEnds%ends {
		n++
	}
	return n
}

// mostTimes is the most that any end stands in the whole warp.
func (f *fitter) mostTimes() int { return max(1, f.times(1)) }

// even reports whether every end stands in the whole warp equally often.
func (f *fitter) even() bool {
	return f.loom.WarpEnds == 0 || f.loom.WarpEnds%max(1, f.draft.Ends()) == 0
}

// heddleCounts counts the heddles that a threading takes of each shaft.
func (f *fitter) heddleCounts(threading *schema.Rows) []HeddleCount {
	needed := map[int32]int{}
	for end := 1; end <= threading.Len(); end++ {
		for _, shaft := range threading.Row(end) {
			needed[shaft] += f.times(end)
		}
	}
	var list []HeddleCount
	for _, shaft := range slices.Sorted(maps.Keys(needed)) {
		list = append(list, HeddleCount{int(shaft), needed[shaft], known(f.loom.Heddles.On(int(shaft)))})
	}
	return list
}

// suffices reports whether no shaft is short of heddles.
func (f *fitter) suffices(threading *schema.Rows) bool {
	return !f.loom.Heddles.Known || !slices.ContainsFunc(f.heddleCounts(threading), HeddleCount.short)
}

func (h HeddleCount) short() bool { return h.Available != nil && h.Needed > *h.Available }

// lackHeddles says which shafts have too few heddles, with ends that weave alike
// on one shaft.
func (f *fitter) lackHeddles(threading *schema.Rows, undecided bool) {
	for _, h := range f.heddleCounts(threading) {
		if h.short() {
			f.result.Why = append(f.result.Why, Reason{Rule: "loom/missing-heddles", Needed: h.Needed,
				Available: *h.Available, Shaft: h.Shaft, Undecided: undecided})
		}
	}
}

// room is how many of the draft's ends a shaft's heddles take. Where the heddles
// are unknown they are enough.
func (f *fitter) room(shaft int) int {
	if n, counted := f.loom.Heddles.On(shaft); counted {
		return n / f.mostTimes()
	}
	return len(f.kindOf)
}

// holding is which kind of ends each shaft carries, -1 for none, and where its
// ends are. Shafts count from 1, kinds from 0.
type holding struct {
	kind []int
	room []int
}

func (f *fitter) holdingOf(threading *schema.Rows, limit int) holding {
	h := holding{kind: make([]int, limit+1), room: make([]int, limit+1)}
	for shaft := range h.kind {
		h.kind[shaft] = -1
		if shaft > 0 {
			h.room[shaft] = f.room(shaft)
		}
	}
	for end := 1; end <= threading.Len(); end++ {
		for _, shaft := range threading.Row(end) {
			h.kind[shaft] = f.kindOf[end-1]
		}
	}
	return h
}

// mostPlacings is how many choices of shafts are tried to fit a draft.
const mostPlacings = 200_000

// spread moves ends of shafts that are short to spare shafts and to shafts with
// room that carry their like; all other ends stay.
func (f *fitter) spread(threading *schema.Rows, limit int) (schema.Rows, verdict) {
	h := f.holdingOf(threading, limit)
	lack := make([]int, len(f.kinds)) // ends for which the shafts of a kind have no heddle
	for k, kind := range f.kinds {
		lack[k] = len(kind.ends)
	}
	var spare []int
	for shaft := 1; shaft <= limit; shaft++ {
		if k := h.kind[shaft]; k >= 0 {
			lack[k] -= h.room[shaft]
		} else {
			spare = append(spare, shaft)
		}
	}
	p := placing{lack: lack, room: h.room, steps: f.placings, order: numbersTo(len(lack))}
	p.prefer = func(int) []int { return spare }
	if v := p.place(h.kind); v != possible {
		return schema.Rows{}, v
	}
	return f.distribute(threading, h), possible
}

// redistribute gives out all shafts anew. Whoever has a shaft keeps it where that
// can be.
func (f *fitter) redistribute(threading *schema.Rows, limit int) (schema.Rows, verdict) {
	h := f.holdingOf(threading, limit)
	own := slices.Clone(h.kind)
	p := placing{room: h.room, steps: f.placings, lack: make([]int, len(f.kinds)), order: numbersTo(len(f.kinds))}
	for k, kind := range f.kinds {
		p.lack[k] = len(kind.ends)
	}
	slices.SortStableFunc(p.order, func(a, b int) int { return cmp.Compare(p.lack[b], p.lack[a]) })
	p.prefer = func(k int) []int {
		list := numbersTo(limit + 1)[1:]
		slices.SortStableFunc(list, func(a, b int) int {
			rank := func(shaft int) int {
				switch own[shaft] {
				case k:
					return 0
				case -1:
					return 1
				}
				return 2
			}
			return cmp.Compare(rank(a), rank(b))
		})
		return list
	}
	for shaft := range h.kind {
		h.kind[shaft] = -1
	}
	v := p.place(h.kind)
	if v == impossible && !f.even() {
		v = undecided // some ends take a heddle less than was counted with
	}
	if v != possible {
		return schema.Rows{}, v
	}
	return f.distribute(threading, h), possible
}

// placing gives shafts to kinds of ends until each has heddles enough.
type placing struct {
	lack   []int // by kind
	room   []int // by shaft
	order  []int // in which the kinds choose
	prefer func(kind int) []int
	steps  int
}

// place fills in which kind each shaft carries. It tries all choices that differ
// in their heddles, as far as the steps go.
func (p *placing) place(kinds []int) verdict {
	var give func(i int) verdict
	give = func(i int) verdict {
		if i == len(p.order) {
			return possible
		}
		k := p.order[i]
		if p.lack[k] <= 0 {
			return give(i + 1)
		}
		shafts := p.prefer(k)
		var take func(from, lack int) verdict
		take = func(from, lack int) verdict {
			if lack <= 0 {
				return give(i + 1)
			}
			left := 0
			for _, shaft := range shafts[from:] {
				if kinds[shaft] < 0 {
					left += p.room[shaft]
				}
			}
			if left < lack {
				return impossible
			}
			found := impossible
			tried := map[int]bool{}
			for at := from; at < len(shafts); at++ {
				shaft := shafts[at]
				if kinds[shaft] >= 0 || p.room[shaft] == 0 || tried[p.room[shaft]] {
					continue
				}
				tried[p.room[shaft]] = true
				if p.steps--; p.steps < 0 {
					return undecided
				}
				kinds[shaft] = k
				v := take(at+1, lack-p.room[shaft])
				if v == possible {
					return v
				}
				kinds[shaft] = -1
				if v == undecided {
					found = v
				}
			}
			return found
		}
		return take(0, p.lack[k])
	}
	return give(0)
}

// distribute threads each kind's ends on its shafts. Ends stay where they are as
// far as there is room; those that move are taken in an even rhythm.
func (f *fitter) distribute(threading *schema.Rows, h holding) schema.Rows {
	on := make([]int32, threading.Len()+1)
	load := make([]int, len(h.kind))
	at := make([][]int, len(h.kind)) // by shaft, the ends on it before
	for end := 1; end <= threading.Len(); end++ {
		for _, shaft := range threading.Row(end) {
			on[end] = shaft
			at[shaft] = append(at[shaft], end)
		}
	}
	must := make([]int, len(f.kinds)) // by kind, the ends that have to move
	for shaft, ends := range at {
		if len(ends) == 0 {
			continue
		}
		k := f.kindOf[ends[0]-1]
		if h.kind[shaft] == k {
			load[shaft] = min(len(ends), h.room[shaft])
		}
		must[k] += len(ends) - load[shaft]
	}
	for shaft, ends := range at {
		if len(ends) == 0 {
			continue
		}
		k := f.kindOf[ends[0]-1]
		keep := 0
		if h.kind[shaft] == k {
			keep = min(len(ends), h.room[shaft])
		}
		if keep == len(ends) {
			continue
		}
		var to []int // shafts that take ends of this one
		free := 0
		for other := range h.kind {
			if other != shaft && h.kind[other] == k && load[other] < h.room[other] {
				to = append(to, other)
				free += h.room[other] - load[other]
			}
		}
		must[k] -= len(ends) - keep
		p, q := rhythm(len(ends)-keep, len(ends), free-must[k])
		load[shaft] = 0
		if h.kind[shaft] == k {
			load[shaft] = len(ends) - len(ends)*p/q
		}
		turn := 0
		for i, end := range ends {
			if (i+1)*p/q == i*p/q {
				continue
			}
			for load[to[turn%len(to)]] >= h.room[to[turn%len(to)]] {
				turn++
			}
			other := to[turn%len(to)]
			on[end] = int32(other)
			load[other]++
			turn++
		}
	}
	return schema.Singles(on[1:]...)
}

// longestRhythm is how many ends a rhythm goes over before it comes again.
const longestRhythm = 8

// rhythm is p of every q ends, so that of n ends at least as many move as must
// and no more than there is room for: as few as a short rhythm allows, or exactly
// as many as must.
func rhythm(must, n, room int) (p, q int) {
	p, q = must, n
	fewest := room + 1
	for b := 1; b <= longestRhythm; b++ {
		for a := 1; a <= b; a++ {
			if moved := n * a / b; moved >= must && moved < fewest {
				p, q, fewest = a, b, moved
			}
		}
	}
	return p, q
}
