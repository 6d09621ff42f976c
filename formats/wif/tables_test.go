package wif

import (
	"fmt"
	"slices"
	"testing"

	"fettle/schema"
)

// row1 is a row of one number as a test gives it.
type row1 struct{ index, number int32 }

// gathered puts rows into a table, and says what came of it: a list of the
// numbers with 0 for a row left out, and what was told of rows out of place.
func gathered(rows []row1) (numbers []int32, told []string) {
	var t table
	for i, r := range rows {
		if !t.add(r.index, []int32{r.number}, schema.Span{Start: i}) {
			told = append(told, fmt.Sprintf("twice %d at %d", r.index, i))
		}
	}
	t.settle(problems{
		twice: func(n int32, at schema.Span, same bool) {
			told = append(told, fmt.Sprintf("twice %d at %d", n, at.Start))
		},
		beyond: func(n int32, at schema.Span, limit int) {
			told = append(told, fmt.Sprintf("beyond %d at %d over %d", n, at.Start, limit))
		},
	})
	for n := 1; n <= t.rows.Len(); n++ {
		numbers = append(numbers, append(t.rows.Row(n), 0)[0])
	}
	return numbers, told
}

func TestTable(t *testing.T) {
	for _, c := range []struct {
		name string
		rows []row1
		want []int32
		told []string
	}{
		{"no rows", nil, nil, nil},
		{"in order", []row1{{1, 4}, {2, 5}, {3, 6}}, []int32{4, 5, 6}, nil},
		{"backwards", []row1{{3, 6}, {2, 5}, {1, 4}}, []int32{4, 5, 6}, nil},
		{"a gap", []row1{{1, 4}, {4, 7}}, []int32{4, 0, 0, 7}, nil},
		{"a gap filled late", []row1{{1, 4}, {3, 6}, {2, 5}}, []int32{4, 5, 6}, nil},
		{"twice in order", []row1{{1, 4}, {1, 9}, {2, 5}}, []int32{4, 5}, []string{"twice 1 at 1"}},
		{"twice behind a gap", []row1{{1, 4}, {3, 6}, {3, 9}, {1, 9}}, []int32{4, 0, 6}, []string{"twice 3 at 2", "twice 1 at 3"}},
		{"the highest believed", []row1{{1, 4}, {1_000_002, 5}}, nil, nil},
		{"one beyond belief", []row1{{1, 4}, {1_000_003, 5}}, []int32{4}, []string{"beyond 1000003 at 1 over 1000002"}},
		{"belief doesn't grow with what is beyond it", []row1{{1, 4}, {1_000_003, 5}, {1_000_004, 6}, {1_000_005, 7}}, []int32{4},
			[]string{"beyond 1000003 at 1 over 1000002", "beyond 1000004 at 2 over 1000002", "beyond 1000005 at 3 over 1000002"}},
		{"only beyond belief", []row1{{2_000_000, 5}}, nil, []string{"beyond 2000000 at 0 over 1000001"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, told := gathered(c.rows)
			if c.name == "the highest believed" {
				if len(got) != 1_000_002 || got[1_000_001] != 5 {
					t.Errorf("%d rows", len(got))
				}
			} else if !slices.Equal(got, c.want) {
				t.Errorf("%d, want %d", got, c.want)
			}
			if !slices.Equal(told, c.told) {
				t.Errorf("told %q, want %q", told, c.told)
			}
		})
	}
}

func TestSettled(t *testing.T) {
	got := settled([]entry[string]{{3, "c", schema.Span{}}, {1, "a", schema.Span{}}, {3, "d", schema.Span{}}},
		problems{twice: func(int32, schema.Span, bool) {}})
	if !slices.Equal(got, []string{"a", "", "c"}) {
		t.Errorf("%q", got)
	}
	if settled[string](nil, problems{}) != nil {
		t.Error("something settled from nothing")
	}
}
