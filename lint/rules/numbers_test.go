package rules

import (
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
)

func TestUnused(t *testing.T) {
	rows := schema.RowsOf([]int32{3, 1}, nil, []int32{3}, []int32{6})
	if got := unused(&rows, 7); !slices.Equal(got, []int{2, 4, 5, 7}) {
		t.Errorf("unused are %v", got)
	}
	if got := unused(&rows, 4); !slices.Equal(got, []int{2, 4}) {
		t.Errorf("unused up to 4 are %v", got)
	}
	if got := unused(&rows, 2_000_000_000); got != nil {
		t.Errorf("%d unused of two thousand million", len(got))
	}
	none := schema.RowsOf(nil, nil)
	if got := unused(&none, 4); got != nil {
		t.Errorf("nothing named, and unused are %v", got)
	}
}

// TestUnbalancedAgainstSets compares the bit sets with sets of shafts.
func TestUnbalancedAgainstSets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		rows := func(n, most int) (list schema.Rows) {
			for range n {
				var row []int32
				for range r.IntN(4) {
					row = append(row, int32(1+r.IntN(most)))
				}
				list.Append(row...)
			}
			return list
		}
		d := &schema.Draft{Threading: rows(10, 6), Tieup: rows(5, 6), Treadling: rows(12, 6)}
		if rapid.Bool().Draw(t, "planned") {
			d.LiftPlan = rows(12, 7)
		}
		used := d.Threading.Different()
		picks, _ := unbalanced(d, used)
		for pick := 1; pick <= d.Picks(); pick++ {
			lifted := map[int32]bool{}
			take := func(shafts []int32) {
				for _, s := range shafts {
					if slices.Contains(used, s) {
						lifted[s] = true
					}
				}
			}
			take(d.LiftPlan.Row(pick))
			if d.LiftPlan.Len() == 0 {
				for _, treadle := range d.Treadling.Row(pick) {
					take(d.Tieup.Row(int(treadle)))
				}
			}
			if slices.Contains(picks, pick) == (2*len(lifted) == len(used)) {
				t.Fatalf("pick %d lifts %d of %d; unbalanced are %v", pick, len(lifted), len(used), picks)
			}
		}
	})
}
