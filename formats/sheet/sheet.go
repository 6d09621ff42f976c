// Package sheet writes the dressing sheet: what a weaver carries to the loom,
// step by step in the order of the work, with every figure that could be worked
// out.
//
// A sheet is built once, as steps with sentences, tables and boxes to tick, and
// each form only sets it out. Nothing is worked out here: the figures are those
// of the plan.
package sheet

import (
	"fmt"

	"fettle/formats/diagram"
	"fettle/schema/dressing"
	"fettle/schema/measure"
)

// Options is how a sheet is laid out. The zero value has end 1 at the right.
type Options struct {
	// End1Left has end 1 at the left edge of the loom. The ends keep the
	// numbers they have in the draft; only the sides change, so that the cloth
	// is the mirror image of the one with end 1 at the right.
	End1Left bool
	// Paper is what the sheet is printed on.
	Paper diagram.Page
}

// sheet is what every form sets out.
type sheet struct {
	title string
	facts table // what is woven, a line each
	steps []step
}

// step is one step of the work.
type step struct {
	id    string // as the plan's JSON names it; empty for what isn't work at the loom
	title string
	parts []part
}

// part is a piece of a step: just one of its fields is set.
type part struct {
	say   string   // a paragraph
	table *table   // figures
	ticks []string // boxes to tick, by their labels
}

// table is rows of figures under headings. A column that is empty in every row
// is not shown. Cells may hold several lines.
type table struct {
	heads []string
	right []bool // columns of numbers, set to the right; may be shorter
	large bool   // read at the loom, from a distance
	even  bool   // the last column has lines set out in type of even width
	whole bool   // and they are not to be broken
	rows  [][]string
}

func (t *table) add(cells ...string) { t.rows = append(t.rows, cells) }

func (s *step) say(format string, args ...any) {
	s.parts = append(s.parts, part{say: fmt.Sprintf(format, args...)})
}

// tabulate adds a table, unless it has no rows.
func (s *step) tabulate(t table) {
	if len(t.rows) > 0 {
		s.parts = append(s.parts, part{table: &t})
	}
}

// tick adds boxes, unless there are none.
func (s *step) tick(labels []string) {
	if len(labels) > 0 {
		s.parts = append(s.parts, part{ticks: labels})
	}
}

// work is what the steps are made from.
type work struct {
	plan  *dressing.Plan
	units measure.Units
	o     Options
}

func workOf(p *dressing.Plan, o Options) *work { return &work{p, p.Units, o} }

// of builds the sheet: the facts, the yarn to have, the numbered steps, and
// what the figures rest on.
func of(p *dressing.Plan, o Options) sheet {
	w := workOf(p, o)
	s := sheet{title: w.title(), facts: w.facts(), steps: []step{w.yarn()}}
	for i, next := range w.work() {
		next.title = fmt.Sprintf("%d. %s", i+1, next.title)
		s.steps = append(s.steps, next)
	}
	for _, last := range []step{w.missing(), w.cautions()} {
		if len(last.parts) > 0 {
			s.steps = append(s.steps, last)
		}
	}
	return s
}

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

// mostDrawn is how many threads a drawing on a sheet has in either direction, so
// that it can be read on a page.
const mostDrawn = 120

func drawingOptions(o Options) diagram.Options {
	return diagram.Options{Repeat: true, Page: o.Paper}
}
