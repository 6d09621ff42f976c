package dressing

import (
	"slices"

	"fettle/schema"
	"fettle/schema/cloth"
)

// PlainHem says how to weave hems in plain weave.
type PlainHem struct {
	// Lifts holds the shafts, as the draft would name them, for the two alternating
	// picks. The first pick lifts end 1.
	Lifts [2][]int32 `json:"shafts"`
	// Treadles holds the treadles to press for them, 0 if the weaver lifts shafts. New says
	// which ones to tie up besides Tieup.
	Treadles [2]int  `json:"treadles"`
	New      [2]bool `json:"new"`
}

// NoPlainHem says why hems can't be plain although the project asks for it.
type NoPlainHem struct {
	End          int  // the first end that wouldn't weave plain
	OddRepeat    int  // number of ends of the repeated draft, if it is odd
	Lacking      bool // too few treadles are free
	Needed, Free int  // treadles
}

// plainHem says how to weave plain hems, or why that is impossible.
type plainHem struct {
	PlainHem
	asked, possible bool
	refused         NoPlainHem
}

// PlainHem returns how hems are woven in plain weave. ok is false if the project doesn't
// ask for that, or if the threading or the treadles rule it out.
func (f *Figures) PlainHem() (hem PlainHem, ok bool) {
	h := f.hemInPlain()
	return h.PlainHem, h.possible
}

// noPlainHem reports whether the project asks for plain hems that the threading or the
// treadles can't give, and why.
func (f *Figures) noPlainHem() (NoPlainHem, bool) {
	h := f.hemInPlain()
	return h.refused, h.asked && !h.possible
}

func (f *Figures) hemInPlain() plainHem { return f.plainHem.get(f.computePlainHem) }

func (f *Figures) computePlainHem() plainHem {
	p, w := &f.Setup.Project, f.Warp()
	if !p.PlainHems || p.Hem <= 0 || f.Draft.Ends() == 0 {
		return plainHem{}
	}
	h := plainHem{asked: true}
	plain := cloth.PlainWeaveOf(f.Draft)
	switch floating := len(f.Draft.Threading.Row(1)) == 0 || len(f.Draft.Threading.Row(f.Draft.Ends())) == 0; {
	case !plain.Possible:
		h.refused.End = max(plain.Fails, 1)
		return h
	case w.All > w.Ends && (w.Ends%2 == 1 || floating):
		h.refused.OddRepeat = w.Ends
		return h
	}
	h.Lifts = [2][]int32{plain.One, plain.Other}
	if f.Draft.Shed == schema.Sinking {
		h.Lifts = [2][]int32{f.othersInUse(plain.One), f.othersInUse(plain.Other)}
	}
	h.findTreadles(f)
	h.possible = !h.refused.Lacking
	return h
}

// othersInUse returns the shafts with ends that aren't in a list.
func (f *Figures) othersInUse(some []int32) []int32 {
	return without(f.UsedShafts(), func(shaft int32) bool { return in(some, shaft) })
}

// UsedShafts returns the shafts with ends, ascending. Don't change the result.
func (f *Figures) UsedShafts() []int32 { return f.usedShafts.get(f.computeUsedShafts) }

func (f *Figures) computeUsedShafts() []int32 { return f.Draft.Threading.Different() }

// without returns a copy of a list without some elements.
func without(list []int32, out func(int32) bool) []int32 {
	return slices.DeleteFunc(slices.Clone(list), out)
}

// in reports whether a number is in an ascending list.
func in(list []int32, n int32) bool {
	_, found := slices.BinarySearch(list, n)
	return found
}

// findTreadles finds treadles that lift a plain hem, or free ones to tie up for it.
func (h *plainHem) findTreadles(f *Figures) {
	d := f.OnLoom()
	if f.byShaft() || d.Treadling.Count() == 0 {
		if f.NeedsLifts() {
			h.countLifts(f)
		}
		return
	}
	taken := map[int]bool{}
	for _, n := range d.Treadling.Different() {
		taken[int(n)] = true
	}
	highest := f.Setup.Loom.Treadles
	if highest == 0 {
		highest = max(d.Tieup.Len(), d.Treadling.Highest()) + 2
	}
	free := 0
	for n := 1; n <= highest; n++ {
		if !taken[n] {
			free++
		}
	}
	for i, lift := range h.Lifts {
		if n := f.tiedLike(lift); n > 0 && n <= highest {
			h.Treadles[i] = n
			if !taken[n] {
				taken[n], free = true, free-1
			}
		} else {
			h.New[i], h.refused.Needed = true, h.refused.Needed+1
		}
	}
	h.refused.Free = free
	h.refused.Lacking = h.refused.Needed > free
	for i := range h.Lifts {
		for n := 1; h.New[i] && h.Treadles[i] == 0 && n <= highest; n++ {
			if !taken[n] {
				h.Treadles[i], taken[n] = n, true
			}
		}
	}
}

// tiedLike returns the first treadle that is tied to just these of the shafts in use,
// 0 for none. On a countermarch loom it must tie the others down.
func (f *Figures) tiedLike(lift []int32) int {
	used, ties := f.UsedShafts(), &f.OnLoom().Tieup
	var down [][]int32
	if f.PressesSeveral() {
		down = f.freeDown()
	}
	for n := 1; n <= ties.Len(); n++ {
		tied := without(ties.Row(n), func(shaft int32) bool { return !in(used, shaft) })
		if slices.Equal(tied, lift) && (down == nil || slices.Equal(down[n-1], f.othersInUse(lift))) {
			return n
		}
	}
	return 0
}

// countLifts counts the treadles of a draft that needs one for each of its lifts.
func (h *plainHem) countLifts(f *Figures) {
	if f.Cloth().TooLarge() {
		return
	}
	for _, lift := range h.Lifts {
		found := false
		for pick := 1; pick <= f.Draft.Picks() && !found; pick++ {
			found = slices.Equal(f.Cloth().LiftOf(pick), lift)
		}
		if !found {
			h.refused.Needed++
		}
	}
	h.refused.Free = max(f.Setup.Loom.Treadles-f.Cloth().DistinctLifts(), 0)
	h.refused.Lacking = h.refused.Needed > h.refused.Free
}
