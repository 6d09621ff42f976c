package cloth

import (
	"slices"
	"strings"
	"testing"

	"fettle/schema"
)

// lifted returns a draft with an end a shaft, from end 1 on, and these lifts.
func lifted(ends int, lifts ...[]int32) *schema.Draft {
	d := straight(ends, ends, 0, nil)
	d.LiftPlan = schema.RowsOf(lifts...)
	return d
}

// named writes a weave as the tables have it.
func named(w *Weave) string {
	if w == nil {
		return ""
	}
	return w.String()
}

func TestWeaveNames(t *testing.T) {
	const iso = " (ISO 9354, as far as known: "
	for _, row := range []struct {
		name  string
		draft *schema.Draft
		want  string
	}{
		{"plain weave", lifted(4, []int32{1, 3}, []int32{2, 4}), "plain weave" + iso + "10-0101-01-00)"},
		{"two picks in a shed", lifted(4, []int32{1, 3}, []int32{1, 3}, []int32{2, 4}, []int32{2, 4}), "2/2 warp rib"},
		{"two picks and one", lifted(4, []int32{1, 3}, []int32{1, 3}, []int32{2, 4}), "2/1 warp rib"},
		{"two ends alike", lifted(4, []int32{1, 2}, []int32{3, 4}), "2/2 weft rib"},
		{"hopsack", lifted(4, []int32{1, 2}, []int32{1, 2}, []int32{3, 4}, []int32{3, 4}), "2/2 hopsack"},
		{"three and one", lifted(4, []int32{1, 2, 3}, []int32{1, 2, 3}, []int32{4}, []int32{4}), ""},
		// End 2, left of end 1, weaves a pick later: the line rises to the left.
		{"left-hand twill", lifted(4, []int32{1, 2}, []int32{2, 3}, []int32{3, 4}, []int32{1, 4}), "2/2 twill, left-hand" + iso + "20-0202-01-01)"},
		{"right-hand twill", lifted(4, []int32{1, 2}, []int32{1, 4}, []int32{3, 4}, []int32{2, 3}), "2/2 twill, right-hand" + iso + "20-0202-01-01)"},
		{"3/1", lifted(4, []int32{1, 2, 3}, []int32{2, 3, 4}, []int32{1, 3, 4}, []int32{1, 2, 4}), "3/1 twill, left-hand" + iso + "20-0301-01-01)"},
		{"1/2", lifted(3, []int32{1}, []int32{2}, []int32{3}), "1/2 twill, left-hand" + iso + "20-0102-01-01)"},
		{"steep", lifted(3, []int32{1, 2}, []int32{1, 2}, []int32{2, 3}, []int32{2, 3}, []int32{1, 3}, []int32{1, 3}), "4/2 twill, left-hand, 2 picks steep" + iso + "20-0402-01-02)"},
		{"broken", lifted(4, []int32{1, 2}, []int32{2, 3}, []int32{1, 4}, []int32{3, 4}), ""},
		{"point", lifted(4, []int32{1, 2}, []int32{2, 3}, []int32{3, 4}, []int32{2, 3}), ""},
		{"8-end warp satin", satinUp(8, 3, true), "8-end warp satin, counter 3" + iso + "30-0701-01-03)"},
		{"5-end warp satin", satinUp(5, 2, true), "5-end warp satin, counter 2" + iso + "30-0401-01-02)"},
		{"5-end weft satin", satinUp(5, 3, false), "5-end weft satin, counter 2" + iso + "30-0104-01-02)"},
		{"no cloth", &schema.Draft{}, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := named(Of(row.draft).Weave()); got != row.want {
				t.Errorf("%q, want %q", got, row.want)
			}
		})
	}
}

// satinUp returns a satin on n shafts in which each end binds so many picks above the one
// before: with the warp up everywhere else, or only there.
func satinUp(n, step int, warp bool) *schema.Draft {
	g := make(grid, n)
	for p := range g {
		g[p] = make([]bool, n)
		for e := range g[p] {
			g[p][e] = (p == e*step%n) != warp
		}
	}
	return draftOf(g, n)
}

// TestSatinNamesCount counts the satins that are named on n shafts, up to counters that are
// mirror images, by the list of valid counters in A. Wolfensberger, Theory of Silk Weaving,
// 2nd ed. 1921, for n = 5 and 7 to 16; the others are φ(n)/2 − 1, computed.
func TestSatinNamesCount(t *testing.T) {
	want := []int{1, 0, 2, 1, 2, 1, 4, 1, 5, 2, 3, 3, 7, 2, 8, 3, 5, 4, 10, 3} // n = 5 to 24
	for i, count := range want {
		n, counters := i+5, map[int]bool{}
		for step := 1; step < n; step++ {
			if gcd(step, n) != 1 {
				continue
			}
			w := Of(satinUp(n, step, true)).Weave()
			if w == nil {
				t.Fatalf("%d shafts, step %d: no name", n, step)
			}
			if w.Hand == nil {
				counters[*w.Step] = true
				if *w.Step != min(step, n-step) {
					t.Errorf("%d shafts, step %d: counter %d", n, step, *w.Step)
				}
			}
		}
		if len(counters) != count {
			t.Errorf("%d shafts: %d satins, want %d", n, len(counters), count)
		}
	}
}

// TestTwillNamesCount counts the different twills on n threads, up to shifts, reversal and
// exchange of face and back: OEIS A056357 for n from 2, with plain weave for n = 2.
func TestTwillNamesCount(t *testing.T) {
	for i, count := range []int{1, 1, 3, 3, 7, 8, 17, 22} {
		n, names := i+2, map[string]bool{}
		for set := 1; set < 1<<n-1; set++ {
			g := make(grid, n)
			for p := range g {
				g[p] = make([]bool, n)
				for e := range g[p] {
					g[p][e] = set>>((p-e+n)%n)&1 != 0
				}
			}
			w := Of(draftOf(g, n)).Weave()
			if w == nil {
				continue
			}
			names[plainest(w.Name)] = true
		}
		if len(names) != count {
			t.Errorf("%d threads: %d twills, want %d: %v", n, len(names), count, names)
		}
	}
}

// plainest returns the runs of a twill's name, the same for twills that are shifted,
// reversed or seen from the back.
func plainest(name string) string {
	runs := strings.Split(strings.TrimSuffix(name, " twill"), "/")
	best := ""
	for range 2 {
		for i := range runs {
			best = max(best, strings.Join(slices.Concat(runs[i:], runs[:i]), "/"))
		}
		slices.Reverse(runs)
	}
	return best
}
