package fitting

import "slices"

// with searches for a tie-up with this many treadles. The own cells get the first
// treadles. If halves is set, a lift presses at most atOnce - 1 treadles, but always
// at least one, in each half of the loom.
func (s *sheds) with(treadles int, own []cell, halves bool, steps *int) (*footwork, verdict) {
	if s.conditions(treadles) > mostConditions {
		return nil, undecided
	}
	f := &formula{}
	press, up := f.grid(len(s.lifts), treadles), f.grid(treadles, s.shafts)
	var down [][]int
	if s.tiedDown {
		down = f.grid(treadles, s.shafts)
	}
	for lift := range s.lifts {
		f.atMost(s.atOnce, press[lift])
		for shaft := range s.shafts {
			moves := s.moves(f, cell{lift, shaft}, press[lift], up, down)
			if t := slices.Index(own, cell{lift, shaft}); t >= 0 {
				f.any(moves[t])
			}
		}
		if half := (treadles + 1) / 2; halves {
			f.atMost(max(1, s.atOnce-1), press[lift][:half])
			f.atMost(max(1, s.atOnce-1), press[lift][half:])
		}
	}
	if !halves {
		// The other treadles are numbered by the first lift that presses them.
		for t := len(own) + 1; t < treadles; t++ {
			earlier := make([]int, 0, len(s.lifts)+1)
			for lift := range s.lifts {
				earlier = append(earlier, press[lift][t-1])
				f.any(append(slices.Clone(earlier), -press[lift][t])...)
			}
		}
	}
	values, v := f.solve(steps)
	if v != possible {
		return nil, v
	}
	return &footwork{up: setsOf(values, up), down: setsOf(values, down), presses: pressesOf(values, press)}, possible
}

// moves requires that one of the treadles moves the cell's shaft in the direction of
// its lift. It returns a variable for each treadle: whether it does.
func (s *sheds) moves(f *formula, c cell, press []int, up, down [][]int) []int {
	move, still := up, down
	if s.lifts[c.lift]>>c.shaft&1 == 0 {
		move, still = down, up
	}
	for t := range press {
		if still != nil {
			f.any(-press[t], -still[t][c.shaft])
		}
	}
	if move == nil {
		return nil
	}
	moves := make([]int, len(press))
	for t := range press {
		moves[t] = f.variable()
		f.any(-moves[t], press[t])
		f.any(-moves[t], move[t][c.shaft])
		if s.tiedDown {
			f.any(moves[t], -press[t], -move[t][c.shaft])
		}
	}
	f.any(moves...)
	if s.tiedDown {
		f.atMost(1, moves)
	}
	return moves
}

// conditions estimates how many conditions the formula of with has.
func (s *sheds) conditions(treadles int) int {
	together := 1 // choices of atOnce + 1 treadles
	for i := range s.atOnce + 1 {
		if together = together * (treadles - i) / (i + 1); together > mostConditions || together <= 0 {
			break
		}
	}
	each := max(together, 0) + 4*s.shafts*treadles + treadles*len(s.lifts)/2
	if s.tiedDown {
		each += s.shafts * treadles * treadles / 2
	}
	return len(s.lifts) * each
}

func setsOf(values []bool, table [][]int) []uint64 {
	var sets []uint64
	for _, row := range table {
		var set uint64
		for j, v := range row {
			if values[v] {
				set |= 1 << j
			}
		}
		sets = append(sets, set)
	}
	return sets
}

func pressesOf(values []bool, table [][]int) [][]int {
	presses := make([][]int, len(table))
	for i, row := range table {
		for t, v := range row {
			if values[v] {
				presses[i] = append(presses[i], t)
			}
		}
	}
	return presses
}
