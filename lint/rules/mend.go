package rules

import (
	"strconv"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

// offer adds a fix to the finding reported last, where the file's format can be
// brought to say it by edits.
func offer(p *lint.Pass, title string, risky bool, edits func(schema.Editor) []schema.Edit) {
	offerFix(p, schema.Fix{Title: title, Risky: risky}, edits)
}

// offerChange is offer for a fix after which the draft is another, as it was
// most likely meant.
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

// gapHolds are rules that are not run where a thread has no shafts, no shed or no
// treadle: what they find there follows from the gap.
var gapHolds = []string{"draft/partial-repeat", "draft/unused-shaft", "draft/unused-treadle", "cloth/long-float", "cloth/loose-selvedge"}

// declare offers to put a number that the draft declares right.
func declare(p *lint.Pass, at schema.Place, number int, risky bool) {
	n := strconv.Itoa(number)
	offer(p, "declare "+n, risky, func(e schema.Editor) []schema.Edit { return e.Set(at, n) })
}

// reportUnused reports shafts, or treadles, that nothing uses, and offers to number
// the others without them.
func reportUnused(p *lint.Pass, at schema.Place, noun string, list []int, why string, edits func(schema.Editor) []schema.Edit) {
	names := wording.Numbered(noun, list)
	p.Report(at, schema.Data{{Key: noun + "s", Value: list}},
		"%s %s, or leave %s out and number the others anew, as fettle clean --risky does", names, why, wording.Plural(len(list), "it", "them"))
	offer(p, "leave "+names+" out, and number the others anew", true, edits)
}

// ranks numbers anew those of the numbers from 1 up that rows name: 0 for those
// that they do not. It gives how many they name, too.
func ranks(rows *schema.Rows) (rank []int32, count int) {
	rank = make([]int32, rows.Highest()+1)
	for _, n := range rows.Different() {
		count++
		rank[n] = int32(count)
	}
	return rank, count
}

// ranked is a row with its numbers as ranks has them, those without one left
// out, and whether that is another row.
func ranked(row, rank []int32) (list []int32, changed bool) {
	for _, n := range row {
		if int(n) < len(rank) && rank[n] > 0 {
			list = append(list, rank[n])
			changed = changed || rank[n] != n
		} else {
			changed = true
		}
	}
	return list, changed
}

// patch is edits that only mend together.
type patch struct {
	edits  []schema.Edit
	broken bool // one of them cannot be made
}

// need adds edits without which the others are not to be made.
func (p *patch) need(edits []schema.Edit) {
	p.broken = p.broken || len(edits) == 0
	p.edits = append(p.edits, edits...)
}

// whole is all edits, or none.
func (p *patch) whole() []schema.Edit {
	if p.broken {
		return nil
	}
	return p.edits
}

// setRows numbers anew what the rows of a part name.
func (p *patch) setRows(e schema.Editor, part schema.Part, rows *schema.Rows, rank []int32) {
	for n := 1; n <= rows.Len(); n++ {
		if list, changed := ranked(rows.Row(n), rank); changed {
			p.need(e.SetRow(schema.Place{Part: part, Row: n}, list))
		}
	}
}
