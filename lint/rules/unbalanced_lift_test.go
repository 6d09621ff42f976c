package rules

import (
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
)

func TestUnbalancedLift(t *testing.T) {
	check(t, "loom/unbalanced-lift", []row{
		{name: "balanced throughout", settings: "[loom]\nshed = balanced\n"},
		{name: "rising loom", draft: table("TIEUP", "1", "2,3", "3,4", "1,4"), settings: "[loom]\nshed = rising\n"},
		{name: "one against three", draft: table("TIEUP", "1", "2,3", "3,4", "1,4"), settings: "[loom]\nshed = balanced\n",
			want: []string{`warning 1=1 {"picks":[1,5],"count":2,"lifted":1,"of":4}`}},
		{name: "sinking draft: named shafts go down", draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=false\n" + table("TIEUP", "1", "2,3", "3,4", "1,4"), settings: "[loom]\nshed = balanced\n",
			want: []string{`warning 1=1 {"picks":[1,5],"count":2,"lifted":3,"of":4}`}},
		{name: "two treadles together", draft: table("TREADLING", 1, 2, 3, "1,2", 1, 2, 3, 4), settings: "[loom]\nshed = balanced\n",
			want: []string{`warning 4=1,2 {"picks":[4],"count":1,"lifted":3,"of":4}`}},
		{name: "lift plan", draft: table("LIFTPLAN", "1,2", "2,3", "3,4", "1,4", "1,2", "2,3", "3,4", "1,2,4"), settings: "[loom]\nshed = balanced\n",
			want: []string{`warning 8=1,2,4 {"picks":[8],"count":1,"lifted":3,"of":4}`}},
		{name: "shafts without ends do not count", draft: "[WEAVING]\nShafts=6\nTreadles=4\nRising Shed=true\n" + table("TIEUP", "1,2,5,6", "2,3", "3,4", "1,4"), settings: "[loom]\nshed = balanced\n"},
	})
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
