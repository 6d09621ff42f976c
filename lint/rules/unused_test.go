package rules

import (
	"slices"
	"testing"

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
