package cloth

import "fettle/schema"

// PlainWeave is how a threading gives plain weave. The zero value gives none.
type PlainWeave struct {
	Possible bool
	// One lists the shafts with only ends that weave like the first, Other those with
	// only their neighbours; both ascending. Lifting them in turn weaves plain weave.
	One, Other []int32
	// Fails is the first end that isn't woven by One and Other, 0 for none.
	Fails int
}

// PlainWeaveOf returns the two sets of shafts that weave plain weave. Every end must be on
// a shaft without any of its neighbours. The outermost ends may be on no shaft, as floating
// selvedges are.
func PlainWeaveOf(d *schema.Draft) PlainWeave {
	first, last := 1, d.Ends()
	if last > 1 && len(d.Threading.Row(last)) == 0 {
		last--
	}
	if first < last && len(d.Threading.Row(first)) == 0 {
		first++
	}
	const odd, even = 1, 2
	carries := map[int32]uint8{}
	kind := func(end int) uint8 { return odd + uint8((end-first)%2) }
	for end := first; end <= last; end++ {
		for _, shaft := range d.Threading.Row(end) {
			carries[shaft] |= kind(end)
		}
	}
	var w PlainWeave
	for end := first; end <= last && w.Fails == 0; end++ {
		w.Fails = end
		for _, shaft := range d.Threading.Row(end) {
			if carries[shaft] == kind(end) {
				w.Fails = 0
			}
		}
	}
	if w.Possible = first <= last && w.Fails == 0; !w.Possible {
		return w
	}
	w.One, w.Other = []int32{}, []int32{}
	for _, shaft := range d.Threading.Different() {
		switch carries[shaft] {
		case odd:
			w.One = append(w.One, shaft)
		case even:
			w.Other = append(w.Other, shaft)
		}
	}
	return w
}
