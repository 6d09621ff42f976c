package fitting

import (
	"slices"

	"fettle/schema"
)

// A weaver presses the left half of the treadles with the left foot and the right
// half with the right foot. What makes a treadling awkward, and how much; common
// practice, no source.
const (
	sameFoot   = 20 // two treadles of a pick under one foot, each time it is woven
	farApart   = 5  // two treadles under one foot that are not neighbours
	foot       = 1  // a foot that presses another treadle on the next pick
	plainApart = 50 // treadles for plain weave that are not side by side at an edge
	// mostChanges is how many different changes from pick to pick are weighed.
	mostChanges = 1000
	// mostRounds is how often all pairs of treadles are tried in each other's place.
	mostRounds = 20
)

// change is that one lift follows another, and how often.
type change struct{ from, to, count int }

// changes counts which lifts follow which.
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

// plainLifts is the two lifts that weave plain weave, in turn; nil for none.
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

// arrange orders the treadles as a weaver likes to press them. It exchanges two at
// a time for as long as that helps.
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

// seats is the places of treadles, from the left.
type seats struct {
	w       footwork
	changes []change
	count   []int // by lift, how many picks have it
	place   []int // by treadle
	plain   []int // the two lifts of plain weave
}

// right reports whether a treadle is under the right foot.
func (s *seats) right(treadle int) bool { return s.place[treadle] >= (len(s.place)+1)/2 }

// strain is how awkward the places are.
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
					sum += foot * c.count
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

// seated is the tie-up with the treadles in their places.
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
