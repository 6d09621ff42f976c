package rules

import (
	"strconv"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

var unusedTreadle = lint.Rule{
	ID:    "draft/unused-treadle",
	Title: "a treadle is never pressed",
	Why: "You needn't tie a treadle that no pick presses, which saves crawling under the loom. " +
		"It may also mean that part of the treadling is missing.",
	Counts:  "If the draft declares no number of treadles, fettle looks at all treadles up to the highest it uses. The plain hems of the project press treadles too.",
	Remedy:  "Add the missing picks, or let fettle clean --risky remove the treadle and renumber the rest.",
	Default: schema.Note,
	Faulty:  lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=6\nRising Shed=true\n[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n5=1,3\n6=2,4\n"},
	Fixed:   lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=true\n[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n"},
	SafeOff: "if one tie-up serves several treadlings, each in its own draft",
	Source:  "rule of thumb",
	Data:    []lint.Field{{Key: "treadles", Text: "the treadles that no pick presses"}},
	Fixable: true,
	Weave:   true,
	Check:   checkUnusedTreadle,

	Keys:     []string{},
	Measures: []lint.Measure{{Key: "treadles"}},
}

func checkUnusedTreadle(p *lint.Pass) {
	d := p.Draft
	most := d.Treadles
	if most == 0 {
		most = d.HighestTreadle()
	}
	pressed := pressedTreadles(p)
	treadles := unused(pressed, most)
	if len(treadles) == 0 {
		return
	}
	at := schema.Place{Part: schema.PartTieup, Row: treadles[0]}
	if d.Tieup.Len() < treadles[0] {
		at = schema.Place{Part: schema.PartWeaving, Field: schema.FieldTreadles}
	}
	reportUnused(p, at, "treadle", "pick", treadles, wording.Plural(len(treadles), "is", "are")+" never pressed",
		func(e schema.Editor) []schema.Edit { return removeTreadles(e, d, pressed.Ranks()) })
}

// pressedTreadles returns the treadling and, in another row, the draft's treadles for plain
// hems.
func pressedTreadles(p *lint.Pass) *schema.Rows {
	hem, plain := p.Figures.PlainHem()
	if !plain {
		return &p.Draft.Treadling
	}
	var rows schema.Rows
	for pick := 1; pick <= p.Draft.Treadling.Len(); pick++ {
		rows.Append(p.Draft.Treadling.Row(pick)...)
	}
	for i, treadle := range hem.Treadles {
		if treadle > 0 && !hem.New[i] {
			rows.Append(int32(treadle))
		}
	}
	return &rows
}

// removeTreadles returns the edits that remove all treadles without a rank.
func removeTreadles(e schema.Editor, d *schema.Draft, rank map[int32]int32) []schema.Edit {
	var p patch
	if d.Treadles > 0 {
		p.need(e.Set(schema.Place{Part: schema.PartWeaving, Field: schema.FieldTreadles}, strconv.Itoa(len(rank))))
	}
	for n := 1; n <= d.Tieup.Len(); n++ {
		var edits []schema.Edit
		row := schema.Place{Part: schema.PartTieup, Row: n}
		switch list, changed := ranked([]int32{int32(n)}, rank); {
		case len(list) == 0:
			edits = e.Drop(row)
		case changed:
			edits = e.Renumber(row, int(list[0]))
		default:
			continue
		}
		if len(edits) > 0 || len(d.Tieup.Row(n)) > 0 { // an untied treadle may have no row
			p.need(edits)
		}
	}
	p.setRows(e, schema.PartTreadling, &d.Treadling, rank)
	return p.whole()
}
