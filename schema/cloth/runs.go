package cloth

import (
	"math/bits"
	"slices"
	"sync"
)

// runFinder finds runs of set bits along a line of words, in 64 lanes at once. The line
// is one round of the threads, or two to find runs across the edges.
type runFinder struct {
	ruler   ruler
	threads int // in one round
	line    []uint64
	valid   uint64   // the lanes in use
	gaps    []int    // places in the line that no run crosses
	suffix  []uint64 // working memory, as long as the line
	spare   []uint64 // the same
}

// wraps reports whether runs continue across the edges.
func (f *runFinder) wraps() bool { return len(f.line) > f.threads }

// finders keeps finders for the memory that they work in. A library of drafts would
// otherwise allocate more for that than for anything else.
var finders = sync.Pool{New: func() any { return new(runFinder) }}

// begin prepares a finder for a line along so many threads. Each cut has a gap in the line,
// which counts as a thread.
func (f *runFinder) begin(r ruler, threads int, cuts []int) {
	f.ruler, f.threads, f.gaps = r, threads, f.gaps[:0]
	for i, cut := range cuts {
		f.gaps = append(f.gaps, cut+i)
	}
	for _, room := range []*[]uint64{&f.line, &f.suffix, &f.spare} {
		*room = slices.Grow((*room)[:0], r.length)[:r.length]
	}
}

// load sets the line to the words of the threads' classes.
func (f *runFinder) load(classes []int32, words []uint64, lanes int) {
	f.valid = lowBits(lanes)
	for i, class := range classes {
		f.line[i] = words[class]
	}
	f.clearGaps()
	copy(f.line[len(classes):], f.line)
}

func (f *runFinder) clearGaps() {
	for _, gap := range f.gaps {
		f.line[gap] = 0
	}
}

// skip makes a lane count as down on both sides.
func (f *runFinder) skip(lane int) {
	f.valid &^= 1 << lane
	for i := range f.line {
		f.line[i] &^= 1 << lane
	}
}

// run is a run in a lane: its first thread from 0, the thread after it, and its length
// by the ruler.
type run struct {
	lane, from, to int
	length         int64
}

// invert swaps up and down.
func (f *runFinder) invert() {
	for i := range f.line {
		f.line[i] ^= f.valid
	}
	f.clearGaps()
}

// fullLanes returns the lanes that are set all the way round, if runs wrap.
func (f *runFinder) fullLanes() uint64 {
	if !f.wraps() {
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

// longest returns the longest run: of equal ones, the first in the lowest lane. Its
// length is 0 if there is none.
//
// The start of the longest run that ends at a thread only moves forward from thread to
// thread. So one window along the line finds the longest run at every thread.
func (f *runFinder) longest() run {
	var best run
	if endless := f.fullLanes(); endless != 0 {
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

// countOver counts the runs over the ruler's limit, once for each thread of a lane. A run
// counts where it passes the limit; if runs wrap, only in the second round, when all
// threads before it are known. The longest run must be over the limit, so that full lanes
// are too.
func (f *runFinder) countOver(threads []int32) int {
	endless := f.fullLanes()
	var runs tally
	runs.add(endless)
	if f.ruler.marks == nil {
		f.countEvenRunsOver(&runs)
	} else {
		f.countRunsOver(&runs, endless)
	}
	sum := 0
	for lane, n := range threads {
		sum += int(n) * runs.of(lane)
	}
	return sum
}

// countRunsOver counts, by lane, the runs that pass the ruler's limit, without full lanes.
func (f *runFinder) countRunsOver(runs *tally, endless uint64) {
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

// between returns the length from one thread to before another. A single thread is never
// over the limit, however thick.
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

// window is a stretch of a line whose ends only move forward. It knows the lanes that are
// set throughout: suffix[i] has those set from i to before mid, and cleared those not set
// from mid on. So it reads each word at most twice.
type window struct {
	line, suffix  []uint64
	from, mid, to int
	cleared       uint64 // lanes not set throughout from mid on
}

// push adds the next word.
func (w *window) push() {
	w.cleared |= ^w.line[w.to]
	w.to++
}

// pop drops the first word.
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

// all returns the lanes that are set throughout the window.
func (w *window) all() uint64 {
	if w.from < w.mid {
		return w.suffix[w.from] &^ w.cleared
	}
	return ^w.cleared
}

// To find runs by threads, the line is eroded: a bit stays if it begins a run of a given
// length. Eroding again adds the two lengths, so a few passes find runs of any length in
// all lanes at once.

// erode keeps a bit of from, in to, if the bit so many threads later is also set. It
// returns to and the lanes that have any bits.
func erode(to, from []uint64, threads int) (left []uint64, lanes uint64) {
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

// erosion is a line that is being eroded, and the result of the next step. The line itself
// doesn't change.
type erosion struct {
	left, next []uint64
	rooms      [2][]uint64 // working memory, used in turn
}

func (f *runFinder) erosion() erosion {
	return erosion{left: f.line, rooms: [2][]uint64{f.suffix, f.spare}}
}

// step erodes by so many threads and returns the lanes with any bits. commit takes the
// result.
func (e *erosion) step(threads int) (lanes uint64) {
	e.next, lanes = erode(e.rooms[0], e.left, threads)
	return lanes
}

func (e *erosion) commit() {
	e.left = e.next
	e.rooms[0], e.rooms[1] = e.rooms[1], e.rooms[0]
}

// longestEven is longest for runs measured in threads. It doubles the length while any run
// has it, and then adds ever smaller steps.
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
		runs.commit()
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

// countEvenRunsOver counts, by lane, the starts of runs over the ruler's limit in threads,
// in one round and without full lanes.
func (f *runFinder) countEvenRunsOver(runs *tally) {
	e := f.erosion()
	for length, wanted := 1, int(f.ruler.limit)+1; length < wanted; {
		step := min(length, wanted-length)
		if e.step(step) == 0 {
			return
		}
		e.commit()
		length += step
	}
	left := e.left
	var before uint64
	if f.wraps() {
		if len(left) <= f.threads {
			return // longer than a round, so only full lanes are left
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

// tally counts for 64 lanes at once. Plane k holds bit k of all counts, so that counting
// takes a few words.
type tally struct {
	planes [40]uint64
	top    int // planes in use
}

// add counts one for each lane in a word.
func (t *tally) add(word uint64) {
	k := 0
	for ; word != 0; k++ {
		t.planes[k], word = t.planes[k]^word, t.planes[k]&word
	}
	t.top = max(t.top, k)
}

// of returns the count of a lane.
func (t *tally) of(lane int) int {
	sum := 0
	for k, plane := range t.planes[:t.top] {
		sum |= int(plane>>lane&1) << k
	}
	return sum
}
