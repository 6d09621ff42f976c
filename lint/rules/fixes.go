package rules

import (
	"strconv"

	"fettle/lint"
	"fettle/schema"
)

// offer adds a fix to the last finding, if the file's format has an editor.
func offer(p *lint.Pass, title string, risky bool, edits func(schema.Editor) []schema.Edit) {
	offerFix(p, schema.Fix{Title: title, Risky: risky}, edits)
}

// offerChange offers a fix that changes the draft to what it most likely should be.
func offerChange(p *lint.Pass, title string, edits func(schema.Editor) []schema.Edit) {
	offerFix(p, schema.Fix{Title: title, Risky: true, Changes: true}, edits)
}

func offerFix(p *lint.Pass, f schema.Fix, edits func(schema.Editor) []schema.Edit) {
	if e := p.Editor(); e != nil {
		if f.Edits = edits(e); len(f.Edits) > 0 {
			p.Fix(f)
		}
	}
}

// blockedByGap lists the rules that don't run if a thread has no shaft, shed or treadle:
// their findings would only follow from that.
var blockedByGap = []string{"draft/partial-repeat", "draft/slip", "draft/doubled-thread", "draft/broken-plain-weave", "draft/unused-shaft", "draft/unused-treadle", "cloth/long-float", "cloth/loose-selvedge"}

// declare offers to correct a number that the draft declares.
func declare(p *lint.Pass, at schema.Place, number int, risky bool) {
	n := strconv.Itoa(number)
	offer(p, "declare "+n, risky, func(e schema.Editor) []schema.Edit { return e.Set(at, n) })
}

// ranked returns a row with its new numbers, without those that have none, and
// whether that changes the row.
func ranked(row []int32, rank map[int32]int32) (list []int32, changed bool) {
	for _, n := range row {
		if rank[n] > 0 {
			list = append(list, rank[n])
		}
		changed = changed || rank[n] != n
	}
	return list, changed
}

// patch collects edits that are only right together.
type patch struct {
	edits  []schema.Edit
	broken bool // one of them is impossible
}

// need adds edits. If there are none, the whole patch is impossible.
func (p *patch) need(edits []schema.Edit) {
	p.broken = p.broken || len(edits) == 0
	p.edits = append(p.edits, edits...)
}

// whole returns all edits, or none if one is impossible.
func (p *patch) whole() []schema.Edit {
	if p.broken {
		return nil
	}
	return p.edits
}

// setRows renumbers what the rows of a part name.
func (p *patch) setRows(e schema.Editor, part schema.Part, rows *schema.Rows, rank map[int32]int32) {
	for n := 1; n <= rows.Len(); n++ {
		if list, changed := ranked(rows.Row(n), rank); changed {
			p.need(e.SetRow(schema.Place{Part: part, Row: n}, list))
		}
	}
}
