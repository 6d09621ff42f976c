// Package sheet writes the dressing sheet that a weaver takes to the loom: the steps of
// the work in order, with the figures of the plan.
//
// A sheet is built once, from sentences, tables, boxes to tick and the drawing. Text,
// HTML and PDF only lay it out.
package sheet

import (
	"cmp"
	"fmt"
	"strings"

	"fettle/formats/diagram"
	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

// Options says how to lay out a sheet. The zero value puts end 1 at the right, on A4.
type Options struct {
	// End1Left puts end 1 at the left edge of the loom. Ends keep their numbers from the
	// draft, so the cloth is the mirror image of the one with end 1 at the right.
	End1Left bool
	Paper    diagram.Page
}

// sheet is a dressing sheet before it is laid out.
type sheet struct {
	title string
	facts table // what is woven, a line each
	steps []step
}

// step is one step of the work.
type step struct {
	id    string // the plan's JSON name for the step; "" if it isn't work at the loom
	title string
	parts []part
}

// part is a part of a step: a paragraph, a table, boxes or a drawing.
type part struct {
	say     string           // a paragraph
	onPaper bool             // the paragraph is about the sheet itself
	atLoom  string           // what replaces such a paragraph without the sheet; "" for nothing
	leads   bool             // the paragraph stays on the same page as the next part
	table   *table           // figures
	ticks   []string         // boxes to tick, by their labels
	drawing *diagram.Picture // of the draft
}

// table holds rows of figures under headings. A column without text isn't shown. Cells
// may hold several lines.
type table struct {
	heads []string
	right []bool // columns aligned to the right; may be shorter than heads
	large bool   // large type, to be read at the loom from a distance
	even  bool   // the last column is in a monospaced font
	whole bool   // with even: its lines don't wrap
	rows  [][]string
}

func (t *table) add(cells ...string) { t.rows = append(t.rows, cells) }

func (s *step) say(format string, args ...any) {
	s.parts = append(s.parts, part{say: fmt.Sprintf(format, args...)})
}

// insteadAtLoom marks the last paragraph as one about the sheet itself, and gives the words
// for a weaver who reads the step without the sheet; "" for none.
func (s *step) insteadAtLoom(words string) {
	last := &s.parts[len(s.parts)-1]
	last.onPaper, last.atLoom = true, words
}

// introduce adds a paragraph that stays on the same page as the next part.
func (s *step) introduce(format string, args ...any) {
	s.parts = append(s.parts, part{say: fmt.Sprintf(format, args...), leads: true})
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

// work writes the steps.
type work struct {
	plan  *dressing.Plan
	units measure.Units
	o     Options
}

func workOf(p *dressing.Plan, o Options) *work { return &work{p, p.Units, o} }

// of builds the sheet: facts, yarn, numbered steps, assumptions, and the drawing.
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

// leads reports whether a part stays on the same page as the next one: an introduction, a
// sentence with its table, boxes or drawing, and a table with its boxes.
func (s *step) leads(i int) bool {
	if i+1 == len(s.parts) {
		return false
	}
	next := s.parts[i+1]
	return s.parts[i].leads || s.parts[i].say != "" && next.say == "" || s.parts[i].table != nil && next.ticks != nil
}

// shown returns the columns with text in any row.
func (t *table) shown() []int {
	var list []int
	for i, width := range widthsOf(t) {
		if width > 0 {
			list = append(list, i)
		}
	}
	return list
}

// bound reports for each row whether it stays on the same page as the next one. A group
// of the threading stays with its tally, and a weft color with its first pick.
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

// fewRows is the smallest number of rows of a long table on one page.
const fewRows = 6

// nearEdge reports whether row i of n, from 0, stays with the next one to keep at least
// fewRows rows on a page.
func nearEdge(i, n, lanes int) bool { return i+1 < fewRows*lanes || i+1 > n-fewRows*lanes }

// A narrow table is laid out in lanes side by side: at most maxLanes, each with at least
// minLaneRows rows.
const maxLanes, minLaneRows = 3, 6

// piecesApart separates the pieces of a line read at the loom.
const piecesApart = "   "

// drawingTitle is the heading above the drawing.
const drawingTitle = "The draft"

// drawing draws the part of the draft that is legible on one page, and says which part
// that is.
func (w *work) drawing() step {
	s := step{title: drawingTitle}
	wide, high := w.o.Paper.Size()
	const words = 35 // millimetres for the heading and the sentences
	o := diagram.Options{Bare: true}
	if w.o.End1Left {
		o.End1 = diagram.Left
	}
	d := w.plan.Figures.Draft
	room := high - 2*margin - foot - words
	picture, err := diagram.Fit(d, o, wide-2*margin, room)
	if small, _ := diagram.Fit(d, o, wide-2*margin, room/2); small != nil && err == nil && small.Of == picture.Of && picture.Of != diagram.Beginning {
		picture = small // half a page shows as much, and leaves room for other steps
	}
	if err != nil {
		if d.Ends()*d.Picks() > 0 {
			s.say("fettle can't draw this draft here: %s.", err)
		}
		return s
	}
	all := fmt.Sprintf("%s and %s", counted(d.Ends(), "end"), counted(d.Picks(), "pick"))
	switch drawn := fmt.Sprintf("ends %s and picks %s", span(1, picture.Ends), span(1, picture.Picks)); picture.Of {
	case diagram.WholeDraft:
		s.say("The whole draft: %s.", all)
	case diagram.AllColors, diagram.OneRepeat:
		if w.severalRepeats(picture) {
			s.say("Several repeats of the weave, to show every color: %s. The whole draft has %s.", drawn, all)
			break
		}
		s.say("One repeat of the weave: %s. The whole draft has %s.", drawn, all)
	default:
		s.say("One repeat is too large to read on a page. This is its beginning: %s. The whole draft has %s; to draw it all, run fettle convert --to pdf --whole.", drawn, all)
	}
	if beyond := w.colorsBeyond(picture); beyond != "" {
		s.say("The drawing doesn't reach %s.", beyond)
	}
	side, _ := w.sides()
	reading := "In the cloth, a mark means warp up. End 1 is at the " + side + ", pick 1 at the top."
	if d.Shed == schema.Sinking {
		reading += " The shafts marked for a pick go down."
	}
	s.say("%s", reading)
	s.parts = append(s.parts, part{drawing: picture})
	return s
}

// severalRepeats reports whether a picture has more than one repeat of the weave.
func (w *work) severalRepeats(p *diagram.Picture) bool {
	ends, picks := w.plan.Figures.Cloth().Repeat()
	return p.Ends > ends || p.Picks > picks
}

// colorsBeyond names the colors that a picture leaves out, "" for none.
func (w *work) colorsBeyond(p *diagram.Picture) string {
	warp, weft := w.plan.Figures.ColorsBeyond(p.Ends, p.Picks)
	var words []string
	for _, x := range []struct {
		system string
		colors []int
		rows   []dressing.ColorRow
	}{{"warp", warp, w.plan.Warp.ByColor}, {"weft", weft, w.plan.Weft.ByColor}} {
		names := colorNames(x.rows)
		for _, color := range x.colors {
			words = append(words, cmp.Or(names[color], colorNumber(color))+" in the "+x.system)
		}
	}
	if more := len(words) - mostNamed; more > 0 {
		words = append(words[:mostNamed], fmt.Sprintf("%d more colors", more))
	}
	return wording.Listed(words)
}
