package sheet

import (
	"fettle/formats/diagram"
	"fettle/schema"
	"fettle/schema/cloth"
)

// mostTogether is how many lines a step has that a browser is asked not to break
// when it prints.
const mostTogether = 30

// short says whether a step is to stay on one page.
func (s *step) short() bool {
	lines := 0
	for _, p := range s.parts {
		lines += 1 + len(p.ticks)/4
		if p.table != nil {
			lines += len(p.table.rows)
		}
	}
	return lines <= mostTogether
}

// leads says whether a sentence goes with the table or the boxes behind it.
func (s *step) leads(i int) bool {
	return i+1 < len(s.parts) && s.parts[i].say != "" && s.parts[i+1].say == ""
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

// groups are the rows of a table by what belongs together: up to each row that
// goes on from the one above, all of them where there is none.
func (t *table) groups() [][][]string {
	var list [][][]string
	from := 0
	for i, row := range t.rows {
		if t.large && row[0] == "" {
			list, from = append(list, t.rows[from:i+1]), i+1
		}
	}
	if from < len(t.rows) {
		list = append(list, t.rows[from:])
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
