package fitting

import (
	"cmp"
	"maps"
	"slices"

	"fettle/schema"
)

// times returns how often an end of the draft appears in the whole warp.
func (f *fitter) times(end int) int {
	ends := f.draft.Ends()
	if f.loom.WarpEnds == 0 || ends == 0 {
		return 1
	}
	return schema.TimesAmong(end, ends, f.loom.WarpEnds)
}

// mostTimes returns the highest of times.
func (f *fitter) mostTimes() int { return max(1, f.times(1)) }

// even reports whether times is the same for every end.
func (f *fitter) even() bool {
	return f.loom.WarpEnds == 0 || f.loom.WarpEnds%max(1, f.draft.Ends()) == 0
}

// heddleCounts counts the heddles that a threading needs on each shaft.
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

// suffices reports whether every shaft has enough heddles, as far as known.
func (f *fitter) suffices(threading *schema.Rows) bool {
	return !f.loom.Heddles.Known || !slices.ContainsFunc(f.heddleCounts(threading), HeddleCount.short)
}

func (h HeddleCount) short() bool { return h.Available != nil && h.Needed > *h.Available }

// lackHeddles adds a reason for each shaft with too few heddles.
func (f *fitter) lackHeddles(threading *schema.Rows, undecided bool) {
	for _, h := range f.heddleCounts(threading) {
		if h.short() {
			f.result.Why = append(f.result.Why, Reason{Rule: "loom/missing-heddles", Needed: h.Needed,
				Available: *h.Available, Shaft: h.Shaft, Undecided: undecided})
		}
	}
}

// roomOn returns how many of the draft's ends a shaft has heddles for. Unknown
// heddles count as enough.
func (f *fitter) roomOn(shaft int) int {
	if n, counted := f.loom.Heddles.On(shaft); counted {
		return n / f.mostTimes()
	}
	return len(f.kindOf)
}

// holding holds, by shaft from 1, which kind of ends the shaft carries (-1 for none)
// and how many ends it has heddles for. Kinds count from 0.
type holding struct{ kind, room []int }

func (f *fitter) holdingOf(threading *schema.Rows, limit int) holding {
	h := holding{kind: make([]int, limit+1), room: make([]int, limit+1)}
	for shaft := range h.kind {
		h.kind[shaft] = -1
		if shaft > 0 {
			h.room[shaft] = f.roomOn(shaft)
		}
	}
	for end := 1; end <= threading.Len(); end++ {
		for _, shaft := range threading.Row(end) {
			h.kind[shaft] = f.kindOf[end-1]
		}
	}
	return h
}

// mostPlacings limits how many choices of shafts Fit tries.
const mostPlacings = 200_000

// spread moves ends from shafts with too few heddles to spare shafts, and to shafts
// with room that carry the same kind. All other ends stay.
func (f *fitter) spread(threading *schema.Rows, limit int) (schema.Rows, verdict) {
	h := f.holdingOf(threading, limit)
	lack := make([]int, len(f.kinds)) // by kind, the ends without a heddle
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

// redistribute assigns all shafts to kinds again. Kinds prefer the shafts they have.
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
		v = undecided // some ends need one heddle less than mostTimes
	}
	if v != possible {
		return schema.Rows{}, v
	}
	return f.distribute(threading, h), possible
}

// placing assigns shafts to kinds of ends until each kind has enough heddles.
type placing struct {
	lack   []int                // by kind, the ends without a heddle
	room   []int                // by shaft
	order  []int                // the order in which the kinds choose
	prefer func(kind int) []int // the shafts in the order of preference
	steps  int
}

// place fills in the kind that each shaft carries. Until the steps run out, it tries
// all choices that differ in their heddles.
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

// distribute threads each kind's ends on its shafts. Ends stay on their shaft if it
// has room; the others move in an even rhythm.
func (f *fitter) distribute(threading *schema.Rows, h holding) schema.Rows {
	on := make([]int32, threading.Len()+1)
	load := make([]int, len(h.kind))
	at := make([][]int, len(h.kind)) // by old shaft, its ends
	for end := 1; end <= threading.Len(); end++ {
		for _, shaft := range threading.Row(end) {
			on[end] = shaft
			at[shaft] = append(at[shaft], end)
		}
	}
	keep := func(shaft int) int { // how many of a shaft's ends can stay
		if h.kind[shaft] != f.kindOf[at[shaft][0]-1] {
			return 0
		}
		return min(len(at[shaft]), h.room[shaft])
	}
	must := make([]int, len(f.kinds)) // by kind, how many ends have to move
	for shaft, ends := range at {
		if len(ends) == 0 {
			continue
		}
		load[shaft] = keep(shaft)
		must[f.kindOf[ends[0]-1]] += len(ends) - load[shaft]
	}
	for shaft, ends := range at {
		if len(ends) == 0 {
			continue
		}
		k, move := f.kindOf[ends[0]-1], len(ends)-keep(shaft)
		if move == 0 {
			continue
		}
		to, free := h.destinations(shaft, k, load)
		must[k] -= move
		p, q := rhythm(move, len(ends), free-must[k])
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

// destinations returns the shafts that ends of a kind can move to from another one, and how
// many ends fit there. load is the number of ends on each shaft.
func (h holding) destinations(from, kind int, load []int) (to []int, free int) {
	for shaft := range h.kind {
		if shaft != from && h.kind[shaft] == kind && load[shaft] < h.room[shaft] {
			to = append(to, shaft)
			free += h.room[shaft] - load[shaft]
		}
	}
	return to, free
}

// longestRhythm is the most ends in one repeat of a rhythm.
const longestRhythm = 8

// rhythm returns p and q such that moving p of every q of n ends moves at least must
// and at most room ends. It prefers the short rhythm that moves the fewest; without
// one it returns must and n.
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
