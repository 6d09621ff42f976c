package dressing

import (
	"slices"

	"fettle/schema"
)

// ShaftHeddles holds the heddles that the whole warp needs on one shaft.
type ShaftHeddles struct {
	Shaft      int
	Needed     int
	FirstHalf  int // for the ends of the warp's first half
	SecondHalf int
	Available  int  // on the shaft now
	Counted    bool // whether Available is known
	Short      int  // how many are missing, if Available is known
	// RunsOut is the first end of the whole warp that is left without a
	// heddle on this shaft, 0 for none; DraftEnd is the same end in the draft.
	RunsOut, DraftEnd int
}

// PerCm returns the shaft's heddles per centimetre over a width in millimetres.
func (h ShaftHeddles) PerCm(width Figure) Figure {
	if !width.Known || width.Value <= 0 {
		return Figure{}
	}
	return known(float64(h.Needed) / width.Value * 10)
}

// Heddles counts the heddles on each shaft that carries ends, lowest shaft first. An end
// on several shafts takes a heddle on each. It returns none if TooManyEnds refuses the
// warp.
func (f *Figures) Heddles() []ShaftHeddles { return f.heddles.get(f.computeHeddles) }

func (f *Figures) computeHeddles() []ShaftHeddles {
	w, threading := f.Warp(), &f.Draft.Threading
	if w.Ends == 0 {
		return nil
	}
	shafts := shaftsOf(threading)
	list := make([]ShaftHeddles, len(shafts.numbers))
	for end := 1; end <= threading.Len(); end++ {
		all, half := w.times(end, w.All), w.times(end, w.firstHalf())
		for _, shaft := range threading.Row(end) {
			h := &list[shafts.at(shaft)]
			h.Needed += all
			h.FirstHalf += half
		}
	}
	short := false
	for i := range list {
		short = list[i].compare(int(shafts.numbers[i]), &f.Setup.Heddles) || short
	}
	if short {
		findRunsOut(threading, w, shafts, list)
	}
	return list
}

// compare fills in how many heddles there are and how many are missing, and reports
// whether any are.
func (h *ShaftHeddles) compare(shaft int, heddles *schema.Heddles) bool {
	h.Shaft = shaft
	h.SecondHalf = h.Needed - h.FirstHalf
	h.Available, h.Counted = heddles.On(shaft)
	if h.Counted {
		h.Short = max(h.Needed-h.Available, 0)
	}
	return h.Short > 0
}

// findRunsOut finds the end at which each short shaft runs out of heddles. A shaft with n
// heddles and m ends a repeat has enough for n/m whole repeats.
func findRunsOut(threading *schema.Rows, w Warp, shafts shaftIndex, list []ShaftHeddles) {
	inDraft := make([]int, len(list))
	for end := 1; end <= threading.Len(); end++ {
		for _, shaft := range threading.Row(end) {
			inDraft[shafts.at(shaft)]++
		}
	}
	met := make([]int, len(list))
	for end := 1; end <= threading.Len(); end++ {
		for _, shaft := range threading.Row(end) {
			i := shafts.at(shaft)
			h := &list[i]
			if h.Short > 0 && met[i] == h.Available%inDraft[i] {
				h.DraftEnd = end
				h.RunsOut = h.Available/inDraft[i]*w.Ends + end
			}
			met[i]++
		}
	}
}

// HeddleMove says how many heddles to move from one shaft to another before winding the
// warp.
type HeddleMove struct{ Count, From, To int }

// heddleMoves returns which spare heddles to move to short shafts; the shafts with most
// to spare give first. If some are still missing after that, the loom doesn't have
// enough.
func (f *Figures) heddleMoves() []HeddleMove {
	short := slices.DeleteFunc(slices.Clone(f.Heddles()), func(h ShaftHeddles) bool { return h.Short == 0 })
	if len(short) == 0 {
		return nil
	}
	type spare struct{ shaft, count int }
	var spares []spare
	add := func(shaft, needed int) {
		if n, counted := f.Setup.Heddles.On(shaft); counted && n > needed {
			spares = append(spares, spare{shaft, n - needed})
		}
	}
	for _, h := range f.Heddles() {
		add(h.Shaft, h.Needed)
	}
	for shaft := 1; shaft <= f.Setup.Loom.Shafts; shaft++ {
		if !in(f.UsedShafts(), int32(shaft)) {
			add(shaft, 0)
		}
	}
	slices.SortStableFunc(spares, func(a, b spare) int { return b.count - a.count })
	var moves []HeddleMove
	for _, h := range short {
		for missing := h.Short; missing > 0 && len(spares) > 0; {
			from := &spares[0]
			n := min(missing, from.count)
			moves = append(moves, HeddleMove{n, from.shaft, h.Shaft})
			if missing, from.count = missing-n, from.count-n; from.count == 0 {
				spares = spares[1:]
			}
		}
	}
	return moves
}

// MovingHeddlesSuffices reports whether some shaft is short of heddles and the other
// shafts can spare the missing ones.
func (f *Figures) MovingHeddlesSuffices() bool {
	missing := 0
	for _, h := range f.Heddles() {
		missing += h.Short
	}
	moved := 0
	for _, m := range f.heddleMoves() {
		moved += m.Count
	}
	return missing > 0 && moved == missing
}

// shaftIndex numbers the shafts in use from 0.
type shaftIndex struct {
	numbers []int32 // ascending
	places  []int32 // by shaft number; nil if the numbers are far apart
}

// sparse limits how far the highest shaft may exceed the table's size. Beyond it, a list
// by shaft number would take more memory than the file.
const sparse = 4096

func shaftsOf(threading *schema.Rows) shaftIndex {
	highest := threading.Highest()
	if highest > threading.Count()+sparse {
		return shaftIndex{numbers: threading.Different()}
	}
	x := shaftIndex{places: make([]int32, highest+1)}
	for end := 1; end <= threading.Len(); end++ {
		for _, shaft := range threading.Row(end) {
			x.places[shaft] = 1
		}
	}
	for shaft, used := range x.places {
		if used == 1 {
			x.places[shaft] = int32(len(x.numbers))
			x.numbers = append(x.numbers, int32(shaft))
		}
	}
	return x
}

func (x shaftIndex) at(shaft int32) int {
	if x.places != nil {
		return int(x.places[shaft])
	}
	i, _ := slices.BinarySearch(x.numbers, shaft)
	return i
}
