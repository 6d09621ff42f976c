package wif

import (
	"slices"
	"strconv"

	"fettle/schema"
	"fettle/schema/wording"
)

// This file finds tables that are numbered from 0: by their rows, or by the
// shafts, treadles and colors that they name. Nobody can know it for certain, so
// that they are read as the format has it, and only a risky fix numbers them anew.

// zeroRow is a row numbered 0.
type zeroRow struct {
	line  line
	edits []schema.Edit // that make comments of the rows numbered 0
}

// finishZero reports the rows numbered 0, and the tables that are numbered so.
func (r *reader) finishZero() {
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
