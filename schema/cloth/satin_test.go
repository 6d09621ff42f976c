package cloth

import (
	"fmt"
	"slices"
	"testing"

	"fettle/schema"
)

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// satin returns a satin on n shafts with a step: end p·step is down on pick p.
func satin(n, step int) *schema.Draft {
	g := make(grid, n)
	for p := range g {
		g[p] = make([]bool, n)
		for e := range g[p] {
			g[p][e] = e == p*step%n
		}
	}
	return draftOf(g, n)
}

// valid reports whether a satin binds every end and isn't a twill: consecutive picks never
// bind neighbouring ends.
func valid(n, step int) bool {
	c := Of(satin(n, step))
	if c.Loose(schema.Warp) != nil {
		return false
	}
	next := c.LiftOf(2)[0]
	return next != 2 && int(next) != n
}

// isonemal reports whether a satin looks the same with warp and weft exchanged, except for
// its start and direction.
func isonemal(n, step int) bool {
	g, _ := gridOf(satin(n, step))
	h := make(grid, n)
	for e := range h {
		h[e] = g.column(e)
	}
	other := Of(draftOf(h, n)).Keys()[0]
	for range n {
		g = append(slices.Clone(g[1:]), g[0])
		keys := Of(draftOf(g, n)).Keys()
		if other == keys[0] || other == keys[Mirrored] || other == keys[Reversed] {
			return true
		}
	}
	return false
}

func TestSatins(t *testing.T) {
	counters := []int{1, 0, 2, 1, 2, 1, 4, 1, 5, 2, 3, 3, 7, 2, 8, 3, 5, 4, 10, 3}
	same := []int{1, 0, 0, 1, 0, 1, 0, 1, 1, 0, 1, 1, 1, 0, 0, 1, 1, 0, 0, 3}
	checks := map[string]func(*testing.T){}
	for i, want := range counters {
		n := i + 5
		source := "computed/phi(n)/2-1"
		if n == 5 || n >= 7 && n <= 16 {
			source = "WOLF 1921, counters"
		}
		checks[fmt.Sprintf("%s, %d shafts", source, n)] = func(t *testing.T) {
			got := 0
			for step := 2; 2*step < n; step++ {
				if v := valid(n, step); v != (gcd(n, step) == 1) {
					t.Errorf("step %d valid: %t", step, v)
				} else if v {
					got++
				}
			}
			if got != want {
				t.Errorf("%d steps, want %d", got, want)
			}
		}
		checks[fmt.Sprintf("OEIS A193140, isonemal satins of %d shafts", n)] = func(t *testing.T) {
			got := 0
			for step := 2; 2*step < n; step++ {
				if gcd(n, step) == 1 && isonemal(n, step) {
					got++
				}
			}
			if got != same[i] {
				t.Errorf("%d, want %d", got, same[i])
			}
		}
		for step := 2; 2*step < n; step++ {
			if gcd(n, step) != 1 {
				continue
			}
			c := Of(satin(n, step))
			f := c.Floats(FloatQuery{Wrap: true})
			for _, got := range []int{f.Warp.Back.Threads, f.Weft.Face.Threads} {
				if got != n-1 {
					t.Errorf("satin of %d, step %d: longest float %d", n, step, got)
				}
			}
			if f.Warp.Face.Threads != 1 || f.Weft.Back.Threads != 1 || !c.hangsTogether() {
				t.Errorf("satin of %d, step %d: %+v", n, step, f)
			}
			if e, p := c.Repeat(); e != n || p != n {
				t.Errorf("satin of %d, step %d repeats in %d and %d", n, step, e, p)
			}
		}
	}
	published(t, checks)
}

// TestTwillClasses counts twills on n shafts by their cloth, except for start, reversal,
// and exchange of face and back. OEIS A056357.
func TestTwillClasses(t *testing.T) {
	checks := map[string]func(*testing.T){}
	for i, want := range []int{1, 1, 3, 3, 7, 8, 17, 22, 43, 62, 121, 189, 361} {
		n := i + 2
		checks[fmt.Sprintf("OEIS A056357, %02d shafts", n)] = func(t *testing.T) {
			got := twillClasses(n)
			if got != want {
				t.Errorf("%d classes, want %d", got, want)
			}
		}
	}
	published(t, checks)
}

// twillClasses merges the lift patterns of the same cloth by their keys.
func twillClasses(n int) int {
	patterns := 1 << n
	keys := make([][8]Key, patterns)
	byKey := map[Key]int{}
	for p := range patterns {
		var up []int
		for s := range n {
			if p>>s&1 != 0 {
				up = append(up, s)
			}
		}
		keys[p] = Of(straight(n, n, n, up)).Keys()
		byKey[keys[p][0]] = p
	}
	root := make([]int, patterns)
	for p := range root {
		root[p] = p
	}
	find := func(p int) int {
		for root[p] != p {
			root[p] = root[root[p]]
			p = root[p]
		}
		return p
	}
	for p := range patterns {
		for _, v := range []View{Mirrored | Reversed, Mirrored | TurnedOver} {
			if q, ok := byKey[keys[p][v]]; ok {
				root[find(p)] = find(q)
			}
		}
		root[find(p)] = find((p<<1 | p>>(n-1)) & (patterns - 1)) // starting a pick later
	}
	classes := -1 // without the cloth in which nothing interlaces
	for p := range root {
		if root[p] == p {
			classes++
		}
	}
	return classes
}

// inOrder returns a straight draw that lifts one shaft a pick.
func inOrder(lifts ...int32) *schema.Draft {
	d := straight(len(lifts), len(lifts), 0, nil)
	d.LiftPlan = schema.Singles(lifts...)
	return d
}

func TestLiftOrders(t *testing.T) {
	checks := map[string]func(*testing.T){}
	for _, x := range []struct {
		name string
		lift []int32
		step int
	}{
		{"BROOKS, 5-end satin", []int32{1, 3, 5, 2, 4}, 2},
		{"BROOKS, 12-end satin", []int32{1, 6, 11, 4, 9, 2, 7, 12, 5, 10, 3, 8}, 5},
	} {
		checks[x.name] = func(t *testing.T) {
			n := len(x.lift)
			c := Of(inOrder(x.lift...))
			if c.Keys()[0] != Of(satin(n, x.step)).Keys()[0] {
				t.Errorf("this isn't the satin with step %d", x.step)
			}
			if f := c.Floats(FloatQuery{Wrap: true}); f.Warp.Back.Threads != n-1 || f.Weft.Face.Threads != n-1 {
				t.Errorf("longest floats %+v, want %d", f, n-1)
			}
			if n != c.DistinctLifts() {
				t.Errorf("%d lifts, want %d", c.DistinctLifts(), n)
			}
		}
	}
	published(t, checks)
}
