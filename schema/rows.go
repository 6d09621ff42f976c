package schema

import (
	"encoding/binary"
	"slices"
)

// Rows is a table of shaft or treadle numbers: the shafts of each end, the
// treadles of each pick, the shafts of each treadle, or the shafts of each pick.
// Rows count from 1. The numbers in a row ascend without duplicates. The zero
// value is an empty table. It takes four bytes a row and four a number.
type Rows struct {
	ends   []uint32 // ends[i] is where row i+1 ends within values
	values []int32
}

// RowsOf returns a table with these rows.
func RowsOf(rows ...[]int32) Rows {
	var t Rows
	for _, r := range rows {
		t.Append(r...)
	}
	return t
}

// Singles returns a table with one number in each row; 0 leaves a row empty.
func Singles(numbers ...int32) Rows {
	var t Rows
	for _, n := range numbers {
		t.AppendOne(n)
	}
	return t
}

// Grow reserves memory for more rows with one number each.
func (t *Rows) Grow(rows int) {
	t.ends = slices.Grow(t.ends, rows)
	t.values = slices.Grow(t.values, rows)
}

// Len returns the number of rows.
func (t *Rows) Len() int { return len(t.ends) }

// Row returns the numbers in row n, ascending; none if the table has no such row.
// The slice belongs to the table.
func (t *Rows) Row(n int) []int32 {
	if n < 1 || n > len(t.ends) {
		return nil
	}
	var from uint32
	if n > 1 {
		from = t.ends[n-2]
	}
	to := t.ends[n-1]
	return t.values[from:to:to]
}

// AppendOne adds a row with one number; 0 leaves it empty.
func (t *Rows) AppendOne(n int32) {
	if n != 0 {
		t.values = append(t.values, n)
	}
	t.ends = append(t.ends, uint32(len(t.values)))
}

// Single returns the number in each row; ok is false unless every row has exactly
// one. The slice belongs to the table.
func (t *Rows) Single() (numbers []int32, ok bool) {
	for i, end := range t.ends {
		if int(end) != i+1 {
			return nil, false
		}
	}
	return t.values, true
}

// Append adds a row. It drops zeros and duplicates.
func (t *Rows) Append(numbers ...int32) {
	from := len(t.values)
	for _, n := range numbers {
		if n != 0 {
			t.values = append(t.values, n)
		}
	}
	if len(t.values)-from > 1 {
		row := t.values[from:]
		slices.Sort(row)
		t.values = t.values[:from+len(slices.Compact(row))]
	}
	t.ends = append(t.ends, uint32(len(t.values)))
}

// Extend adds empty rows up to row n.
func (t *Rows) Extend(n int) {
	for len(t.ends) < n {
		t.ends = append(t.ends, uint32(len(t.values)))
	}
}

// Highest returns the largest number in the table, 0 if it has none.
func (t *Rows) Highest() int {
	var m int32
	for _, v := range t.values {
		m = max(m, v)
	}
	return int(m)
}

// Different returns the numbers in the table, ascending without duplicates.
func (t *Rows) Different() []int32 {
	list := slices.Clone(t.values)
	slices.Sort(list)
	return slices.Compact(list)
}

// Distinct returns the different rows in the order of their first use, and for each
// row its index among them. The rows belong to the table.
func (t *Rows) Distinct() (rows [][]int32, of []int) {
	known := map[string]int{}
	of = make([]int, t.Len())
	var key []byte
	for i := range of {
		row := t.Row(i + 1)
		key = key[:0]
		for _, n := range row {
			key = binary.LittleEndian.AppendUint32(key, uint32(n))
		}
		index, met := known[string(key)]
		if !met {
			index = len(rows)
			known[string(key)] = index
			rows = append(rows, row)
		}
		of[i] = index
	}
	return rows, of
}

// Count returns how many numbers all rows have together.
func (t *Rows) Count() int { return len(t.values) }

// Clone returns a copy that shares no memory.
func (t *Rows) Clone() Rows {
	return Rows{ends: slices.Clone(t.ends), values: slices.Clone(t.values)}
}

// Equal reports whether both tables have the same rows.
func (t Rows) Equal(u Rows) bool {
	return slices.Equal(t.ends, u.ends) && slices.Equal(t.values, u.values)
}
