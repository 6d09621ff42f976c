package wif

import "fettle/schema"

// This file looks for rows beyond the threads, or the entries of a palette, that
// they belong to.

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
			leave.Edits = append(leave.Edits, commentOut(row.Start).Edits...)
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
