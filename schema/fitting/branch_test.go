package fitting

import (
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"
)

// branchAndBound is an exact alternative to the solver. It branches on the treadles that
// a lift could still use, and prunes by counting the lifts that are left.
type branchAndBound struct {
	*sheds
	candidates []tied
	best       int // the fewest treadles found so far
	nodes      int
}

// tied is a treadle with the shafts that it moves up and down.
type tied struct{ up, down uint64 }

// fewestByBranching returns the fewest treadles that make the lifts.
func fewestByBranching(s *sheds) (treadles, nodes int) {
	if s.atOnce <= 1 {
		return len(s.lifts), 0
	}
	b := &branchAndBound{sheds: s, candidates: treadlesOf(s), best: len(s.lifts)}
	slices.SortStableFunc(b.candidates, func(x, y tied) int { return bits.OnesCount64(y.up|y.down) - bits.OnesCount64(x.up|x.down) })
	b.branch(nil, make([]bool, len(b.candidates)))
	return b.best, b.nodes
}

// treadlesOf returns every treadle that some lift could use.
func treadlesOf(s *sheds) (all []tied) {
	for up := range uint64(1) << s.shafts {
		rest := s.all() &^ up
		if !s.tiedDown {
			rest = 0
		}
		for down := rest; ; down = (down - 1) & rest {
			t := tied{up, down}
			if up|down != 0 && slices.ContainsFunc(s.lifts, t.suits) {
				all = append(all, t)
			}
			if down == 0 {
				break
			}
		}
	}
	return all
}

// suits reports whether a treadle moves no shaft against a lift.
func (t tied) suits(lift uint64) bool { return t.up&^lift == 0 && t.down&lift == 0 }

// branch extends the chosen treadles. Those barred were tried by earlier branches.
func (b *branchAndBound) branch(chosen []tied, barred []bool) {
	b.nodes++
	rest := slices.DeleteFunc(slices.Clone(b.lifts), func(lift uint64) bool { return makes(b.sheds, chosen, lift) })
	if len(rest) == 0 {
		b.best = min(b.best, len(chosen))
		return
	}
	if len(chosen)+b.more(len(rest), len(chosen)) >= b.best {
		return
	}
	lift := slices.MinFunc(rest, func(x, y uint64) int { return b.open(x, barred) - b.open(y, barred) })
	barred = slices.Clone(barred)
	for i, t := range b.candidates {
		if barred[i] || !t.suits(lift) {
			continue
		}
		barred[i] = true
		b.branch(append(slices.Clip(chosen), t), barred)
	}
}

// open counts the treadles that a lift could still use.
func (b *branchAndBound) open(lift uint64, barred []bool) int {
	n := 0
	for i, t := range b.candidates {
		if !barred[i] && t.suits(lift) {
			n++
		}
	}
	return n
}

// more returns a lower bound of the treadles that unmade lifts still need: each must
// press a new treadle, alone or with others.
func (b *branchAndBound) more(unmade, chosen int) int {
	choices := func(n int) int {
		sum, ways := 0, 1
		for k := 1; k <= min(b.atOnce, n); k++ {
			ways = ways * (n - k + 1) / k
			sum += ways
		}
		return sum
	}
	more := 1
	for choices(chosen+more)-choices(chosen) < unmade {
		more++
	}
	return more
}

// makes reports whether up to atOnce of the treadles make a lift together.
func makes(s *sheds, treadles []tied, lift uint64) bool {
	var press func(from, left int, up, moved uint64) bool
	press = func(from, left int, up, moved uint64) bool {
		if moved != 0 && up == lift && (!s.tiedDown || moved == s.all()) {
			return true
		}
		if left == 0 {
			return false
		}
		for i := from; i < len(treadles); i++ {
			t := treadles[i]
			if t.suits(lift) && (!s.tiedDown || moved&(t.up|t.down) == 0) && press(i+1, left-1, up|t.up, moved|t.up|t.down) {
				return true
			}
		}
		return false
	}
	return press(0, s.atOnce, 0, 0)
}

// setsOfLifts yields every step-th set of lifts of a number of shafts.
func setsOfLifts(shafts int, step uint64, use func(lifts []uint64)) {
	last := uint64(1)<<shafts - 1
	for set := uint64(1); set < 1<<last; set += step {
		var lifts []uint64
		for lift := uint64(1); lift <= last; lift++ {
			if set>>(lift-1)&1 != 0 {
				lifts = append(lifts, lift)
			}
		}
		use(lifts)
	}
}

// TestSolverAgreesWithBranchAndBound compares the two searches on sets of lifts of four
// shafts, and on a countermarch of three.
func TestSolverAgreesWithBranchAndBound(t *testing.T) {
	step := uint64(101)
	if *long {
		step = 1
	}
	for _, atOnce := range []int{2, 3} {
		setsOfLifts(4, step, func(lifts []uint64) { checkFewest(t, &sheds{lifts: lifts, shafts: 4, atOnce: atOnce}) })
		setsOfLifts(3, 1, func(lifts []uint64) {
			checkFewest(t, &sheds{lifts: lifts, shafts: 3, atOnce: atOnce, tiedDown: true})
		})
	}
}

// BenchmarkFewestTreadles measures both searches on the same random lifts. Branch and
// bound is faster up to six shafts. From eight shafts and on a countermarch its time
// explodes, while the solver stays below two seconds, so fettle uses the solver.
func BenchmarkFewestTreadles(b *testing.B) {
	for _, size := range []struct {
		name          string
		shafts, lifts int
		tiedDown      bool
	}{{"4shafts", 4, 8, false}, {"6shafts", 6, 12, false}, {"8shafts", 8, 14, false}, {"countermarch", 4, 8, true}} {
		r := rand.New(rand.NewPCG(1, 2))
		var list []*sheds
		for range 3 {
			s := randomSheds(r, size.shafts, size.lifts)
			s.atOnce, s.tiedDown = 2, size.tiedDown
			list = append(list, s)
		}
		b.Run(size.name+"/solver", func(b *testing.B) {
			for b.Loop() {
				for _, s := range list {
					steps := mostSteps
					s.fewest(&steps)
				}
			}
		})
		b.Run(size.name+"/branch", func(b *testing.B) {
			nodes := 0
			for b.Loop() {
				for _, s := range list {
					_, n := fewestByBranching(s)
					nodes += n
				}
			}
			b.ReportMetric(float64(nodes)/float64(b.N), "nodes/op")
		})
	}
}
