package wif

import (
	"slices"

	"fettle/schema"
)

// entry is a row of a numbered section as met: its index, what it holds, and
// the line it stands on.
type entry[T any] struct {
	index int32
	value T
	at    schema.Span
}

// table gathers the rows of a section of whole numbers. Rows that come in
// order, as they nearly always do, go straight into place; from the first that
// does not, rows are kept aside until the section is complete, since only then
// is it known how far an index can be believed.
type table struct {
	rows   schema.Rows
	late   []entry[numberRange]
	values []int32 // of the late rows
	listed int     // rows met, those listed twice included
}

type numberRange struct{ from, to int32 }

// next says whether a row is the next one in order, and so goes straight into
// place.
func (t *table) next(index int32) bool {
	return len(t.late) == 0 && index == int32(t.rows.Len())+1
}

// same says whether a row that is in place has those numbers.
func (t *table) same(index int32, numbers []int32) bool {
	one := schema.RowsOf(numbers)
	return slices.Equal(t.rows.Row(int(index)), one.Row(1))
}

// add takes a row. It says false when that row is already there: the first
// counts.
func (t *table) add(index int32, numbers []int32, at schema.Span) bool {
	t.listed++
	if t.next(index) {
		t.rows.Append(numbers...)
		return true
	}
	if len(t.late) == 0 && index <= int32(t.rows.Len()) {
		return false
	}
	from := int32(len(t.values))
	t.values = append(t.values, numbers...)
	t.late = append(t.late, entry[numberRange]{index, numberRange{from, int32(len(t.values))}, at})
	return true
}

// lateRows are the rows kept aside so far.
func (t *table) lateRows() map[int32]bool {
	rows := make(map[int32]bool, len(t.late))
	for _, e := range t.late {
		rows[e.index] = true
	}
	return rows
}

// settle puts the late rows in place and reports what cannot be placed.
func (t *table) settle(p problems) {
	numbers := func(i int) []int32 { return t.values[t.late[i].value.from:t.late[i].value.to] }
	same := func(first, second int) bool {
		if first < 0 {
			return t.same(t.late[second].index, numbers(second))
		}
		return slices.Equal(numbers(first), numbers(second))
	}
	for _, i := range place(t.late, int32(t.rows.Len()), p, same) {
		if i < 0 {
			t.rows.Append()
			continue
		}
		t.rows.Append(numbers(int(i))...)
	}
	t.late, t.values = nil, nil
}

// problems is told of rows that cannot be placed: a row whose index was already
// there, of which the first counts, and whether both say the same; and one whose
// index cannot be believed, with the highest that can.
type problems struct {
	twice  func(index int32, at schema.Span, same bool)
	beyond func(index int32, at schema.Span, limit int)
}

// place works out which entry stands at each row above inOrder: its index in
// entries, or -1 for a row left out. It is linear in the rows listed, and what
// it allocates is bounded by them. same compares the entry that is in place, -1
// for one among the rows in order, with another.
func place[T any](entries []entry[T], inOrder int32, p problems, same func(first, second int) bool) []int32 {
	limit := mostBelieved(entries, inOrder)
	highest := inOrder
	for _, e := range entries {
		if int(e.index) > limit {
			p.beyond(e.index, e.at, limit)
		} else {
			highest = max(highest, e.index)
		}
	}
	slots := make([]int32, highest-inOrder)
	for i := range slots {
		slots[i] = -1
	}
	for i, e := range entries {
		switch {
		case int(e.index) > limit:
		case e.index <= inOrder:
			p.twice(e.index, e.at, same(-1, i))
		case slots[e.index-inOrder-1] >= 0:
			p.twice(e.index, e.at, same(int(slots[e.index-inOrder-1]), i))
		default:
			slots[e.index-inOrder-1] = int32(i)
		}
	}
	return slots
}

// mostBelieved returns the highest index that can be believed: schema.Belief above the
// number of rows below it. Rows above it don't count, so a draft reads the same
// without them.
func mostBelieved[T any](entries []entry[T], inOrder int32) int {
	limit := int(inOrder) + 1 + schema.Belief
	var indexes []int32
	if slices.ContainsFunc(entries, func(e entry[T]) bool { return int(e.index) > limit }) {
		for _, e := range entries {
			if e.index > inOrder {
				indexes = append(indexes, e.index)
			}
		}
	}
	slices.Sort(indexes)
	for _, index := range slices.Compact(indexes) {
		if int(index) > limit {
			break
		}
		limit++
	}
	return limit
}

// sameValue compares entries by what they hold.
func sameValue[T comparable](entries []entry[T]) func(first, second int) bool {
	return func(first, second int) bool { return entries[first].value == entries[second].value }
}

// settled is the values of the entries in the order of their index, with the
// zero value where a row is left out.
func settled[T comparable](entries []entry[T], p problems) []T {
	if len(entries) == 0 {
		return nil
	}
	slots := place(entries, 0, p, sameValue(entries))
	values := make([]T, len(slots))
	for n, i := range slots {
		if i >= 0 {
			values[n] = entries[i].value
		}
	}
	return values
}
