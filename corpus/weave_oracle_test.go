package corpus

import (
	"testing"

	"fettle/schema"
)

// cloth returns a weave from rows of # (warp up) and . (weft up), pick 1 first.
func cloth(rows ...string) weave {
	var w weave
	for _, r := range rows {
		row := make([]bool, len(r))
		for i := range r {
			row[i] = r[i] == '#'
		}
		w = append(w, row)
	}
	return w
}

func TestWeaveByHand(t *testing.T) {
	tests := []struct {
		name   string
		w      weave
		floats [4]int
		layers int
	}{
		{"plain", cloth("#.#.", ".#.#", "#.#.", ".#.#"), [4]int{1, 1, 1, 1}, 1},
		{"2/2 twill", cloth("##..", ".##.", "..##", "#..#"), [4]int{2, 2, 2, 2}, 1},
		// Worked out on paper from the theorem on cloth that falls apart into layers.
		{"two pieces", cloth("#...", ".#..", "###.", "##.#"), [4]int{3, 3, 3, 3}, 2},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := tt.w.fourFloats(); got != tt.floats {
				t.Errorf("floats %v, want %v", got, tt.floats)
			}
			if got := tt.w.layers(); got != tt.layers {
				t.Errorf("%d layers, want %d", got, tt.layers)
			}
		})
	}
}

// A published case: on a straight draw with shaft 1 at the right edge, the treadling 12,
// 23, 34, 41 catches every turn if the first pick goes from left to right, and none if it
// goes from right to left.
func TestWeaveSelvedge(t *testing.T) {
	w := woven(&schema.Draft{
		Threading: schema.Singles(1, 2, 3, 4),
		LiftPlan:  schema.RowsOf([]int32{1, 2}, []int32{2, 3}, []int32{3, 4}, []int32{1, 4}),
	})
	if l, r := w.misses(true), w.misses(false); l != 0 || r != 3 {
		t.Errorf("from left %d, from right %d, want 0 and 3", l, r)
	}
}
