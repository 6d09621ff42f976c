package fitting

import (
	"math/bits"
	"slices"
)

// sheds is a list of lifts to make with few treadles. The lifts are different sets of
// shafts, one bit for each shaft, and none is empty.
type sheds struct {
	lifts  []uint64
	shafts int
	atOnce int // the most treadles pressed together
	// tiedDown marks a countermarch: treadles move shafts up or down, and those
	// pressed together move each shaft exactly once.
	tiedDown bool
}

// footwork is a tie-up with the treadles that make each lift.
type footwork struct {
	up, down []uint64 // by treadle; down is nil where treadles tie no shafts down
	presses  [][]int  // by lift: the treadles, from 0
}

const (
	mostSteps      = 10_000  // steps of all searches for one draft: a few seconds
	mostConditions = 300_000 // conditions in a formula: some dozen MB
	mostCells      = 256     // cells that separate compares
	mostGreedy     = 400     // lifts that greedy tries one by one
)

// answer is the best tie-up found, with a lower bound.
type answer struct {
	best    footwork
	atLeast int
	forcing []int // the lifts that need atLeast treadles
}

// fewest searches for the fewest treadles that make the lifts. It counts up from the
// lower bound, so the first tie-up it finds is proved to be the smallest.
func (s *sheds) fewest(steps *int) answer {
	one := s.single()
	all := numbersTo(len(s.lifts))
	if s.atOnce <= 1 || len(s.lifts) <= 1 {
		return answer{one, len(s.lifts), all}
	}
	merged, members := s.merged()
	own := merged.separate()
	a := answer{best: merged.greedy(one), atLeast: max(len(own), counted(len(s.lifts), s.atOnce)), forcing: all}
	if len(own) == a.atLeast {
		a.forcing = liftsOf(own)
	}
	proving := true
	for n := a.atLeast; n < len(a.best.up); n++ {
		w, v := merged.with(n, own, false, steps)
		if v == possible {
			a.best = *w
			break
		}
		proving = proving && v == impossible
		if proving {
			a.atLeast, a.forcing = n+1, all
		}
	}
	if even, v := merged.with(len(a.best.up), nil, true, steps); v == possible {
		a.best = *even
	}
	merged.tidy(&a.best)
	a.best = members.spread(a.best)
	return a
}

// single gives each lift a treadle.
func (s *sheds) single() footwork {
	w := footwork{up: slices.Clone(s.lifts)}
	for i, lift := range s.lifts {
		w.presses = append(w.presses, []int{i})
		if s.tiedDown {
			w.down = append(w.down, s.all()&^lift)
		}
	}
	return w
}

func (s *sheds) all() uint64 { return ^uint64(0) >> (64 - s.shafts) }

// members lists, for each shaft of merged lifts, the shafts that it stands for: those
// that move with it and, on a countermarch, those that move against it.
type members struct{ with, against []uint64 }

// merged merges shafts that every lift moves alike. On a countermarch it also merges
// those that every lift moves in opposite directions. On other looms it drops shafts
// that no lift raises.
func (s *sheds) merged() (*sheds, members) {
	column := make([]string, s.shafts)
	text := make([]byte, len(s.lifts))
	small := &sheds{lifts: make([]uint64, len(s.lifts)), atOnce: s.atOnce, tiedDown: s.tiedDown}
	var m members
	at := map[string]int{}
	for shaft := range s.shafts {
		first := s.lifts[0] >> shaft & 1
		lifted := false
		for i, lift := range s.lifts {
			up := lift >> shaft & 1
			lifted = lifted || up == 1
			if s.tiedDown {
				up ^= first
			}
			text[i] = byte(up)
		}
		if !lifted && !s.tiedDown {
			continue
		}
		column[shaft] = string(text)
		n, known := at[column[shaft]]
		if !known {
			n = small.shafts
			at[column[shaft]] = n
			small.shafts++
			m.with, m.against = append(m.with, 0), append(m.against, 0)
			for i, lift := range s.lifts {
				small.lifts[i] |= (lift >> shaft & 1) << n
			}
		}
		if s.tiedDown && small.lifts[0]>>n&1 != first {
			m.against[n] |= 1 << shaft
		} else {
			m.with[n] |= 1 << shaft
		}
	}
	return small, m
}

// spread ties all shafts that the merged ones stand for.
func (m members) spread(w footwork) footwork {
	out := footwork{up: make([]uint64, len(w.up)), presses: w.presses}
	if w.down != nil {
		out.down = make([]uint64, len(w.up))
	}
	for t := range w.up {
		for n := range m.with {
			if w.up[t]>>n&1 != 0 {
				out.up[t] |= m.with[n]
				if w.down != nil {
					out.down[t] |= m.against[n]
				}
			}
			if w.down != nil && w.down[t]>>n&1 != 0 {
				out.up[t] |= m.against[n]
				out.down[t] |= m.with[n]
			}
		}
	}
	return out
}

// cell is a lift and a shaft that it has to move.
type cell struct{ lift, shaft int }

