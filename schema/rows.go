package schema

import "slices"

// Rows is a numbered table whose rows each name any number of shafts or
// treadles: the shafts an end is threaded on, the treadles a pick presses, the
// shafts a treadle is tied to, the shafts a pick lifts. Rows are numbered from
// 1; within a row the numbers ascend, each once. The zero value is an empty
// table. Its memory is four bytes a row and four a number.
type Rows struct {
	ends   []uint32 // ends[i] is where row i+1 ends within values
	values []int32
}

// RowsOf builds a table from rows written out.
func RowsOf(rows ...[]int32) Rows {
	var t Rows
	for _, r := range rows {
		t.Append(r...)
	}
	return t
}

// Singles builds a table with one number a row; 0 leaves a row empty.
func Singles(numbers ...int32) Rows {
	var t Rows
	for _, n := range numbers {
		t.AppendOne(n)
	}
	return t
}

// Grow makes room for that many more rows of one number each.
func (t *Rows) Grow(rows int) {
	t.ends = slices.Grow(t.ends, rows)
	t.values = slices.Grow(t.values, rows)
}

// Len is the number of the highest row.
func (t *Rows) Len() int { return len(t.ends) }

// Row gives the numbers of row n, ascending; none when the table does not
// reach so far. The slice belongs to the table.
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

// AppendOne adds the next row, with one number; 0 leaves it empty.
func (t *Rows) AppendOne(n int32) {
	if n != 0 {
		t.values = append(t.values, n)
	}
	t.ends = append(t.ends, uint32(len(t.values)))
}

// Single gives the number of each row, where every row names just one. The
// slice belongs to the table.
func (t *Rows) Single() (numbers []int32, ok bool) {
	for i, end := range t.ends {
		if int(end) != i+1 {
			return nil, false
		}
	}
	return t.values, true
}

// Append adds the next row. Zeros and numbers named twice are dropped.
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

// Extend adds empty rows until there are n.
func (t *Rows) Extend(n int) {
	for len(t.ends) < n {
		t.ends = append(t.ends, uint32(len(t.values)))
	}
}

// Highest is the largest number any row names, 0 for none.
func (t *Rows) Highest() int {
	var m int32
	for _, v := range t.values {
		m = max(m, v)
	}
	return int(m)
}

// Different is the numbers that the rows name, ascending, each once.
func (t *Rows) Different() []int32 {
	list := slices.Clone(t.values)
	slices.Sort(list)
	return slices.Compact(list)
}

// Count is how many numbers the rows name in all.
func (t *Rows) Count() int { return len(t.values) }

// Clone is a copy that shares nothing.
func (t *Rows) Clone() Rows {
	return Rows{ends: slices.Clone(t.ends), values: slices.Clone(t.values)}
}

// Equal says whether both tables have the same rows.
func (t Rows) Equal(u Rows) bool {
	return slices.Equal(t.ends, u.ends) && slices.Equal(t.values, u.values)
}
