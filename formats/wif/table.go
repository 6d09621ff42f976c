package wif

import "fettle/schema"

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

// add takes a row. It says false when that row is already there: the first
// stands.
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

// settle puts the late rows in place and reports what cannot be placed.
func (t *table) settle(p problems) {
	for _, i := range place(t.late, int32(t.rows.Len()), t.listed, p) {
		if i < 0 {
			t.rows.Append()
			continue
		}
		r := t.late[i].value
		t.rows.Append(t.values[r.from:r.to]...)
	}
	t.late, t.values = nil, nil
}

// problems is told of rows that cannot be placed: a row whose index was already
// there, of which the first stands, and one whose index cannot be believed,
// with the highest that can.
type problems struct {
	twice  func(index int32, at schema.Span)
	beyond func(index int32, at schema.Span, limit int)
}

// place works out which entry stands at each row above inOrder: its index in
// entries, or -1 for a row left out. It is linear in the rows listed, and what
// it allocates is bounded by them.
func place[T any](entries []entry[T], inOrder int32, listed int, p problems) []int32 {
	limit := listed + schema.Belief
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
		case e.index <= inOrder || slots[e.index-inOrder-1] >= 0:
			p.twice(e.index, e.at)
		default:
			slots[e.index-inOrder-1] = int32(i)
		}
	}
	return slots
}

// settled is the values of the entries in the order of their index, with the
// zero value where a row is left out.
func settled[T any](entries []entry[T], p problems) []T {
	if len(entries) == 0 {
		return nil
	}
	slots := place(entries, 0, len(entries), p)
	values := make([]T, len(slots))
	for n, i := range slots {
		if i >= 0 {
			values[n] = entries[i].value
		}
	}
	return values
}
