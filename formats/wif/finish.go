package wif

import (
	"fmt"

	"fettle/schema"
	"fettle/schema/wording"
)

// finish does what needs the whole file: puts rows in place, decides which
// counts to believe, and compares CONTENTS with what is there.
func (r *reader) finish() {
	r.finishCounts()
	r.finishTyped()
	r.finishTables()
	r.finishMeasures()
	r.finishPalette()
	r.finishZero()
	r.finishIgnores()
	r.broken = r.breaksOff()
	r.finishTwice()
	r.finishContents()
	r.missing()
	r.flushAll()
	if r.broken != "" {
		r.tellEnd()
	}
}

// rowsOf is how many rows are listed of what a declared count counts.
func (r *reader) rowsOf(k kind, target *int) int {
	switch {
	case k == kindColorPalette:
		return len(r.colors)
	case k == kindWarp:
		return r.tables[kindThreading].listed
	case k == kindWeft:
		return max(r.tables[kindTreadling].listed, r.tables[kindLiftPlan].listed)
	case target == &r.draft.Treadles:
		return r.tables[kindTieup].listed
	}
	return r.tables[kindThreading].listed
}

// finishCounts takes over the declared counts that can be believed.
func (r *reader) finishCounts() {
	for _, c := range r.counts {
		limit := r.rowsOf(c.kind, c.target) + schema.Belief
		if c.value <= limit {
			*c.target = c.value
			continue
		}
		name := string(r.text[c.line.name.Start:c.line.name.End])
		what := fmt.Sprintf("%s=%d", wording.Plain(name, 30), c.value)
		r.indexFinding(sections[c.kind].name, c.value, c.line.span(), limit,
			schema.Unbelieved(what, limit, "put it right"), atRisk(r.commentOutKey(c.line)))
	}
}

func (r *reader) finishTables() {
	d := r.draft
	for k := range r.tables {
		t := &r.tables[k]
		if t.listed > 0 && t.listed == t.rows.Len() {
			r.inOrder |= 1 << k
		}
		if len(t.late) > 0 {
			t.settle(r.problems(kind(k)))
		}
	}
	r.inOrder &^= r.anewIn
	for _, t := range r.twice {
		r.inOrder &^= 1 << r.parts[t.part].kind
	}
	d.Threading = r.tables[kindThreading].rows
	d.Tieup = r.tables[kindTieup].rows
	d.Treadling = r.tables[kindTreadling].rows
	d.LiftPlan = r.tables[kindLiftPlan].rows
	d.Notes = settled(r.notes, r.problems(kindNotes))
	ends, picks := d.Ends(), d.Picks()
	d.Warp.Colors = r.colorNumbers(kindWarpColors, ends)
	d.Weft.Colors = r.colorNumbers(kindWeftColors, picks)
	d.Warp.Spacings = r.measures(kindWarpSpacing, ends)
	d.Weft.Spacings = r.measures(kindWeftSpacing, picks)
	d.Warp.Thicknesses = r.measures(kindWarpThickness, ends)
	d.Weft.Thicknesses = r.measures(kindWeftThickness, picks)
	d.Warp.Trim()
	d.Weft.Trim()
	r.checkCarried(ends, picks)
}

// colorNumbers is a table of palette numbers, one a thread, as far as there are
// threads.
func (r *reader) colorNumbers(k kind, threads int) []int32 {
	rows := &r.tables[k].rows
	if rows.Len() == 0 {
		return nil
	}
	r.checkLength(k, rows.Len(), threads)
	known := min(rows.Len(), threads)
	if list, ok := rows.Single(); ok {
		return list[:known:known]
	}
	list := make([]int32, known)
	for n := range list {
		if row := rows.Row(n + 1); len(row) > 0 {
			list[n] = row[0]
		}
	}
	return list
}

func (r *reader) measures(k kind, threads int) []float64 {
	list := settled(r.decimals[k], r.problems(k))
	r.checkLength(k, len(list), threads)
	return list[:min(len(list), threads)]
}

// finishIgnores turns the sections that ignore comments stand in into spans, now
// that their ends are known.
func (r *reader) finishIgnores() {
	for i := range r.draft.Ignores {
		g := &r.draft.Ignores[i]
		n := -g.Section.Start
		g.Section = schema.Span{}
		if n > 0 {
			g.Section = schema.Span{Start: r.parts[n].header.Start, End: r.parts[n].end}
		}
	}
}
