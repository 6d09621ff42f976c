package rules

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
)

func TestNumbered(t *testing.T) {
	many := make([]int, 50)
	for i := range many {
		many[i] = 2*i + 1
	}
	for _, row := range []struct {
		list []int
		want string
	}{
		{[]int{4}, "end 4"},
		{[]int{4, 9}, "ends 4 and 9"},
		{[]int{4, 5}, "ends 4 and 5"},
		{[]int{3, 5, 6, 7, 8}, "ends 3 and 5–8"},
		{[]int{1, 2, 3}, "ends 1–3"},
		{[]int{1, 2, 4, 5, 6, 9}, "ends 1, 2, 4–6 and 9"},
		{many, "ends 1, 3, 5, 7, 9, 11 and 44 more"},
		{append([]int{1, 2, 3}, many[2:]...), "ends 1–3, 5, 7, 9, 11, 13 and 43 more"},
	} {
		if got := numbered("end", row.list); got != row.want {
			t.Errorf("%v: %q, want %q", row.list, got, row.want)
		}
	}
}

// TestNumberedCounts reads a list back: runs and the rest come to as many
// numbers as there were.
func TestNumberedCounts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := rapid.SliceOfNDistinct(rapid.IntRange(1, 40), 2, 30, rapid.ID[int]).Draw(t, "list")
		slices.Sort(list)
		text := strings.NewReplacer("ends ", "", ",", "", " and ", " ").Replace(numbered("end", list))
		count := 0
		words := strings.Fields(text)
		for i, w := range words {
			var from, to int
			switch n, _ := fmt.Sscanf(w, "%d–%d", &from, &to); {
			case w == "more":
			case i+1 < len(words) && words[i+1] == "more":
				count += from
			case n == 2:
				count += to - from + 1
			default:
				count++
			}
		}
		if count != len(list) {
			t.Fatalf("%q tells %d of %d", text, count, len(list))
		}
	})
}

func TestUnusedAndDifferent(t *testing.T) {
	rows := schema.RowsOf([]int32{3, 1}, nil, []int32{3}, []int32{6})
	if got := different(&rows); !slices.Equal(got, []int32{1, 3, 6}) {
		t.Errorf("different are %v", got)
	}
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

// TestUnbalancedAgainstSets compares the words of bits with sets of shafts.
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
		used := different(&d.Threading)
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
