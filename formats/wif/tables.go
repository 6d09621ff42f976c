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

// entry is a row of a numbered section: its index, its value and its line.
type entry[T any] struct {
	index int32
	value T
	at    schema.Span
}

// table collects the rows of a section of whole numbers. Rows that come in order, as
// nearly all do, are placed at once. From the first that doesn't, rows wait until the
// section is complete; only then is it known which indexes fettle believes.
type table struct {
	rows     schema.Rows
	unplaced []entry[numberRange]
	values   []int32 // of the unplaced rows
	listed   int     // rows read, with duplicates
}

type numberRange struct{ from, to int32 }

// next reports whether a row is the next one in order.
func (t *table) next(index int32) bool {
	return len(t.unplaced) == 0 && index == int32(t.rows.Len())+1
}

// same reports whether a placed row has these numbers.
func (t *table) same(index int32, numbers []int32) bool {
	one := schema.RowsOf(numbers)
	return slices.Equal(t.rows.Row(int(index)), one.Row(1))
}

// add adds a row. It returns false for a duplicate of a placed row; the first wins.
func (t *table) add(index int32, numbers []int32, at schema.Span) bool {
	t.listed++
	if t.next(index) {
		t.rows.Append(numbers...)
		return true
	}
	if len(t.unplaced) == 0 && index <= int32(t.rows.Len()) {
		return false
	}
	from := int32(len(t.values))
	t.values = append(t.values, numbers...)
	t.unplaced = append(t.unplaced, entry[numberRange]{index, numberRange{from, int32(len(t.values))}, at})
	return true
}

// unplacedRows returns the indexes of the rows that wait.
func (t *table) unplacedRows() map[int32]bool {
	rows := make(map[int32]bool, len(t.unplaced))
	for _, e := range t.unplaced {
		rows[e.index] = true
	}
	return rows
}

// placeRows places the rows that wait.
func (t *table) placeRows(p problems) {
	numbers := func(i int) []int32 { return t.values[t.unplaced[i].value.from:t.unplaced[i].value.to] }
	same := func(first, second int) bool {
		if first < 0 {
			return t.same(t.unplaced[second].index, numbers(second))
		}
		return slices.Equal(numbers(first), numbers(second))
	}
	for _, i := range arrange(t.unplaced, int32(t.rows.Len()), p, same) {
		if i < 0 {
			t.rows.Append()
			continue
		}
		t.rows.Append(numbers(int(i))...)
	}
	t.unplaced, t.values = nil, nil
}

// problems reports rows that can't be placed: duplicates, with whether both have the
// same value, and indexes that are too high, with the highest that fettle believes.
type problems struct {
	duplicate func(index int32, at schema.Span, same bool)
	tooHigh   func(index int32, at schema.Span, limit int)
}

// arrange returns the entry of each row above inOrder: its index in entries, or -1
// for a missing row. Its time and memory are linear in the rows listed. same compares
// two entries; first is -1 for one of the rows in order.
func arrange[T any](entries []entry[T], inOrder int32, p problems, same func(first, second int) bool) []int32 {
	limit := maxIndex(entries, inOrder)
	highest := inOrder
	for _, e := range entries {
		if int(e.index) > limit {
			p.tooHigh(e.index, e.at, limit)
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
			p.duplicate(e.index, e.at, same(-1, i))
		case slots[e.index-inOrder-1] >= 0:
			p.duplicate(e.index, e.at, same(int(slots[e.index-inOrder-1]), i))
		default:
			slots[e.index-inOrder-1] = int32(i)
		}
	}
	return slots
}

// maxIndex returns the highest index that fettle believes: schema.MostExtraRows more than the
// number of rows below it. Rows above it don't count, so that leaving them out changes
// nothing else.
func maxIndex[T any](entries []entry[T], inOrder int32) int {
	limit := int(inOrder) + 1 + schema.MostExtraRows
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

func sameValue[T comparable](entries []entry[T]) func(first, second int) bool {
	return func(first, second int) bool { return entries[first].value == entries[second].value }
}

// arranged returns the values of the entries by index, with zero values for missing
// rows.
func arranged[T comparable](entries []entry[T], p problems) []T {
	if len(entries) == 0 {
		return nil
	}
	slots := arrange(entries, 0, p, sameValue(entries))
	values := make([]T, len(slots))
	for n, i := range slots {
		if i >= 0 {
			values[n] = entries[i].value
		}
	}
	return values
}

// checkLength reports the rows of a section beyond its threads.
func (r *reader) checkLength(k kind, rows, threads int) {
	if rows <= threads {
		return
	}
	l := r.locator()
	leave := schema.Fix{Title: "make comments of the extra rows", Risky: true} // or threads may be missing
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
		r.reportBeyond(k, first, at, threads, leave)
	}
}

