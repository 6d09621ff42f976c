package wif

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
)

// This file tells of rows beyond the threads, or the entries of a palette, that
// they belong to, and of those that cannot be believed.

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
	if r.fold(alike{schema.FileIndex, r.kind, "far"}, l.span(), true, commentOut(l.start).Edits...) {
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
	if r.fold(alike{schema.FileIndex, k, "outside"}, at, true) {
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
			if r.fold(alike{schema.FileIndex, k, "far"}, l.span(), true, r.commentOutKey(l).Edits...) {
				return
			}
			row := fmt.Sprintf("row %d of section %s", index, sections[k].name)
			r.indexFinding(sections[k].name, int(index), at, limit,
				schema.Unbelieved(row, limit, "number it right, or take it out"), atRisk(r.commentOutKey(l)))
		},
	}
}
