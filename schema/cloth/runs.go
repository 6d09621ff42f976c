package cloth

import (
	"math/bits"
	"slices"
	"sync"
)

// runFinder looks for runs of set bits along a line of words, in 64 lanes at
// once. The line is as long as the ruler: a round of the threads, or two of
// them where runs go on round the edges.
type runFinder struct {
	ruler   ruler
	threads int // in a round
	line    []uint64
	valid   uint64   // the lanes in use
	suffix  []uint64 // room to work in, as long as the line
	spare   []uint64 // the same
}

// round reports whether runs go on round the edges.
func (f *runFinder) round() bool { return len(f.line) > f.threads }

// finders keeps finders for the memory that they work in. A library of drafts would
// otherwise allocate more for that than for anything else.
var finders = sync.Pool{New: func() any { return new(runFinder) }}

// begin prepares a finder for a line along so many threads.
func (f *runFinder) begin(r ruler, threads int) {
	f.ruler, f.threads = r, threads
	for _, room := range []*[]uint64{&f.line, &f.suffix, &f.spare} {
		*room = slices.Grow((*room)[:0], r.length)[:r.length]
	}
}

// lay lays the words of the threads along the line, given their classes.
func (f *runFinder) lay(classes []int32, words []uint64, lanes int) {
	f.valid = lowest(lanes)
	for i, class := range classes {
		f.line[i] = words[class]
	}
	copy(f.line[len(classes):], f.line)
}

// leaveOut has a lane count as down on both sides.
func (f *runFinder) leaveOut(lane int) {
	f.valid &^= 1 << lane
	for i := range f.line {
		f.line[i] &^= 1 << lane
	}
}

// run is a run of a lane: the threads from one, counted from 0, to before
// another, and its length by the ruler.
type run struct {
	lane, from, to int
	length         int64
}

// flip turns runs of up into runs of down.
func (f *runFinder) flip() {
	for i := range f.line {
		f.line[i] ^= f.valid
	}
}

