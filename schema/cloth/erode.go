package cloth

import (
	"math/bits"
	"slices"
)

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

func (s *search) erosion() erosion {
	return erosion{left: s.line, rooms: [2][]uint64{s.suffix, s.runs}}
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
func (s *search) longestEven() stretch {
	var lanes uint64
	for _, word := range s.line {
		lanes |= word
	}
	if lanes == 0 {
		return stretch{}
	}
	runs, length := s.erosion(), 1
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
	return stretch{lane, from, from + length, int64(length)}
}

// startsOver counts by lane where runs over the ruler's limit in threads begin;
// going round, on one round. Endless ones begin nowhere.
func (s *search) startsOver(runs *tally) {
	e := s.erosion()
	for length, wanted := 1, int(s.ruler.limit)+1; length < wanted; {
		step := min(length, wanted-length)
		if e.step(step) == 0 {
			return
		}
		e.take()
		length += step
	}
	left := e.left
	var before uint64
	if s.round() {
		if len(left) <= s.threads {
			return // longer than a round, so all that is left is endless
		}
		before, left = left[0], left[1:s.threads+1]
	}
	for _, word := range left {
		if fresh := word &^ before; fresh != 0 {
			runs.add(fresh)
		}
		before = word
	}
}
