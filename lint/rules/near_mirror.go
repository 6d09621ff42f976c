package rules

import "fettle/schema/cloth"

const (
	fewestMirrored = 24 // threads of a list whose mirror one thread can break
	fewestTurns    = 16 // threads that make a mirror sure
	ownTurns       = 2  // that a slip makes in a straight run
	mirrorEdge     = 4  // threads at each edge, and around the centre, that may break it
)

// nearMirror returns the slip that keeps a list from reading the same from both ends. The
// first or the last thread may be left out, as point draws often are. ok is false if there
// is no such slip, or if either side of the mirror may be wrong.
//
// A side is wrong if the list has its threads in that order nowhere else, and has those of
// the other side. With steps the list holds shafts or treadles, and a straight run of three
// is right everywhere.
func nearMirror(list []int32, steps bool) (f slip, ok bool) {
	n := len(list)
	if n < fewestMirrored || mirroredList(list) {
		return slip{}, false
	}
	m := mirror{list, steps}
	for _, w := range [...][2]int{{0, n - 1}, {1, n - 1}, {0, n - 2}} {
		if f, ok = m.find(w[0], w[1]); ok {
			return f, telling(list)
		}
	}
	return slip{}, false
}

// telling reports whether a list can hardly be mirrored by chance: either it is straight runs,
// or it has many threads that continue neither a straight run nor an alternation.
func telling(list []int32) bool {
	alternate, other := 0, 0
	for i := 2; i < len(list); i++ {
		switch a, b, c := list[i-2], list[i-1], list[i]; {
		case a == c:
			alternate++
		case c-b != b-a:
			other++
		}
	}
	return other >= fewestTurns || alternate <= len(list)/8+ownTurns
}

// mirroredList reports whether a list reads the same from both ends, apart from its first or
// its last thread.
func mirroredList(list []int32) bool {
	return len(list) > 1 && (cloth.Symmetric(list) || cloth.Symmetric(list[1:]) || cloth.Symmetric(list[:len(list)-1]))
}

type mirror struct {
	list  []int32
	steps bool
}

// find returns the slip between two threads that should mirror each other.
func (m mirror) find(first, last int) (slip, bool) {
	l, i, j := m.list, first, last
	for i < j && l[i] == l[j] {
		i, j = i+1, j-1
	}
	if i-first < mirrorEdge || j-i < mirrorEdge {
		return slip{}, false
	}
	rest := func(from, to int) bool { return cloth.Symmetric(l[from : to+1]) }
	switch {
	case rest(i+1, j-1):
		return m.wrongSide(changed, m.known(i-1, i, i+1), slip{at: i, expected: l[j], twin: j},
			m.known(j-1, j, j+1), slip{at: j, expected: l[i], twin: i})
	case l[i] == l[j-1] && l[i+1] == l[j] && rest(i+2, j-2):
		return m.wrongSide(swapped, m.known(i-1, i, i+1) && m.known(i, i+1, i+2), slip{at: i, expected: l[i+1]},
			m.known(j-1, j, j+1) && m.known(j-2, j-1, j), slip{at: j - 1, expected: l[j]})
	case rest(i+1, j) && !rest(i, j-1):
		return m.lengths(i, i+1, j, j+1, j+1)
	case rest(i, j-1) && !rest(i+1, j):
		return m.lengths(j, j-1, i-1, i, i)
	}
	return slip{}, false
}

// wrongSide returns the slip of the side whose threads are not known, if those of the other
// are.
func (m mirror) wrongSide(kind slipKind, leftKnown bool, left slip, rightKnown bool, right slip) (slip, bool) {
	f := left
	if leftKnown {
		f = right
	}
	f.kind = kind
	return f, leftKnown != rightKnown
}

// lengths tells a thread too many, before next, from one that is missing on the other side
// between a and b.
func (m mirror) lengths(more, next, a, b, missingAt int) (slip, bool) {
	side := m.known(more-1, more, more+1)
	other := m.known(a, b)
	if side && !other {
		return slip{kind: missing, at: missingAt, expected: m.list[more]}, true
	}
	return slip{kind: extra, at: more, expected: m.list[next]}, other && !side
}

// known reports whether the threads at these places, one after the other, are a straight
// run, or are found in this or the opposite order elsewhere.
func (m mirror) known(places ...int) bool {
	l, n := m.list, len(places)
	if m.steps && m.straight(places) {
		return true
	}
	for at := 0; at+n <= len(l); at++ {
		if at > places[0]-n && at < places[0]+n {
			continue
		}
		same, opposite := true, true
		for k, place := range places {
			same = same && l[at+k] == l[place]
			opposite = opposite && l[at+n-1-k] == l[place]
		}
		if same || opposite {
			return true
		}
	}
	return false
}

func (m mirror) straight(places []int) bool {
	step := m.list[places[1]] - m.list[places[0]]
	if step != 1 && step != -1 {
		return false
	}
	for k := 2; k < len(places); k++ {
		if m.list[places[k]]-m.list[places[k-1]] != step {
			return false
		}
	}
	return true
}