// endless are the lanes set all the way round, where runs go round.
func (f *runFinder) endless() uint64 {
	if !f.round() {
		return 0
	}
	all := f.valid
	for _, word := range f.line[:f.threads] {
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
func (f *runFinder) longest() run {
	var best run
	if endless := f.endless(); endless != 0 {
		return run{bits.TrailingZeros64(endless), 0, f.threads, f.ruler.between(0, f.threads)}
	}
	if f.ruler.marks == nil {
		return f.longestEven()
	}
	w := window{line: f.line, suffix: f.suffix}
	for w.to < len(f.line) {
		w.push()
		for w.from < w.to && w.all() == 0 {
			w.pop()
		}
		length := f.ruler.between(w.from, w.to)
		if length == 0 || length < best.length {
			continue
		}
		lane := bits.TrailingZeros64(w.all())
		if length > best.length || lane < best.lane {
			best = run{lane, w.from, w.to, length}
		}
	}
	return best
}

// over counts the runs over the ruler's limit, each as often as its lane has
// threads. A run is counted where it passes the limit; going round, on the
// second round only, when all that came before is known. The longest run must
// be over the limit, so that endless ones are.
func (f *runFinder) over(threads []int32) int {
	endless := f.endless()
	var runs tally
	runs.add(endless)
	if f.ruler.marks == nil {
		f.startsOver(&runs)
	} else {
		f.passOver(&runs, endless)
	}
	sum := 0
	for lane, n := range threads {
		sum += int(n) * runs.of(lane)
	}
	return sum
}

// passOver counts by lane the runs, other than the endless ones, that pass the
// ruler's limit.
func (f *runFinder) passOver(runs *tally, endless uint64) {
	w := window{line: f.line, suffix: f.suffix}
	var counted uint64
	for w.to < len(f.line) {
		w.push()
		for f.ruler.between(w.from+1, w.to) > f.ruler.limit {
			w.pop()
		}
		var long uint64
		if f.ruler.between(w.from, w.to) > f.ruler.limit {
			long = w.all()
		}
		if fresh := long &^ counted &^ endless; fresh != 0 && w.to > len(f.line)-f.threads {
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

// Where runs are measured in threads, the line is eroded: a bit stays where it
// begins a run of so many threads. Eroding what is eroded adds the two lengths,
// so a few passes over the line find runs of any length, in all lanes at once.

// eroded lets a bit of from stay, in to, where the one that many threads on is
// set too. It gives to and the lanes in which any stay.
func eroded(to, from []uint64, threads int) (left []uint64, lanes uint64) {
	if threads >= len(from) {
		return nil, 0
	}
	ahead := from[threads:]
	from, to = from[:len(ahead)], to[:len(ahead)]
	for i, word := range ahead {
		word &= from[i]
		to[i] = word
		lanes |= word
	}
	return to, lanes
}

// erosion is a line being eroded: what is left of it, and what would be after
// one more step. The line itself stays as it is.
type erosion struct {
	left, next []uint64
	rooms      [2][]uint64 // to work in, by turns
}

func (f *runFinder) erosion() erosion {
	return erosion{left: f.line, rooms: [2][]uint64{f.suffix, f.spare}}
}

// step erodes by so many threads and gives the lanes in which any are left; take
// has that be so.
func (e *erosion) step(threads int) (lanes uint64) {
	e.next, lanes = eroded(e.rooms[0], e.left, threads)
	return lanes
}

func (e *erosion) take() {
	e.left = e.next
	e.rooms[0], e.rooms[1] = e.rooms[1], e.rooms[0]
}

// longestEven is longest for runs measured in threads: it doubles the length
// for as long as any run has it, then adds halves of what was too much.
func (f *runFinder) longestEven() run {
	var lanes uint64
	for _, word := range f.line {
		lanes |= word
	}
	if lanes == 0 {
		return run{}
	}
	runs, length := f.erosion(), 1
	longer := func(by int) bool {
		still := runs.step(by)
		if still == 0 {
			return false
		}
		runs.take()
		lanes = still
		length += by
		return true
	}
	step := 1
	for longer(step) {
		step = length
	}
	for step /= 2; step > 0; step /= 2 {
		longer(step)
	}
	lane := bits.TrailingZeros64(lanes)
	from := slices.IndexFunc(runs.left, func(word uint64) bool { return word>>lane&1 != 0 })
	return run{lane, from, from + length, int64(length)}
}

// startsOver counts by lane where runs over the ruler's limit in threads begin;
// going round, on one round. Endless ones begin nowhere.
func (f *runFinder) startsOver(runs *tally) {
	e := f.erosion()
	for length, wanted := 1, int(f.ruler.limit)+1; length < wanted; {
		step := min(length, wanted-length)
		if e.step(step) == 0 {
			return
		}
		e.take()
		length += step
	}
	left := e.left
	var before uint64
	if f.round() {
		if len(left) <= f.threads {
			return // longer than a round, so all that is left is endless
		}
		before, left = left[0], left[1:f.threads+1]
	}
	for _, word := range left {
		if fresh := word &^ before; fresh != 0 {
			runs.add(fresh)
		}
		before = word
	}
}

// tally counts for 64 lanes at once: plane k holds the bits worth 2^k of all
// counts, so that adding one to any of the lanes is a few words' work.
type tally struct {
	planes [40]uint64
	top    int // planes in use
}

// add counts one more in every lane whose bit is set.
func (t *tally) add(word uint64) {
	k := 0
	for ; word != 0; k++ {
		t.planes[k], word = t.planes[k]^word, t.planes[k]&word
	}
	t.top = max(t.top, k)
}

// of is the count of a lane.
func (t *tally) of(lane int) int {
	sum := 0
	for k, plane := range t.planes[:t.top] {
		sum |= int(plane>>lane&1) << k
	}
	return sum
}
