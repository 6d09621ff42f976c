package rules

import (
	"slices"

	"fettle/schema/cloth"
)

// slipKind is how a thread breaks a repeat or a mirror.
type slipKind string

const (
	changed slipKind = "changed"
	missing slipKind = "missing"
	extra   slipKind = "extra"
	swapped slipKind = "swapped" // with the next thread
)

// slip is a thread of a list that breaks its repeat or its mirror.
type slip struct {
	kind     slipKind
	at       int   // index from 0; if a thread is missing, of the one in its place
	expected int32 // what the list should hold there
	repeat   int   // threads in the repeat, 0 for a mirror
	twin     int   // index of its mirror image, if it is changed and breaks a mirror
}

const (
	fewestRepeats = 4 // that a list must have, so that one thread can break them
	mostInList    = 2 // slips
)

// nearRepeat searches lists for a repeat with one or two slips. The zero value works; it
// keeps memory for the next list.
type nearRepeat struct{ borders, reversed []int32 }

// find returns the slips of a list that follows a repeat of two or more threads but for
// them, in order. It returns none if the list has no such repeat or no slips. One slip
// takes four whole repeats, two take six; a whole repeat must follow each slip and come
// before it. With a repeat of two threads, one too many can't be told from one missing: it is
// extra.
//
// The slips leave a half or a third of the list as it should be. Each of these parts
// gives one repeat to try, so the time is linear.
func (s *nearRepeat) find(list []int32) []slip {
	n := len(list)
	if n < 2*fewestRepeats-1 {
		return nil
	}
	found, regular := s.fromStart(list)
	if found == nil && !regular {
		s.reversed = append(s.reversed[:0], list...)
		slices.Reverse(s.reversed)
		found, _ = s.fromStart(s.reversed)
		if found = fromEnd(found, n); found == nil {
			found = s.fromMiddle(list)
		}
	}
	for i, f := range found {
		if f.kind == swapped {
			found[i].expected = list[f.at+1]
		}
	}
	return found
}

// fromStart finds slips after the first half or third of a list. regular reports that the
// whole list follows the repeat.
func (s *nearRepeat) fromStart(list []int32) (found []slip, regular bool) {
	n := len(list)
	half, third := n/2-1, n/3-1
	s.borders = cloth.Borders(list[:half], s.borders)
	for _, try := range [...]struct{ length, slips int }{{half, 1}, {third, mostInList}} {
		if try.length < 2 {
			continue
		}
		p := try.length - int(s.borders[try.length-1])
		if !enough(n+try.slips, p, try.slips) {
			continue
		}
		if found, ok := follow(list, p, try.length, try.slips); ok {
			return found, len(found) == 0
		}
	}
	return nil, false
}

// fromMiddle finds one slip on each side of the middle third of a list.
func (s *nearRepeat) fromMiddle(list []int32) []slip {
	n := len(list)
	from, length := n/3, n/3-1
	if length < 1 {
		return nil
	}
	s.borders = cloth.Borders(list[from:from+length], s.borders)
	p := length - int(s.borders[length-1])
	if !enough(n+mostInList, p, mostInList) {
		return nil
	}
	after, ok := follow(list[from:], p, length, 1)
	if !ok {
		return nil
	}
	before, ok := follow(s.reversed[n-from-length:], p, length, 1)
	if !ok || !enough(n+grown(after)+grown(before), p, len(after)+len(before)) {
		return nil
	}
	found := fromEnd(before, from+length)
	for _, f := range after {
		f.at += from
		found = append(found, f)
	}
	return found
}

// enough reports whether so many threads are enough repeats for so many slips.
func enough(threads, repeat, slips int) bool {
	if repeat < 2 {
		return false
	}
	repeats := threads / repeat
	return repeats >= fewestRepeats+2*max(0, slips-1)
}

// grown returns how many more threads a list would have without its slips.
func grown(slips []slip) (threads int) {
	for _, s := range slips {
		switch s.kind {
		case missing:
			threads++
		case extra:
			threads--
		}
	}
	return threads
}

// fromEnd maps slips of a reversed list of n threads to the list.
func fromEnd(slips []slip, n int) []slip {
	for i, s := range slips {
		switch s.kind {
		case changed, extra:
			slips[i].at = n - 1 - s.at
		case swapped:
			slips[i].at = n - 2 - s.at
		case missing:
			slips[i].at = n - s.at
		}
	}
	slices.Reverse(slips)
	return slips
}

// follow follows the repeat of p threads that ends before thread from, to the end of the
// list. It returns the slips on the way; ok is false if there are more than allowed, or
// if two slips, or a slip and the end, are less than a repeat apart.
func follow(list []int32, p, from, most int) (found []slip, ok bool) {
	w := walk{list: list, repeat: list[from-p : from]}
	i, phase := w.run(from, 0)
	clear := from - p // the first thread after the last slip
	for i < len(list) {
		if len(found) == most || i-clear < p {
			return nil, false
		}
		f, next, nextPhase := w.slip(i, phase)
		if f.kind == "" {
			return nil, false
		}
		found = append(found, f)
		clear = next
		i, phase = w.run(next, nextPhase)
	}
	if len(found) > 0 && !enough(len(list)+grown(found), p, len(found)) {
		return nil, false
	}
	return found, true
}

// walk compares a list with a repeat.
type walk struct{ list, repeat []int32 }

// run returns the first thread from i on that differs from the repeat, and its phase.
func (w *walk) run(i, phase int) (int, int) {
	for i < len(w.list) && w.list[i] == w.repeat[phase] {
		i++
		if phase++; phase == len(w.repeat) {
			phase = 0
		}
	}
	return i, phase
}

// slip returns the slip at thread i, and where the list goes on after it: for at least a
// repeat. The kind is empty if there is none.
func (w *walk) slip(i, phase int) (f slip, next, nextPhase int) {
	p := len(w.repeat)
	after := func(k int) int { return (phase + k) % p }
	f = slip{at: i, expected: w.repeat[phase], repeat: p}
	isSwapped := i+1 < len(w.list) && w.list[i] == w.repeat[after(1)] && w.list[i+1] == w.repeat[phase]
	for _, try := range [...]struct {
		kind        slipKind
		possible    bool
		next, phase int
	}{
		{changed, true, i + 1, after(1)},
		{swapped, isSwapped, i + 2, after(2)},
		{extra, true, i + 1, phase},
		{missing, p > 2 && w.list[i] == w.repeat[after(1)], i, after(1)},
	} {
		if !try.possible {
			continue
		}
		if end, _ := w.run(try.next, try.phase); end-try.next >= p {
			f.kind = try.kind
			return f, try.next, try.phase
		}
	}
	return slip{}, 0, 0
}
