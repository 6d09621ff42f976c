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
	to = to[:len(ahead)]
	for i, word := range ahead {
		word &= from[i]
		to[i] = word
		lanes |= word
	}
	return to, lanes
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
	runs, spare := append(s.runs[:0], s.line...), s.suffix
	length := 1
	longer := func(by int) bool {
		left, still := eroded(spare, runs, by)
		if still == 0 {
			return false
		}
		runs, spare, lanes = left, runs, still
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
	from := slices.IndexFunc(runs, func(word uint64) bool { return word>>lane&1 != 0 })
	return stretch{lane, from, from + length, int64(length)}
}

// startsOver counts by lane where runs over the ruler's limit in threads begin;
// going round, on one round. Endless ones begin nowhere.
func (s *search) startsOver(runs *tally) {
	left, spare := append(s.runs[:0], s.line...), s.suffix
	for length, wanted := 1, int(s.ruler.limit)+1; length < wanted; {
		step := min(length, wanted-length)
		shorter, still := eroded(spare, left, step)
		if still == 0 {
			return
		}
		left, spare = shorter, left
		length += step
	}
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
