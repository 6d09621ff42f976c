package wif

import (
	"fmt"
	"slices"
	"testing"

	"fettle/schema"
)

type testRow struct{ index, number int32 }

// tableOf adds rows to a table and returns its numbers, with 0 for a missing row, and
// the problems.
func tableOf(rows []testRow) (numbers []int32, reported []string) {
	var t table
	for i, r := range rows {
		if !t.add(r.index, []int32{r.number}, schema.Span{Start: i}) {
			reported = append(reported, fmt.Sprintf("duplicate %d at %d", r.index, i))
		}
	}
	t.placeRows(problems{
		duplicate: func(n int32, at schema.Span, same bool) {
			reported = append(reported, fmt.Sprintf("duplicate %d at %d", n, at.Start))
		},
		tooHigh: func(n int32, at schema.Span, limit int) {
			reported = append(reported, fmt.Sprintf("too high %d at %d over %d", n, at.Start, limit))
		},
	})
	for n := 1; n <= t.rows.Len(); n++ {
		numbers = append(numbers, append(t.rows.Row(n), 0)[0])
	}
	return numbers, reported
}

func TestTable(t *testing.T) {
	for _, c := range []struct {
		name     string
		rows     []testRow
		want     []int32
		reported []string
	}{
		{"no rows", nil, nil, nil},
		{"in order", []testRow{{1, 4}, {2, 5}, {3, 6}}, []int32{4, 5, 6}, nil},
		{"descending", []testRow{{3, 6}, {2, 5}, {1, 4}}, []int32{4, 5, 6}, nil},
		{"a gap", []testRow{{1, 4}, {4, 7}}, []int32{4, 0, 0, 7}, nil},
		{"a gap that is filled later", []testRow{{1, 4}, {3, 6}, {2, 5}}, []int32{4, 5, 6}, nil},
		{"a duplicate in order", []testRow{{1, 4}, {1, 9}, {2, 5}}, []int32{4, 5}, []string{"duplicate 1 at 1"}},
		{"duplicates after a gap", []testRow{{1, 4}, {3, 6}, {3, 9}, {1, 9}}, []int32{4, 0, 6}, []string{"duplicate 3 at 2", "duplicate 1 at 3"}},
		{"the highest believed index", []testRow{{1, 4}, {1_000_002, 5}}, nil, nil},
		{"one index too high", []testRow{{1, 4}, {1_000_003, 5}}, []int32{4}, []string{"too high 1000003 at 1 over 1000002"}},
		{"indexes that are too high don't raise the limit", []testRow{{1, 4}, {1_000_003, 5}, {1_000_004, 6}, {1_000_005, 7}}, []int32{4},
			[]string{"too high 1000003 at 1 over 1000002", "too high 1000004 at 2 over 1000002", "too high 1000005 at 3 over 1000002"}},
		{"only an index that is too high", []testRow{{2_000_000, 5}}, nil, []string{"too high 2000000 at 0 over 1000001"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, reported := tableOf(c.rows)
			if c.name == "the highest believed index" {
				if len(got) != 1_000_002 || got[1_000_001] != 5 {
					t.Errorf("%d rows", len(got))
				}
			} else if !slices.Equal(got, c.want) {
				t.Errorf("%d, want %d", got, c.want)
			}
			if !slices.Equal(reported, c.reported) {
				t.Errorf("reported %q, want %q", reported, c.reported)
			}
		})
	}
}

func TestArranged(t *testing.T) {
	got := arranged([]entry[string]{{3, "c", schema.Span{}}, {1, "a", schema.Span{}}, {3, "d", schema.Span{}}},
		problems{duplicate: func(int32, schema.Span, bool) {}})
	if !slices.Equal(got, []string{"a", "", "c"}) {
		t.Errorf("%q", got)
	}
	if arranged[string](nil, problems{}) != nil {
		t.Error("no entries make values")
	}
}
