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
	"strings"

	"fettle/formats/diagram"
	"fettle/schema"
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
	say     string           // a paragraph
	table   *table           // figures
	ticks   []string         // boxes to tick, by their labels
	drawing *diagram.Picture // of the draft
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

// of builds the sheet: the facts, the yarn to have, the numbered steps, what the
// figures rest on, and the drawing.
func of(p *dressing.Plan, o Options) sheet {
	w := workOf(p, o)
	s := sheet{title: w.title(), facts: w.facts(), steps: []step{w.yarn()}}
	for i, next := range w.work() {
		next.title = fmt.Sprintf("%d. %s", i+1, next.title)
		s.steps = append(s.steps, next)
	}
	for _, last := range []step{w.missing(), w.cautions(), w.drawing()} {
		if len(last.parts) > 0 {
			s.steps = append(s.steps, last)
		}
	}
	return s
}

// leads reports whether a part stays on the page of the next: a sentence with the
// table, boxes or drawing below it, and a table with its boxes.
func (s *step) leads(i int) bool {
	if i+1 == len(s.parts) {
		return false
	}
	next := s.parts[i+1]
	return s.parts[i].say != "" && next.say == "" || s.parts[i].table != nil && next.ticks != nil
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

// bound reports which rows can't be parted from the next: those of a group of the
// threading, up to its tally, and a weft color with its first pick.
func (t *table) bound() []bool {
	list := make([]bool, len(t.rows))
	tallied := 0 // rows up to the last tally
	for i, row := range t.rows {
		if t.large && row[0] == "" {
			tallied = i
		}
		list[i] = t.large && row[0] == strings.TrimSpace(change)
	}
	for i := range tallied {
		list[i] = t.rows[i][0] != ""
	}
	return list
}

// fewRows is how many rows of a table begin it on a page, and end it, at least.
const fewRows = 6

// atEdge reports whether a row of a table of n rows, set in lanes, is one of the few
// that stay with the first or the last.
func atEdge(i, n, lanes int) bool { return i+1 < fewRows*lanes || i+1 > n-fewRows*lanes }

// mostLanes is how many columns a narrow table is set in, side by side, and leastInLane
// how many rows each then has at least.
const mostLanes, leastInLane = 3, 6

// piecesApart is what stands between the pieces of a line to be read at the
// loom.
const piecesApart = "   "

// drawingTitle heads the drawing of the draft.
const drawingTitle = "The draft"

// drawing is the draft as far as it can be read on a page.
func (w *work) drawing() step {
	s := step{title: drawingTitle}
	wide, high := w.o.Paper.Size()
	const words = 35 // millimetres for the heading and the sentences
	o := diagram.Options{Bare: true}
	if w.o.End1Left {
		o.End1 = diagram.Left
	}
	d := w.plan.Draft()
	picture, err := diagram.Fit(d, o, wide-2*margin, high-2*margin-foot-words)
	if err != nil {
		if d.Ends()*d.Picks() > 0 {
			s.say("The draft cannot be drawn here: %s.", err)
		}
		return s
	}
	all := fmt.Sprintf("%s and %s", counted(d.Ends(), "end"), counted(d.Picks(), "pick"))
	switch drawn := fmt.Sprintf("ends %s and picks %s", span(1, picture.Ends), span(1, picture.Picks)); picture.Of {
	case diagram.WholeDraft:
		s.say("The whole draft: %s.", all)
	case diagram.OneRepeat:
		s.say("One repeat of the weave: %s. The whole draft has %s.", drawn, all)
	default:
		s.say("One repeat is too large to read on a page. This is its beginning: %s. The whole draft has %s; fettle draw draws it all.", drawn, all)
	}
	side, _ := w.sides()
	reading := "In the cloth a mark is warp up. End 1 is at the " + side + ", pick 1 at the top."
	if d.Shed == schema.Sinking {
		reading += " The shafts marked for a pick go down."
	}
	s.say("%s", reading)
	s.parts = append(s.parts, part{drawing: picture})
	return s
}
