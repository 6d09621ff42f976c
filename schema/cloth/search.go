package cloth

import (
	"math/bits"
	"slices"
)

// search looks for runs of set bits along a line of words, in 64 lanes at
// once. The line is as long as the ruler: a round of the threads, or two of
// them where runs go on round the edges.
type search struct {
	ruler   ruler
	threads int // in a round
	line    []uint64
	valid   uint64   // the lanes in use
	suffix  []uint64 // room to work in, as long as the line
	runs    []uint64 // the same
}

// round says whether runs go on round the edges.
func (s *search) round() bool { return len(s.line) > s.threads }

// newSearch is a search along so many threads. It works in the room of one that
// is done with, which may be nil.
func newSearch(r ruler, threads int, done *search) *search {
	s := &search{ruler: r, threads: threads}
	if done != nil {
		s.line, s.suffix, s.runs = done.line, done.suffix, done.runs
	}
	for _, room := range []*[]uint64{&s.line, &s.suffix, &s.runs} {
		*room = slices.Grow((*room)[:0], r.length)[:r.length]
	}
	return s
}

// lay lays the words of the threads along the line, given their classes.
func (s *search) lay(classes []int32, words []uint64, lanes int) {
	s.valid = lowest(lanes)
	for i, class := range classes {
		s.line[i] = words[class]
	}
	copy(s.line[len(classes):], s.line)
}

// leaveOut has a lane count as down on both sides.
func (s *search) leaveOut(lane int) {
	s.valid &^= 1 << lane
	for i := range s.line {
		s.line[i] &^= 1 << lane
	}
}

// stretch is a run of a lane: the threads from one, counted from 0, to before
// another, and its length by the ruler.
type stretch struct {
	lane, from, to int
	length         int64
}

// flip turns runs of up into runs of down.
func (s *search) flip() {
	for i := range s.line {
		s.line[i] ^= s.valid
	}
}

// endless are the lanes set all the way round, where runs go round.
func (s *search) endless() uint64 {
	if !s.round() {
		return 0
	}
	all := s.valid
	for _, word := range s.line[:s.threads] {
		if all &= word; all == 0 {
			break
		}
	}
	return all
}

// longest is the longest run; of several, that of the lowest lane, and of that
// the first. Its length is 0 where there is none.
//
// The earliest start of any run that reaches a thread only moves onward from
// one thread to the next, so one window along the line meets, at every thread,
// the longest run that ends there.
func (s *search) longest() stretch {
	var best stretch
	if endless := s.endless(); endless != 0 {
		return stretch{bits.TrailingZeros64(endless), 0, s.threads, s.ruler.between(0, s.threads)}
	}
	if s.ruler.marks == nil {
		return s.longestEven()
	}
	w := window{line: s.line, suffix: s.suffix}
	for w.to < len(s.line) {
		w.push()
		for w.from < w.to && w.all() == 0 {
			w.pop()
		}
		length := s.ruler.between(w.from, w.to)
		if length == 0 || length < best.length {
			continue
		}
		lane := bits.TrailingZeros64(w.all())
		if length > best.length || lane < best.lane {
			best = stretch{lane, w.from, w.to, length}
		}
	}
	return best
}

// over counts the runs over the ruler's limit, each as often as its lane has
// threads. A run is counted where it passes the limit; going round, on the
// second round only, when all that came before is known. The longest run must
// be over the limit, so that endless ones are.
func (s *search) over(threads []int32) int {
	endless := s.endless()
	var runs tally
	runs.add(endless)
	if s.ruler.marks == nil {
		s.startsOver(&runs)
	} else {
		s.passOver(&runs, endless)
	}
	sum := 0
	for lane, n := range threads {
		sum += int(n) * runs.of(lane)
	}
	return sum
}

// passOver counts by lane the runs, other than the endless ones, that pass the
// ruler's limit.
func (s *search) passOver(runs *tally, endless uint64) {
	w := window{line: s.line, suffix: s.suffix}
	var counted uint64
	for w.to < len(s.line) {
		w.push()
		for s.ruler.between(w.from+1, w.to) > s.ruler.limit {
			w.pop()
		}
		var long uint64
		if s.ruler.between(w.from, w.to) > s.ruler.limit {
			long = w.all()
		}
		if fresh := long &^ counted &^ endless; fresh != 0 && w.to > len(s.line)-s.threads {
			runs.add(fresh)
		}
		counted = long
	}
}

// between is the length from one thread to before another. A single thread, however
// thick, is never over the limit.
func (r *ruler) between(from, to int) int64 {
	if r.marks == nil {
		return int64(to - from)
	}
	length := r.marks[to] - r.marks[from]
	if to-from == 1 {
		return min(length, r.limit)
	}
	return length
}

// window is a stretch of a line whose two ends only move onward. It knows the
// lanes set throughout: suffix[i] holds those set from i to before mid, and
// back those set from mid on, so that a word is looked at twice at most.
type window struct {
	line, suffix  []uint64
	from, mid, to int
	cleared       uint64 // lanes not set throughout from mid on
}

// push takes in the next word.
func (w *window) push() {
	w.cleared |= ^w.line[w.to]
	w.to++
}

// pop lets go of the first word.
func (w *window) pop() {
	if w.from == w.mid {
		all := ^uint64(0)
		for i := w.to - 1; i >= w.from; i-- {
			all &= w.line[i]
			w.suffix[i] = all
		}
		w.mid, w.cleared = w.to, 0
	}
	w.from++
}

// all are the lanes set throughout the window.
func (w *window) all() uint64 {
	if w.from < w.mid {
		return w.suffix[w.from] &^ w.cleared
	}
	return ^w.cleared
}
