package fitting

import (
	"flag"
	"fmt"
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"
)

var long = flag.Bool("long", false, "try more drafts, and every set of lifts of four shafts, which takes minutes")

// checkFootwork makes sure that a tie-up makes its lifts as the loom allows.
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

// bruteForce is the least number of treadles, by trying all sets of tie-ups.
func bruteForce(s *sheds) int {
	if s.atOnce <= 1 {
		return len(s.lifts)
	}
	type treadle struct{ up, down uint64 }
	var all []treadle
	for up := range uint64(1) << s.shafts {
		if !s.tiedDown {
			if up != 0 {
				all = append(all, treadle{up, 0})
			}
			continue
		}
		rest := s.all() &^ up
		for down := rest; ; down = (down - 1) & rest {
			if up|down != 0 {
				all = append(all, treadle{up, down})
			}
			if down == 0 {
				break
			}
		}
	}
	makes := func(chosen []treadle, lift uint64) bool {
		var press func(from, left int, up, moved uint64) bool
		press = func(from, left int, up, moved uint64) bool {
			if moved != 0 && up == lift && (!s.tiedDown || moved == s.all()) {
				return true
			}
			if left == 0 {
				return false
			}
			for i := from; i < len(chosen); i++ {
				c := chosen[i]
				if c.up&^lift != 0 || s.tiedDown && (c.down&lift != 0 || moved&(c.up|c.down) != 0) {
					continue
				}
				if press(i+1, left-1, up|c.up, moved|c.up|c.down) {
					return true
				}
			}
			return false
		}
		return press(0, s.atOnce, 0, 0)
	}
	for size := 1; ; size++ {
		var choose func(from int, chosen []treadle) bool
		choose = func(from int, chosen []treadle) bool {
			if len(chosen) == size {
				return !slices.ContainsFunc(s.lifts, func(l uint64) bool { return !makes(chosen, l) })
			}
			for i := from; i < len(all); i++ {
				if choose(i+1, append(slices.Clone(chosen), all[i])) {
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

// TestFewestTreadlesBruteForce compares the search with trying every tie-up: all
// sets of lifts of three shafts, and of four in steps, with one to three treadles at once.
func TestFewestTreadlesBruteForce(t *testing.T) {
	check := func(shafts int, sets uint64, atOnce int, tiedDown bool) {
		s := &sheds{shafts: shafts, atOnce: atOnce, tiedDown: tiedDown}
		for lift := uint64(1); lift < 1<<shafts; lift++ {
			if sets>>(lift-1)&1 != 0 {
				s.lifts = append(s.lifts, lift)
			}
		}
		steps := mostSteps
		got := s.fewest(&steps)
		checkFootwork(t, s, got.best)
		if want := bruteForce(s); len(got.best.up) != want || got.atLeast != want {
			t.Fatalf("shafts %d, lifts %b, at once %d, tied down %v: %d, at least %d, want %d", shafts, s.lifts, atOnce, tiedDown, len(got.best.up), got.atLeast, want)
		}
	}
	for sets := uint64(1); sets < 1<<7; sets++ {
		for atOnce := 1; atOnce <= 3; atOnce++ {
			check(3, sets, atOnce, false)
			if bits.OnesCount64(sets) <= 5 {
				check(3, sets, atOnce, true)
			}
		}
	}
	step := uint64(307)
	if *long {
		step = 1
	}
	for sets := uint64(1); sets < 1<<15; sets += step {
		check(4, sets, 2, false)
		check(4, sets, 3, false)
	}
}

// TestPublishedTreadles holds the search to figures that are published, or
// follow from them.
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

// TestFewestTreadlesAgain searches twice: the same lifts give the same tie-up.
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
