package sheet

import (
	"slices"
	"testing"
)

func TestDentsInTens(t *testing.T) {
	up := func(n int) int { return 100 + n }
	for _, row := range []struct {
		name  string
		order []int
		ends  int
		want  []string
	}{
		{"two a dent", []int{2}, 45, []string{"10: 120", "20: 140"}},
		{"1-2 makes 15 ends in ten dents", []int{1, 2}, 30, []string{"10: 115", "20: 130"}},
		{"2-2-3", []int{2, 2, 3}, 50, []string{"10: 123", "20: 146"}},
		{"under ten dents", []int{2}, 19, nil},
		{"empty dents count", []int{0, 1}, 5, []string{"10: 105"}},
		{"no order", nil, 5, nil},
		{"nothing in any dent", []int{0}, 5, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := dentTens(row.order, row.ends, up); !slices.Equal(got, row.want) {
				t.Errorf("got %q, want %q", got, row.want)
			}
		})
	}
}
