package sheet

import (
	"fettle/formats/diagram"
	"fettle/schema"
	"fettle/schema/cloth"
)

// carried says whether a step is work that has boxes to tick or lines to read
// at the loom.
func (s *step) carried() bool {
	for _, p := range s.parts {
		if p.ticks != nil || p.table != nil && p.table.large {
			return true
		}
	}
	return false
}

// leads says whether a sentence goes with the table or the boxes behind it.
func (s *step) leads(i int) bool {
	return i+1 < len(s.parts) && s.parts[i].say != "" && s.parts[i+1].say == ""
}

// freshAt says whether a step begins a page: what is carried to the loom has
// pages of its own, and short steps between share one.
func (s *sheet) freshAt(i int) bool {
	return i > 0 && (s.steps[i].carried() || s.steps[i-1].carried() && !s.steps[i].after)
}

// shown are the columns of a table that hold something in any row.
func (t *table) shown() []int {
	var list []int
	for i, width := range widthsOf(t) {
		if width > 0 {
			list = append(list, i)
		}
	}
	return list
}

// piecesApart is what stands between the pieces of a line to be read at the
// loom.
const piecesApart = "   "

// mostDrawn is how many threads a drawing on a sheet has in either direction.
const mostDrawn = 120

// drawable says whether one repeat of a draft can be read when it is drawn on a
// page.
func drawable(d *schema.Draft) bool {
	if d == nil {
		return false
	}
	ends, picks := cloth.Of(d).Repeat()
	return ends > 0 && picks > 0 && ends <= mostDrawn && picks <= mostDrawn && d.HighestShaft() <= mostDrawn && d.HighestTreadle() <= mostDrawn
}

func drawingOptions(o Options) diagram.Options {
	return diagram.Options{Repeat: true, Page: o.Paper}
}
