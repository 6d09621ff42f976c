package wif

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
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

// checkLength reports the first row of a section that lies beyond the threads.
func (r *reader) checkLength(k kind, rows, threads int) {
	if rows <= threads {
		return
	}
	l := r.locator()
	leave := schema.Fix{Title: "make comments of the rows beyond", Risky: true} // the threads may be too few instead
	first, at := 0, schema.Span{}
	for index := threads + 1; index <= rows; index++ {
		if row, ok := l.row(k, index); ok {
			leave.Edits = append(leave.Edits, r.commentOutKey(lex(r.text, row.Start)).Edits...)
			if first == 0 {
				first, at = index, row
			}
		}
	}
	if first > 0 {
		r.outside(k, first, at, threads, leave)
	}
}

// checkCarried looks through the numbered sections that are carried as they
// stand for rows beyond the threads.
func (r *reader) checkCarried(ends, picks int) {
	for _, c := range []struct {
		kind    kind
		threads int
	}{
		{kindWarpSymbols, ends}, {kindWarpSpacingZoom, ends}, {kindWarpThicknessZoom, ends},
		{kindWeftSymbols, picks}, {kindWeftSpacingZoom, picks}, {kindWeftThicknessZoom, picks},
		{kindWarpSymbolTable, r.entries(kindWarpSymbolPalette)}, {kindWeftSymbolTable, r.entries(kindWeftSymbolPalette)},
	} {
		if r.first[c.kind] != 0 && c.threads >= 0 {
			r.checkRows(c.kind, c.threads)
		}
	}
}

// entries is what a symbol palette declares, -1 where it does not.
func (r *reader) entries(k kind) int {
	l := r.locator()
	if at, ok := l.key(k, "Entries"); ok {
		line := lex(r.text, at.Start)
		if v, next := digits(r.text, line.value.Start); next == line.value.End {
			return int(v)
		}
	}
	return -1
}

// checkRows reports the first row of a carried section whose number is beyond a
// limit.
func (r *reader) checkRows(k kind, limit int) {
	for l := range r.locator().keys(k) {
		if row := rowOf(r.text, l); row > limit {
			r.outside(k, row, l.span(), limit)
			return
		}
	}
}

func (r *reader) indexFinding(section string, index int, at schema.Span, limit int, message string, fixes ...schema.Fix) {
	r.report(schema.FileIndex, lex(r.text, at.Start).span(), message,
		schema.Data{{Key: "section", Value: section}, {Key: "index", Value: index}, {Key: "limit", Value: limit}}, fixes...)
	r.unread()
}

// badIndex is for a row numbered 0, or with more digits than any row can have.
func (r *reader) badIndex(l line, name []byte) {
	if r.kind.isWeave() {
		r.doubt(schema.FileIndex)
	}
	if len(bytes.Trim(name, "0")) == 0 {
		r.noteZero(l)
		return
	}
	section := sections[r.kind].name
	if r.extend(alike{schema.FileIndex, r.kind, "far"}, l.span(), true, commentOut(l.start).Edits...) {
		return
	}
	index, err := strconv.Atoi(string(name))
	if err != nil {
		index = int(^uint(0) >> 1)
	}
	limit := r.tables[r.kind].listed + schema.Belief
	row := fmt.Sprintf("row %s of section %s", wording.Plain(string(name), 30), section)
	r.indexFinding(section, index, l.span(), limit,
		schema.Unbelieved(row, limit, "number it right, or take it out"), atRisk(commentOut(l.start)))
}