// checkCarried does the same for carried sections with numbered rows.
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

// entries returns the number that a symbol palette declares, -1 for none.
func (r *reader) entries(k kind) int {
	l := r.locator()
	if at, ok := l.key(k, keyEntries); ok {
		line := lex(r.text, at.Start)
		if v, next := digits(r.text, line.value.Start); next == line.value.End {
			return int(v)
		}
	}
	return -1
}

// checkRows reports the first row of a carried section above a limit.
func (r *reader) checkRows(k kind, limit int) {
	for l := range r.locator().keys(k) {
		if row := rowOf(r.text, l); row > limit {
			r.reportBeyond(k, row, l.span(), limit)
			return
		}
	}
}

func (r *reader) indexFinding(section string, index int, at schema.Span, limit int, message string, fixes ...schema.Fix) {
	r.report(schema.FileIndex, lex(r.text, at.Start).span(), message,
		schema.Data{{Key: "section", Value: section}, {Key: "index", Value: index}, {Key: "limit", Value: limit}}, fixes...)
	r.markUnread()
}

// badIndex reports a row with the number 0, or with too many digits.
func (r *reader) badIndex(l line, name []byte) {
	if r.kind.isWeave() {
		r.markUnclear(schema.FileIndex)
	}
	if len(bytes.Trim(name, "0")) == 0 {
		r.addZeroRow(l)
		return
	}
	section := sections[r.kind].name
	if r.merge(similar{schema.FileIndex, r.kind, "far"}, l.span(), true, commentOut(l.start).Edits...) {
		return
	}
	index, err := strconv.Atoi(string(name))
	if err != nil {
		index = int(^uint(0) >> 1)
	}
	limit := r.tables[r.kind].listed + schema.MostExtraRows
	row := fmt.Sprintf("row %s of section %s", wording.Plain(string(name), 30), section)
	r.indexFinding(section, index, l.span(), limit,
		schema.TooLargeNumber(row, limit, "correct it, or delete the row"), risky(commentOut(l.start)))
}

// reportBeyond reports a row after the last one that its section can have.
func (r *reader) reportBeyond(k kind, index int, at schema.Span, limit int, fixes ...schema.Fix) {
	if r.merge(similar{schema.FileIndex, k, "outside"}, at, true) {
		return
	}
	section := sections[k].name
	effect := "ignores it"
	if sections[k].form == formVerbatim {
		effect = "keeps it unread"
	}
	message := fmt.Sprintf("row %d of section %s comes after the last of %s, so fettle %s; delete it, or declare more",
		index, section, wording.Counted(limit, threadOf(k)), effect)
	switch k {
	case kindColorTable:
		message = fmt.Sprintf("COLOR PALETTE has Entries=%d, but there is a color %d; raise Entries", limit, index)
	case kindWarpSymbolTable, kindWeftSymbolTable:
		message = fmt.Sprintf("the palette of section %s has Entries=%d, but there is a row %d; raise Entries", section, limit, index)
	}
	r.indexFinding(section, index, at, limit, message, fixes...)
	if k == kindColorTable || sections[k].form == formVerbatim {
		r.clearUnread()
	}
}

// threadOf names the threads that the rows of a section belong to.
func threadOf(k kind) string {
	if strings.HasPrefix(sections[k].name, "WARP") {
		return "end"
	}
	return "pick"
}

