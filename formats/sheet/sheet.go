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
	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/measure"
)

// Options is what a sheet takes beside the plan. The zero value is a sheet in
// metric units, front to back, with end 1 at the right and no lifts.
type Options struct {
	// Draft is the draft of the plan, for the tie-up and for the treadles or
	// shafts of each pick; nil leaves them out.
	Draft *schema.Draft
	// Setup is what the plan was made with, for the weaver's units, the loom and
	// the order of the work; nil knows nothing.
	Setup *schema.Setup
	// End1Left hangs end 1 at the left edge of the loom. The ends keep the
	// numbers they have in the draft; only the sides change, so that the cloth
	// is the mirror image of the one with end 1 at the right.
	End1Left bool
	// Paper is what the sheet is printed on.
	Paper diagram.Page
	// Start is where threading starts, as the plan's groups were asked for.
	Start dressing.Start
}

// sheet is what every form sets out.
type sheet struct {
	title string
	facts table // what is woven, a line each
	steps []step
}

// step is one step of the work.
type step struct {
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
	draft *schema.Draft
	setup *schema.Setup
	units measure.Units
	o     Options
}

func workOf(p *dressing.Plan, o Options) *work {
	w := &work{plan: p, draft: o.Draft, setup: o.Setup, o: o}
	if w.draft == nil {
		w.draft = &schema.Draft{}
	}
	if w.setup == nil {
		w.setup = &schema.Setup{}
	}
	w.units = w.setup.Units
	return w
}

// of builds the sheet: the facts, the yarn to have, the numbered steps, and
// what the figures rest on.
func of(p *dressing.Plan, o Options) sheet {
	w := workOf(p, o)
	s := sheet{title: w.title(), facts: w.facts(), steps: []step{w.yarn()}}
	for i, make := range w.order() {
		next := make()
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

// order is the steps at the loom in the order in which this weaver dresses it.
func (w *work) order() []func() step {
	if w.setup.Project.BackToFront {
		return []func() step{w.wind, w.raddle, w.beam, w.thread, w.sley, w.tieOn, w.weave}
	}
	return []func() step{w.wind, w.sley, w.thread, w.beam, w.tieOn, w.weave}
}