// outside is for a row beyond what the section's rows belong to.
func (r *reader) outside(k kind, index int, at schema.Span, limit int, fixes ...schema.Fix) {
	if r.extend(alike{schema.FileIndex, k, "outside"}, at, true) {
		return
	}
	section := sections[k].name
	left := "left out"
	if sections[k].form == verbatim {
		left = "kept but not read"
	}
	message := fmt.Sprintf("row %d of section %s stands beyond the last of %s and is %s; take it out, or declare more",
		index, section, wording.Counted(limit, threadOf(k)), left)
	switch k {
	case kindColorTable:
		message = fmt.Sprintf("color %d stands beyond Entries=%d of COLOR PALETTE; it is read all the same: raise Entries", index, limit)
	case kindWarpSymbolTable, kindWeftSymbolTable:
		message = fmt.Sprintf("row %d of section %s stands beyond Entries=%d of its palette; it is kept all the same: raise Entries", index, section, limit)
	}
	r.indexFinding(section, index, at, limit, message, fixes...)
	if k == kindColorTable || sections[k].form == verbatim {
		r.kept()
	}
}

// threadOf is what a row of a table by thread is of.
func threadOf(k kind) string {
	if strings.HasPrefix(sections[k].name, "WARP") {
		return "end"
	}
	return "pick"
}

// problems reports rows of a section that cannot be placed.
func (r *reader) problems(k kind) problems {
	return problems{
		twice: func(index int32, at schema.Span, same bool) { r.repeated(k, index, at, same) },
		beyond: func(index int32, at schema.Span, limit int) {
			l := lex(r.text, at.Start)
			if k.isWeave() {
				r.doubt(schema.FileIndex)
			}
			if r.extend(alike{schema.FileIndex, k, "far"}, l.span(), true, r.commentOutKey(l).Edits...) {
				return
			}
			row := fmt.Sprintf("row %d of section %s", index, sections[k].name)
			r.indexFinding(sections[k].name, int(index), at, limit,
				schema.Unbelieved(row, limit, "number it right, or take it out"), atRisk(r.commentOutKey(l)))
		},
	}
}

// zeroRow is a row numbered 0.
type zeroRow struct {
	line  line
	edits []schema.Edit // that make comments of the rows numbered 0
}

// reportZero reports the rows numbered 0, and the tables that are numbered so.
func (r *reader) reportZero() {
	if r.zeros == ([kinds]*zeroRow{}) && r.zeroInList == ([kinds]bool{}) {
		return
	}
	rows, numbers := r.rowsFromZero(), r.numbersFromZero()
	for k := range kinds {
		if z := r.zeros[k]; z != nil && !rows[k] {
			r.loneZero(k, z)
		}
	}
	if rows == ([kinds]bool{}) && numbers == ([kinds]bool{}) {
		return
	}
	r.doubt(schema.FileIndex)
	var names []string
	var at schema.Span
	first := kindUnknown
	for k := range kinds {
		if !rows[k] && !numbers[k] {
			continue
		}
		names = append(names, sections[k].name)
		if first == kindUnknown {
			first, at = k, r.locator().header(k)
			if z := r.zeros[k]; z != nil {
				at = z.line.span()
			}
		}
	}
	message := wording.Listed(names) + wording.Plural(len(names), " is", " are") + " numbered from 0, but the format numbers from 1, so another cloth is read; number from 1"
	var fixes []schema.Fix
	if edits, ok := r.fromOne(rows, numbers); ok {
		fixes = append(fixes, schema.Fix{Title: "number " + wording.Listed(names) + " from 1", Risky: true, Changes: true, Edits: edits})
	}
	r.indexFinding(sections[first].name, 0, at, r.rowLimit(first), message, fixes...)
}

// loneZero reports a row numbered 0 in a table that has all its other rows.
func (r *reader) loneZero(k kind, z *zeroRow) {
	r.indexFinding(sections[k].name, 0, z.line.span(), r.tables[k].listed+schema.Belief,
		"row 0 of section "+sections[k].name+" is skipped: rows are numbered from 1. Number it right, or delete it",
		schema.Fix{Title: "make it a comment", Risky: true, Edits: z.edits})
}

