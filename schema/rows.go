package schema

import (
	"encoding/binary"
	"math/bits"
	"slices"
)

// Rows is a table of shaft or treadle numbers: the shafts of each end, the
// treadles of each pick, the shafts of each treadle, or the shafts of each pick.
// Rows count from 1. The numbers in a row ascend without duplicates. The zero
// value is an empty table. It takes four bytes a number, and four a row unless every
// row has one number.
type Rows struct {
	ends   []uint32 // ends[i] is where row i+1 ends within values; nil while every row has one number
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
	if t.ends != nil {
		t.ends = slices.Grow(t.ends, rows)
	}
	t.values = slices.Grow(t.values, rows)
}

// Len returns the number of rows.
func (t *Rows) Len() int {
	if t.ends == nil {
		return len(t.values)
	}
	return len(t.ends)
}

// Row returns the numbers in row n, ascending; none if the table has no such row.
// The slice belongs to the table.
func (t *Rows) Row(n int) []int32 {
	if n < 1 || n > t.Len() {
		return nil
	}
	if t.ends == nil {
		return t.values[n-1 : n : n]
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
	if n == 0 || t.ends != nil {
		t.endRow(len(t.values))
	}
}

// endRow ends a row at the last number. The rows before it have the first numbers.
func (t *Rows) endRow(before int) {
	if t.ends == nil {
		t.ends = make([]uint32, before, cap(t.values)+1)
		for i := range t.ends {
			t.ends[i] = uint32(i) + 1
		}
	}
	t.ends = append(t.ends, uint32(len(t.values)))
}

// Single returns the number in each row; ok is false unless every row has exactly
// one. The slice belongs to the table.
func (t *Rows) Single() (numbers []int32, ok bool) {
	return t.values, t.ends == nil
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
	if len(t.values)-from != 1 || t.ends != nil {
		t.endRow(from)
	}
}

// Extend adds empty rows up to row n.
func (t *Rows) Extend(n int) {
	for t.Len() < n {
		t.endRow(len(t.values))
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
	var list []int32
	var small uint64 // the numbers from 0 to 63, as bits: nearly all, and faster than sorting
	for _, v := range t.values {
		if uint32(v) < 64 {
			small |= 1 << v
		} else {
			list = append(list, v)
		}
	}
	for ; small != 0; small &= small - 1 {
		list = append(list, int32(bits.TrailingZeros64(small)))
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// Ranks returns the rank of each number in the table among its different numbers,
// from 1.
func (t *Rows) Ranks() map[int32]int32 {
	rank := map[int32]int32{}
	for i, n := range t.Different() {
		rank[n] = int32(i + 1)
	}
	return rank
}

// Numbers returns the numbers of all rows, row after row. The slice belongs to the
// table.
func (t *Rows) Numbers() []int32 { return t.values }

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

// MostInRow returns how many numbers the longest row has.
func (t *Rows) MostInRow() int {
	if t.ends == nil {
		return min(1, len(t.values))
	}
	most := 0
	for n := 1; n <= t.Len(); n++ {
		most = max(most, len(t.Row(n)))
	}
	return most
}

// Clone returns a copy that shares no memory.
func (t *Rows) Clone() Rows {
	return Rows{ends: slices.Clone(t.ends), values: slices.Clone(t.values)}
}

// Equal reports whether both tables have the same rows.
func (t Rows) Equal(u Rows) bool {
	return (t.ends == nil) == (u.ends == nil) && slices.Equal(t.ends, u.ends) && slices.Equal(t.values, u.values)
}