// problems returns the functions that report rows of a section that can't be placed.
func (r *reader) problems(k kind) problems {
	return problems{
		duplicate: func(index int32, at schema.Span, same bool) { r.duplicateRow(k, index, at, same) },
		tooHigh: func(index int32, at schema.Span, limit int) {
			l := lex(r.text, at.Start)
			if k.isWeave() {
				r.markUnclear(schema.FileIndex)
			}
			if r.merge(similar{schema.FileIndex, k, "far"}, l.span(), true, r.commentOutKey(l).Edits...) {
				return
			}
			row := fmt.Sprintf("row %d of section %s", index, sections[k].name)
			r.indexFinding(sections[k].name, int(index), at, limit,
				schema.TooLargeNumber(row, limit, "correct it, or delete the row"), risky(r.commentOutKey(l)))
		},
	}
}

// zeroRow holds the rows numbered 0 of a section.
type zeroRows struct {
	line  line
	edits []schema.Edit // turn the rows into comments
}

// reportZeroRows reports rows numbered 0, and tables that count from 0.
func (r *reader) reportZeroRows() {
	if r.zeros == ([kinds]*zeroRows{}) && r.zeroInList == ([kinds]bool{}) {
		return
	}
	rows, numbers := r.rowsFromZero(), r.numbersFromZero()
	for k := range kinds {
		if z := r.zeros[k]; z != nil && !rows[k] {
			r.reportSingleZero(k, z)
		}
	}
	if rows == ([kinds]bool{}) && numbers == ([kinds]bool{}) {
		return
	}
	r.markUnclear(schema.FileIndex)
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
	message := wording.Listed(names) + wording.Plural(len(names), " counts", " count") + " from 0, but WIF counts from 1, so fettle reads a different cloth; count from 1"
	var fixes []schema.Fix
	if edits, ok := r.renumberFromOne(rows, numbers); ok {
		fixes = append(fixes, schema.Fix{Title: "number " + wording.Listed(names) + " from 1", Risky: true, Changes: true, Edits: edits})
	}
	r.indexFinding(sections[first].name, 0, at, r.rowLimit(first), message, fixes...)
}

// reportSingleZero reports a row numbered 0 in a table that lacks no other row.
func (r *reader) reportSingleZero(k kind, z *zeroRows) {
	r.indexFinding(sections[k].name, 0, z.line.span(), r.tables[k].listed+schema.MostExtraRows,
		"rows count from 1, so fettle skips row 0 of section "+sections[k].name+"; correct its number, or delete it",
		schema.Fix{Title: "make it a comment", Risky: true, Edits: z.edits})
}

// rowsFromZero returns which sections number their rows from 0: those that have a row
// 0 and lack the last row. If the threading or treadling does, so do the tables of its
// threads, even without a row 0.
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
		if with && sections[k].form != formVerbatim && lacksLast(k) {
			from[k] = true
		}
	}
	return from
}

// numbersFromZero returns which sections count shafts, treadles or colors from 0.
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

// namesShaftsFromZero reports whether shafts count from 0: an end is on shaft 0, none
// is on the last shaft, and a row of the tie-up or lift plan has 0 among other shafts.
// A 0 alone usually means no shaft.
func (r *reader) namesShaftsFromZero() bool {
	d := r.draft
	if !r.zeroInList[kindTieup] && !r.zeroInList[kindLiftPlan] || r.emptyRows(kindThreading) == 0 {
		return false
	}
	shafts := r.numberLimit(kindThreading)
	return shafts == 0 || max(d.Threading.Highest(), d.Tieup.Highest(), d.LiftPlan.Highest()) < shafts
}

// emptyRows counts the rows of a section that only have a 0, including row 0.
func (r *reader) emptyRows(k kind) (count int) {
	if z := r.zeros[k]; z != nil && r.str(z.line.value) == "0" {
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

// renumberFromOne returns the edits that make the rows, and the numbers, of sections
// count from 1. ok is false if one of them is unreadable.
func (r *reader) renumberFromOne(rows, numbers [kinds]bool) (edits []schema.Edit, ok bool) {
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
				p := listedNumbers(r.text, at, nil)
				if len(p.numbers) == 0 || p.separator != 0 && p.separator != ',' {
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

// addZeroRow keeps a row numbered 0 until the whole file has been read.
func (r *reader) addZeroRow(l line) {
	if r.zeros[r.kind] == nil {
		r.zeros[r.kind] = &zeroRows{line: l}
	}
	z := r.zeros[r.kind]
	z.edits = append(z.edits, commentOut(l.start).Edits...)
}