func liftsOf(cells []cell) []int {
	var list []int
	for _, c := range cells {
		list = append(list, c.lift)
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// apart reports whether no treadle can serve both cells.
func (s *sheds) apart(a, b cell) bool {
	x, y := s.lifts[a.lift], s.lifts[b.lift]
	if s.tiedDown {
		return (x^y)>>a.shaft&1 != 0 || (x^y)>>b.shaft&1 != 0
	}
	return y>>a.shaft&1 == 0 || x>>b.shaft&1 == 0
}

// separate returns cells that each need a treadle of their own, because no treadle
// serves two of them. It collects such cells from each starting point and keeps the
// longest list.
func (s *sheds) separate() []cell {
	var cells []cell
	for lift, set := range s.lifts {
		for shaft := range s.shafts {
			if (s.tiedDown || set>>shaft&1 != 0) && len(cells) < mostCells {
				cells = append(cells, cell{lift, shaft})
			}
		}
	}
	var best []cell
	for first := range cells {
		var list []cell
		for i := range cells {
			c := cells[(first+i)%len(cells)]
			if !slices.ContainsFunc(list, func(other cell) bool { return !s.apart(c, other) }) {
				list = append(list, c)
			}
		}
		if len(list) > len(best) {
			best = list
		}
	}
	return best
}

// counted returns the smallest number of treadles that can be pressed in as many
// ways as there are lifts, up to atOnce together.
func counted(lifts, atOnce int) int {
	for treadles := 0; ; treadles++ {
		choices, ways := 0, 1
		for n := 1; n <= min(atOnce, treadles) && choices < lifts; n++ {
			ways = ways * (treadles - n + 1) / n
			choices += ways
		}
		if choices >= lifts {
			return treadles
		}
	}
}

// greedy begins with a treadle for each lift. It drops treadles, the largest first,
// while the others still make every lift. On a countermarch it drops none.
func (s *sheds) greedy(one footwork) footwork {
	if s.tiedDown || len(s.lifts) > mostGreedy {
		w := s.single()
		w.presses = one.presses
		return w
	}
	kept := slices.Clone(s.lifts)
	slices.SortStableFunc(kept, func(a, b uint64) int { return bits.OnesCount64(b) - bits.OnesCount64(a) })
	makesAll := func(sets []uint64, without uint64) bool {
		for _, lift := range s.lifts {
			if lift&without == without && s.made(lift, sets) == nil {
				return false
			}
		}
		return true
	}
	for i := 0; i < len(kept); {
		rest := slices.Delete(slices.Clone(kept), i, i+1)
		if makesAll(rest, kept[i]) {
			kept = rest
		} else {
			i++
		}
	}
	w := footwork{up: kept}
	for _, lift := range s.lifts {
		w.presses = append(w.presses, s.made(lift, kept))
	}
	return w
}

// made returns the fewest treadles, at most atOnce, that together make a lift; nil
// for none.
func (s *sheds) made(lift uint64, sets []uint64) []int {
	for most := 1; most <= s.atOnce; most++ {
		if list := pressed(lift, sets, most); list != nil {
			return list
		}
	}
	return nil
}

func pressed(lift uint64, sets []uint64, most int) []int {
	var add func(left uint64, most int) []int
	add = func(left uint64, most int) []int {
		for t, set := range sets {
			if set&^lift != 0 || set&left&-left == 0 {
				continue
			}
			if set&left == left {
				return []int{t}
			}
			if most > 1 {
				if list := add(left&^set, most-1); list != nil {
					return append(list, t)
				}
			}
		}
		return nil
	}
	list := add(lift, most)
	slices.Sort(list)
	return list
}

// tidy removes treadles from a lift that add nothing to it, and then ties that no
// lift needs.
func (s *sheds) tidy(w *footwork) {
	if s.tiedDown {
		for i, list := range w.presses {
			w.presses[i] = slices.DeleteFunc(list, func(t int) bool { return w.up[t]|w.down[t] == 0 })
		}
		return
	}
	users := make([][]int, len(w.up))
	for i, lift := range s.lifts {
		for n := 0; n < len(w.presses[i]); {
			rest := slices.Delete(slices.Clone(w.presses[i]), n, n+1)
			if joined(w.up, rest) == lift {
				w.presses[i] = rest
			} else {
				n++
			}
		}
		for _, t := range w.presses[i] {
			users[t] = append(users[t], i)
		}
	}
	for t := range w.up {
		for shaft := range s.shafts {
			without := w.up[t] &^ (1 << shaft)
			if without == w.up[t] || without == 0 {
				continue
			}
			before := w.up[t]
			w.up[t] = without
			if slices.ContainsFunc(users[t], func(i int) bool { return joined(w.up, w.presses[i]) != s.lifts[i] }) {
				w.up[t] = before
			}
		}
	}
}

// joined returns all shafts that the treadles raise.
func joined(sets []uint64, treadles []int) (all uint64) {
	for _, t := range treadles {
		all |= sets[t]
	}
	return all
}

func numbersTo(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}
