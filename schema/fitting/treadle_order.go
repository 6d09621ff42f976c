package fitting

import (
	"slices"

	"fettle/schema"
)

// The left foot presses the left half of the treadles, the right foot the right
// half. These weights say how awkward a treadling is; common practice, no source.
const (
	sameFoot   = 20 // a pick with two treadles under one foot
	farApart   = 5  // two treadles under one foot that aren't neighbours
	footMoves  = 1  // a foot that presses another treadle on the next pick
	plainApart = 50 // treadles for plain weave that aren't side by side at an edge

	mostChanges = 1000 // different changes from pick to pick that count
	mostRounds  = 20   // rounds of exchanging pairs of treadles
)

// change counts how often one lift follows another.
type change struct{ from, to, count int }

func changes(lifts *raised) []change {
	at := map[[2]int]int{}
	var list []change
	for i := 1; i < len(lifts.of); i++ {
		pair := [2]int{lifts.of[i-1], lifts.of[i]}
		if pair[0] < 0 || pair[1] < 0 {
			continue
		}
		n, known := at[pair]
		if !known {
			if len(list) == mostChanges {
				continue
			}
			n = len(list)
			at[pair] = n
			list = append(list, change{pair[0], pair[1], 0})
		}
		list[n].count++
	}
	return list
}

// plainLifts returns the two lifts that weave plain weave in turn; nil for none.
func plainLifts(d *schema.Draft, lifts *raised) []int {
	var sets [2][]int32 // the shafts of every other end
	n := 0
	for end := 1; end <= d.Ends(); end++ {
		row := d.Threading.Row(end)
		if len(row) != 1 {
			continue
		}
		sets[n%2] = append(sets[n%2], row[0])
		n++
	}
	var plain []int
	for _, set := range sets {
		slices.Sort(set)
		set = slices.Compact(set)
		i := slices.IndexFunc(lifts.lifts, func(lift []int32) bool { return slices.Equal(lift, set) })
		if i < 0 {
			return nil
		}
		plain = append(plain, i)
	}
	return plain
}

// arrange orders the treadles so that they are easy to press. It exchanges pairs of
// treadles while that helps.
func arrange(w footwork, lifts *raised, plain []int) footwork {
	s := seats{w: w, changes: changes(lifts), count: make([]int, len(w.presses)), place: numbersTo(len(w.up)), plain: plain}
	for _, lift := range lifts.of {
		if lift >= 0 {
			s.count[lift]++
		}
	}
	best := s.strain()
	for range mostRounds {
		better := false
		for a := range s.place {
			for b := range a {
				s.place[a], s.place[b] = s.place[b], s.place[a]
				if strain := s.strain(); strain < best {
					best, better = strain, true
				} else {
					s.place[a], s.place[b] = s.place[b], s.place[a]
				}
			}
		}
		if !better {
			break
		}
	}
	return s.seated()
}

// seats holds the place of each treadle, from the left.
type seats struct {
	w       footwork
	changes []change
	count   []int // by lift, how many picks have it
	place   []int // by treadle
	plain   []int // the two lifts of plain weave
}

func (s *seats) right(treadle int) bool { return s.place[treadle] >= (len(s.place)+1)/2 }

// strain returns how awkward the places are, by the weights above.
func (s *seats) strain() (sum int) {
	for lift, list := range s.w.presses {
		for i, a := range list {
			for _, b := range list[:i] {
				apart := s.place[a] - s.place[b]
				if s.right(a) != s.right(b) {
					continue
				}
				if len(list) == 2 {
					sum += sameFoot * s.count[lift]
				}
				if apart*apart != 1 {
					sum += farApart * s.count[lift]
				}
			}
		}
	}
	for _, c := range s.changes {
		for _, a := range s.w.presses[c.from] {
			for _, b := range s.w.presses[c.to] {
				if a != b && s.right(a) == s.right(b) {
					sum += footMoves * c.count
				}
			}
		}
	}
	if s.plain != nil && len(s.w.presses[s.plain[0]]) == 1 && len(s.w.presses[s.plain[1]]) == 1 {
		a, b := s.place[s.w.presses[s.plain[0]][0]], s.place[s.w.presses[s.plain[1]][0]]
		if low, high := min(a, b), max(a, b); high-low != 1 || low != 0 && high != len(s.place)-1 {
			sum += plainApart * (s.count[s.plain[0]] + s.count[s.plain[1]])
		}
	}
	return sum
}

// seated returns the tie-up with the treadles in their places.
func (s *seats) seated() footwork {
	out := footwork{up: make([]uint64, len(s.w.up))}
	if s.w.down != nil {
		out.down = make([]uint64, len(s.w.up))
	}
	for t, place := range s.place {
		out.up[place] = s.w.up[t]
		if s.w.down != nil {
			out.down[place] = s.w.down[t]
		}
	}
	for _, list := range s.w.presses {
		moved := make([]int, len(list))
		for i, t := range list {
			moved[i] = s.place[t]
		}
		slices.Sort(moved)
		out.presses = append(out.presses, moved)
	}
	return out
}
