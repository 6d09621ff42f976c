package fitting

import (
	"flag"
	"fmt"
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"
)

var long = flag.Bool("long", false, "try more drafts, and every set of lifts of four shafts (takes minutes)")

// checkFootwork checks that a tie-up makes its lifts as the loom allows.
func checkFootwork(t *testing.T, s *sheds, w footwork) {
	t.Helper()
	for i, lift := range s.lifts {
		if len(w.presses[i]) == 0 || len(w.presses[i]) > max(s.atOnce, 1) {
			t.Fatalf("%v: lift %d presses %v", *s, i, w.presses[i])
		}
		var up, moved uint64
		for _, treadle := range w.presses[i] {
			up |= w.up[treadle]
			if s.tiedDown {
				if tied := w.up[treadle] | w.down[treadle]; moved&tied != 0 || w.up[treadle]&w.down[treadle] != 0 {
					t.Fatalf("%v: a shaft is moved twice: %v", *s, w)
				}
				moved |= w.up[treadle] | w.down[treadle]
			}
		}
		if up != lift || s.tiedDown && moved != s.all() {
			t.Fatalf("%v: lift %b: up %b, moved %b, %v", *s, lift, up, moved, w)
		}
	}
}

// bruteForce returns the fewest treadles, by trying all sets of treadles.
func bruteForce(s *sheds) int {
	if s.atOnce <= 1 {
		return len(s.lifts)
	}
	all := treadlesOf(s)
	for size := 1; ; size++ {
		var choose func(from int, chosen []tied) bool
		choose = func(from int, chosen []tied) bool {
			if len(chosen) == size {
				return !slices.ContainsFunc(s.lifts, func(lift uint64) bool { return !makes(s, chosen, lift) })
			}
			for i := from; i < len(all); i++ {
				if choose(i+1, append(slices.Clip(chosen), all[i])) {
					return true
				}
			}
			return false
		}
		if size >= len(s.lifts) || choose(0, nil) {
			return size
		}
	}
}

// TestFewestTreadlesBruteForce compares three searches on all sets of lifts of three
// shafts: the solver, branch and bound, and trying every set of treadles.
func TestFewestTreadlesBruteForce(t *testing.T) {
	for atOnce := 1; atOnce <= 3; atOnce++ {
		setsOfLifts(3, 1, func(lifts []uint64) {
			checkFewest(t, &sheds{lifts: lifts, shafts: 3, atOnce: atOnce}, bruteForce)
			if len(lifts) <= 5 {
				checkFewest(t, &sheds{lifts: lifts, shafts: 3, atOnce: atOnce, tiedDown: true}, bruteForce)
			}
		})
	}
}

// checkFewest compares the solver and branch and bound with other searches.
func checkFewest(t *testing.T, s *sheds, others ...func(*sheds) int) {
	t.Helper()
	steps := mostSteps
	got := s.fewest(&steps)
	checkFootwork(t, s, got.best)
	branched, _ := fewestByBranching(s)
	want := []int{branched}
	for _, other := range others {
		want = append(want, other(s))
	}
	for _, n := range want {
		if len(got.best.up) != n || got.atLeast != n {
			t.Fatalf("%+v: %d treadles, at least %d; want %v", *s, len(got.best.up), got.atLeast, want)
		}
	}
}

// TestPublishedTreadles compares the search with published figures, and with figures
// that follow from them.
func TestPublishedTreadles(t *testing.T) {
	var four, ones []uint64
	for lift := uint64(1); lift < 15; lift++ {
		four = append(four, lift)
		if n := bits.OnesCount64(lift); n == 1 || n == 3 {
			ones = append(ones, lift)
		}
	}
	twill := []uint64{0b0011, 0b0110, 0b1100, 0b1001, 0b0101, 0b1010}
	for _, c := range []struct {
		name                 string
		lifts                []uint64
		shafts, atOnce, want int
	}{
		{"all sheds of four shafts, one foot", four, 4, 1, 14},
		{"all sheds of four shafts, two feet", four, 4, 2, 6},
		{"all sheds of four shafts, three at once", four, 4, 3, 4},
		{"2/2 twill with tabby, two feet", twill, 4, 2, 4},
		{"1/3 and 3/1 twill, two feet", ones, 4, 2, 6},
		{"1/3 and 3/1 twill, three at once", ones, 4, 3, 4},
		// Rows 110, 111, 011 have Boolean rank 2 (Parnas, survey of the Boolean rank).
		{"published/Boolean rank/rows 110, 111, 011", []uint64{0b011, 0b111, 0b110}, 3, 3, 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := &sheds{lifts: c.lifts, shafts: c.shafts, atOnce: c.atOnce}
			steps := mostSteps
			got := s.fewest(&steps)
			checkFootwork(t, s, got.best)
			if len(got.best.up) != c.want || got.atLeast != c.want {
				t.Errorf("%d treadles, at least %d, want %d", len(got.best.up), got.atLeast, c.want)
			}
		})
	}
}

// TestFewestTreadlesAgain searches twice and expects the same tie-up.
func TestFewestTreadlesAgain(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	sets := 5
	if *long {
		sets = 20
	}
	for range sets {
		s := randomSheds(r, 8, 14)
		var seen []string
		for range 2 {
			steps := 500
			got := s.fewest(&steps)
			checkFootwork(t, s, got.best)
			seen = append(seen, fmt.Sprint(got, steps))
		}
		if seen[0] != seen[1] {
			t.Fatalf("%v: %v", *s, seen)
		}
	}
}

func randomSheds(r *rand.Rand, shafts, lifts int) *sheds {
	s := &sheds{shafts: shafts, atOnce: 1 + r.IntN(3), tiedDown: r.IntN(2) == 1}
	for len(s.lifts) < lifts {
		if lift := r.Uint64() & s.all(); lift != 0 && !slices.Contains(s.lifts, lift) {
			s.lifts = append(s.lifts, lift)
		}
	}
	return s
}
