package cloth

import "math/bits"

// lowest is a word with the lowest n bits set, n from 0 to 64.
func lowest(n int) uint64 { return 1<<n - 1 }

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

// weights are the counts of up to 64 classes, plane by plane, to sum those of
// the classes in a word.
type weights []uint64

func weightsOf(counts []int32) weights {
	var w weights
	for i, count := range counts {
		for len(w) < bits.Len32(uint32(count)) {
			w = append(w, 0)
		}
		for k := range w {
			w[k] |= uint64(count>>k&1) << i
		}
	}
	return w
}

// sum adds the weights of the classes in a word.
func (w weights) sum(word uint64) int {
	sum := 0
	for k, plane := range w {
		sum += bits.OnesCount64(word&plane) << k
	}
	return sum
}
