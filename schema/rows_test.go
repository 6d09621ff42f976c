package schema

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestRows(t *testing.T) {
	table := RowsOf([]int32{2, 1, 2}, nil, []int32{0}, []int32{0, 7})
	for n, want := range map[int][]int32{0: nil, 1: {1, 2}, 2: {}, 3: {}, 4: {7}, 5: nil, -1: nil} {
		if got := table.Row(n); !slices.Equal(got, want) {
			t.Errorf("row %d is %v, not %v", n, got, want)
		}
	}
	if table.Len() != 4 || table.Highest() != 7 || table.Count() != 3 {
		t.Errorf("len %d, highest %d, count %d", table.Len(), table.Highest(), table.Count())
	}
	if got := table.Different(); !slices.Equal(got, []int32{1, 2, 7}) {
		t.Errorf("different numbers are %v", got)
	}
	odd := RowsOf([]int32{64, 1, 63, 1 << 30}, []int32{-5, 64, 63})
	if got := odd.Different(); !slices.Equal(got, []int32{-5, 1, 63, 64, 1 << 30}) {
		t.Errorf("different numbers are %v", got)
	}
	table.Extend(6)
	table.Extend(2)
	if table.Len() != 6 || len(table.Row(6)) != 0 {
		t.Errorf("extended to %d rows", table.Len())
	}
}

// TestRowsAreApart checks that appending to a returned row or to a copy changes nothing
// else.
func TestRowsAreApart(t *testing.T) {
	table := Singles(1, 2, 3)
	_ = append(table.Row(1), 9)
	if !table.Equal(Singles(1, 2, 3)) {
		t.Error("appending to row 1 changed row 2")
	}
	other := table.Clone()
	other.Append(4)
	if table.Len() != 3 || table.Equal(other) {
		t.Error("a copy is not apart")
	}
}

func TestRowsKeepSets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := rapid.SliceOf(rapid.SliceOfN(rapid.Int32Range(0, 9), 0, 6)).Draw(t, "rows")
		table := RowsOf(rows...)
		most := 0
		for i, row := range rows {
			set := slices.Compact(slices.Sorted(slices.Values(row)))
			set = slices.DeleteFunc(set, func(v int32) bool { return v == 0 })
			if !slices.Equal(table.Row(i+1), set) {
				t.Fatalf("row %d of %v is %v", i+1, rows, table.Row(i+1))
			}
			most = max(most, len(set))
		}
		if got := table.MostInRow(); got != most {
			t.Fatalf("the longest row of %v has %d", rows, got)
		}
	})
}
