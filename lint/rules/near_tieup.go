package rules

import (
	"slices"

	"fettle/schema"
)

// fewestTied is how many treadles must follow each other by one shaft, so that one can be
// wrong.
const fewestTied = 5

// tieupSlip is a treadle that breaks a tie-up in which each treadle ties the shafts of the
// one before moved by one.
type tieupSlip struct {
	kind           slipKind // changed or swapped
	treadle        int      // from 1
	expected       []int32
	round          bool // the treadle ends a round on fewer shafts, on purpose
	agree, between int  // treadles that follow the rule, and all between the first and the last
}

// movingTieup is a tie-up whose treadles move by step shafts, 1 or -1, of so many.
type movingTieup struct {
	rows         *schema.Rows
	shafts, step int
}

// nearMovingTieup returns the slip in a tie-up. ok is false if it has none, or if several
// treadles may be wrong.
func nearMovingTieup(rows *schema.Rows, shafts int) (found tieupSlip, ok bool) {
	if rows.Len() <= fewestTied || rows.Highest() > shafts {
		return tieupSlip{}, false
	}
	for _, step := range [...]int{1, -1} {
		m := movingTieup{rows, shafts, step}
		for first := 1; first <= rows.Len()-fewestTied; first++ {
			if len(rows.Row(first)) == 0 || first > 1 && m.moved(first-1, first, 1) {
				continue // the rule holds from an earlier treadle on
			}
			s, slipped := m.from(first)
			if slipped && ok && (s.treadle != found.treadle || s.kind != found.kind || !slices.Equal(s.expected, found.expected)) {
				return tieupSlip{}, false
			}
			if slipped {
				found, ok = s, true
			}
		}
	}
	return found, ok && !found.round
}

// from follows the rule from one treadle on, over at most one slip.
func (m movingTieup) from(first int) (s tieupSlip, ok bool) {
	last := first
	for t := first + 1; t <= m.rows.Len(); t++ {
		if m.moved(last, t, t-last) {
			last = t
			continue
		}
		if s.kind != "" {
			break
		}
		if t == m.rows.Len() {
			break
		}
		switch {
		case t+2 <= m.rows.Len() && m.moved(last, t, 2) && m.moved(last, t+1, 1) && m.moved(last, t+2, 3) && !m.moved(t, t+1, 1):
			s = tieupSlip{kind: swapped, treadle: t, agree: -2}
			last, t = t+2, t+2
		case m.moved(last, t+1, 2) && m.near(last, t):
			s = tieupSlip{kind: changed, treadle: t, agree: -1, round: m.closesRound(first, t)}
			last, t = t+1, t+1
		default:
			t = m.rows.Len()
		}
	}
	s.between = last - first + 1
	if s.kind == "" { // the treadle after the last, or the one before the first, of a whole round
		switch {
		case s.between != m.shafts-1:
			return s, false
		case first == 1 && last < m.rows.Len() && m.near(last, last+1):
			s.treadle = last + 1
		case first == 2 && m.near(last, 1):
			s.treadle = 1
		default:
			return s, false
		}
		s.kind, s.agree = changed, -1
		s.between++
	}
	s.agree += s.between
	from := first
	if s.treadle == first-1 {
		from = last
	}
	s.expected = m.move(from, s.treadle-from)
	return s, s.agree >= fewestTied
}

// closesRound reports whether a treadle ends a round on fewer shafts: 1 4 after 1 2, 2 3
// and 3 4 on eight shafts, as in two twills of four shafts each.
func (m movingTieup) closesRound(first, treadle int) bool {
	low, high := m.shafts, 1
	for t := first; t <= treadle; t++ {
		for _, v := range m.rows.Row(t) {
			low, high = min(low, int(v)), max(high, int(v))
		}
	}
	var next []int32
	for _, v := range m.rows.Row(treadle - 1) {
		next = append(next, int32(low+((int(v)-low+m.step)%(high-low+1)+high-low+1)%(high-low+1)))
	}
	slices.Sort(next)
	return high-low+1 < m.shafts && slices.Equal(next, m.rows.Row(treadle))
}

// move returns the shafts of a treadle moved by so many steps.
func (m movingTieup) move(treadle, by int) []int32 {
	var list []int32
	for _, v := range m.rows.Row(treadle) {
		list = append(list, int32(((int(v)-1+by*m.step)%m.shafts+m.shafts)%m.shafts+1))
	}
	slices.Sort(list)
	return list
}

// moved reports whether a treadle ties the shafts of another moved by so many steps.
func (m movingTieup) moved(treadle, other, by int) bool {
	a, b := m.rows.Row(treadle), m.rows.Row(other)
	if len(a) != len(b) || len(a) == 0 {
		return false
	}
	shift := ((by*m.step)%m.shafts + m.shafts) % m.shafts
	over := 0 // shafts that move past the last one, to the front
	for _, v := range a {
		if int(v)+shift > m.shafts {
			over++
		}
	}
	for i, v := range b {
		was := (i - over + len(a)) % len(a)
		now := int(a[was]) + shift
		if now > m.shafts {
			now -= m.shafts
		}
		if int(v) != now {
			return false
		}
	}
	return true
}

// near reports whether a treadle ties the shafts that are expected after another, but for
// one: a shaft too many, too few or another one. It doesn't hold for every other shaft,
// because treadles for plain weave break the rule on purpose.
func (m movingTieup) near(last, treadle int) bool {
	found := m.rows.Row(treadle)
	if n := len(found) - len(m.rows.Row(last)); len(found) == 0 || n < -1 || n > 1 || everyOther(found) {
		return false
	}
	want := m.move(last, treadle-last)
	differ := 0
	for _, v := range found {
		if !slices.Contains(want, v) {
			differ++
		}
	}
	lacks := 0
	for _, v := range want {
		if !slices.Contains(found, v) {
			lacks++
		}
	}
	return differ <= 1 && lacks <= 1 && differ+lacks > 0
}

// everyOther reports whether a treadle ties several shafts, all odd or all even.
func everyOther(row []int32) bool {
	for _, v := range row {
		if v%2 != row[0]%2 {
			return false
		}
	}
	return len(row) > 1
}