// rowsFromZero is which sections number their rows from 0: they have a row 0, and
// lack the last. With a table of threads the other tables of its threads go, which
// may leave rows out.
func (r *reader) rowsFromZero() (from [kinds]bool) {
	l := r.locator()
	lacksLast := func(k kind) bool {
		last, limit := len(l.index(k)), r.rowLimit(k)
		return last > 0 && (limit == 0 || last < limit)
	}
	for k := range kinds {
		if r.zeros[k] != nil && lacksLast(k) {
			_, from[k] = l.row(k, 1)
		}
	}
	for k := range kinds {
		with := from[kindThreading] && k >= kindWarpThickness && k <= kindWarpColors ||
			(from[kindTreadling] || from[kindLiftPlan]) && k >= kindWeftThickness && k <= kindWeftColors
		if with && sections[k].form != verbatim && lacksLast(k) {
			from[k] = true
		}
	}
	return from
}

// numbersFromZero is which sections name shafts, treadles or colors from 0.
func (r *reader) numbersFromZero() (from [kinds]bool) {
	d := r.draft
	shafts := r.namesShaftsFromZero()
	from[kindThreading], from[kindTieup], from[kindLiftPlan] = shafts, shafts && d.Tieup.Len() > 0, shafts && d.LiftPlan.Len() > 0
	if treadles := r.numberLimit(kindTreadling); r.zeros[kindTieup] != nil && (treadles == 0 || d.Treadling.Highest() < treadles) {
		from[kindTreadling] = r.emptyRows(kindTreadling) > 0
	}
	if r.zeros[kindColorTable] != nil {
		for _, k := range []kind{kindWarpColors, kindWeftColors} {
			empty := r.emptyRows(k)
			from[k] = empty > 0 && r.tables[k].rows.Highest() < max(r.palette.entries, len(r.colors)+1)
		}
	}
	return from
}

// namesShaftsFromZero says whether the shafts are named from 0: an end is on shaft
// 0, none is on the last, and tie-up or lift plan have 0 beside other shafts. A 0 by
// itself is a shaft only then: otherwise it means none.
func (r *reader) namesShaftsFromZero() bool {
	d := r.draft
	if !r.zeroInList[kindTieup] && !r.zeroInList[kindLiftPlan] || r.emptyRows(kindThreading) == 0 {
		return false
	}
	shafts := r.numberLimit(kindThreading)
	return shafts == 0 || max(d.Threading.Highest(), d.Tieup.Highest(), d.LiftPlan.Highest()) < shafts
}

// emptyRows counts the rows of a section that name nothing but 0, a row 0 among
// them.
func (r *reader) emptyRows(k kind) (count int) {
	if z := r.zeros[k]; z != nil && string(r.text[z.line.value.Start:z.line.value.End]) == "0" {
		count++
	}
	t := &r.tables[k].rows
	for n := 1; n <= t.Len(); n++ {
		if len(t.Row(n)) == 0 {
			count++
		}
	}
	return count
}

// fromOne is the edits after which the rows, and the numbers, of sections count
// from 1; not ok where one of them cannot be read.
func (r *reader) fromOne(rows, numbers [kinds]bool) (edits []schema.Edit, ok bool) {
	for k := range kinds {
		if !rows[k] && !numbers[k] {
			continue
		}
		for l := range r.locator().keys(k) {
			index, next := digits(r.text, l.name.Start)
			if next != l.name.End {
				return nil, false
			}
			if rows[k] {
				edits = append(edits, schema.Edit{Span: l.name, New: strconv.Itoa(int(index) + 1)})
			}
			if at := plainPart(r.text, l.value); numbers[k] && at.Start < at.End {
				p := partedNumbers(r.text, at, nil)
				if len(p.numbers) == 0 || p.mark != 0 && p.mark != ',' {
					return nil, false
				}
				for i := range p.numbers {
					p.numbers[i]++
				}
				slices.Sort(p.numbers)
				edits = append(edits, schema.Edit{Span: at, New: joined(p.numbers)})
			}
		}
	}
	return edits, true
}

// noteZero keeps a row numbered 0 until the whole file is read.
func (r *reader) noteZero(l line) {
	if r.zeros[r.kind] == nil {
		r.zeros[r.kind] = &zeroRow{line: l}
	}
	z := r.zeros[r.kind]
	z.edits = append(z.edits, commentOut(l.start).Edits...)
}
