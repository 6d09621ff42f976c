package diagram

import (
	"fmt"
	"math"
	"strconv"

	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/wording"
)

// layout holds the place of everything in a drawing, in whole cells.
type layout struct {
	options Options
	draft   *schema.Draft
	cloth   *cloth.Cloth
	faces   faces
	mm      float64 // size of a cell

	ends, picks      int // in the drawing
	shafts, treadles int // rows of the threading, columns of the treadling or lift plan
	planned          bool

	threading, sley, warpBar, grid, weftBar, lifts, tieup rect

	caption       []label
	swatches      []swatch
	width, height int
}

// newLayout lays out a draft with cells of mm millimetres; 0 takes the size in the options,
// or a suitable one.
func newLayout(d *schema.Draft, o Options, mm float64) (*layout, error) {
	if err := o.Check(); err != nil {
		return nil, err
	}
	l := &layout{options: o, draft: d, cloth: cloth.Of(d), planned: d.LiftPlan.Len() > 0}
	var err error
	if l.faces, err = newFaces(); err != nil {
		return nil, err
	}
	l.count()
	if err := l.checkSize(); err != nil {
		return nil, err
	}
	l.scale(mm)
	return l, nil
}

// scale places everything for a cell size.
func (l *layout) scale(mm float64) {
	if mm == 0 {
		mm = float64(l.options.Cell)
	}
	if mm == 0 {
		mm = cellFor(max(l.ends+l.treadles, l.picks+l.shafts))
	}
	l.mm = mm
	l.place()
}

func (l *layout) count() {
	d := l.draft
	l.ends, l.picks = l.cloth.Ends(), l.cloth.Picks()
	if l.options.Repeat {
		l.ends, l.picks = l.cloth.Repeat()
	}
	if l.options.Ends > 0 {
		l.ends = min(l.ends, l.options.Ends)
	}
	if l.options.Picks > 0 {
		l.picks = min(l.picks, l.options.Picks)
	}
	l.shafts = max(d.Threading.Highest(), d.Shafts)
	if l.planned {
		l.treadles = max(d.LiftPlan.Highest(), d.Shafts)
	} else {
		l.treadles = max(d.Treadling.Highest(), d.Tieup.Len(), d.Treadles)
		l.shafts = max(l.shafts, d.Tieup.Highest())
	}
	// A high declared count doesn't make the drawing much wider than the draft.
	const spare = 64
	l.shafts = min(l.shafts, d.HighestShaft()+spare)
	l.treadles = min(l.treadles, max(d.HighestTreadle(), d.LiftPlan.Highest())+spare)
}

// checkSize returns an error for a drawing that is empty or too large.
func (l *layout) checkSize() error {
	cells := float64(l.ends+l.treadles) * float64(l.picks+l.shafts)
	if l.ends == 0 || l.picks == 0 {
		return fmt.Errorf("there is no cloth to draw, because the draft has %s and %s; check that its threading and treadling are complete",
			wording.Counted(l.ends, "end"), wording.Counted(l.picks, "pick"))
	}
	if cells > MostCells {
		return fmt.Errorf("the drawing would have %.0f cells (limit %d); draw one repeat with --repeat", cells, MostCells)
	}
	if n := l.countFloats(); n > maxFloats {
		return fmt.Errorf("the drawing would outline %d floats (limit %d); outline longer ones with --floats, or draw one repeat with --repeat", n, maxFloats)
	}
	return nil
}

// countFloats returns how many floats are outlined. For one repeat, this is an upper bound.
func (l *layout) countFloats() int {
	limit := l.options.Floats
	if limit == 0 {
		return 0
	}
	f := l.cloth.Floats(cloth.FloatQuery{Warp: cloth.Measure{LimitThreads: limit}, Weft: cloth.Measure{LimitThreads: limit}})
	all := f.Warp.Face.Over + f.Weft.Face.Over
	if l.options.Back {
		all = f.Warp.Back.Over + f.Weft.Back.Over
	}
	return min(all, 2*l.ends*l.picks/(limit+1))
}

// cells returns how many whole cells a length in millimetres takes.
func (l *layout) cells(mm float64) int { return int(math.Ceil(mm/l.mm - 1e-9)) }

// place sets the rectangle of every block.
func (l *layout) place() {
	around := 6.0
	if l.options.Bare {
		around = 1
	}
	margin, gap, bar := l.cells(around), l.cells(1.2), l.cells(3.2)
	numbers := l.cells(l.numberRoom())
	x := margin + l.cells(l.textMM(strconv.Itoa(l.shafts), numberType)+1.2)
	y := l.layCaption(margin) + l.cells(numberType+0.8) + l.cells(l.markRoom())

	l.threading = rect{x, y, l.ends, l.shafts}
	y = l.threading.bottom() + gap
	if len(l.options.Sley) > 0 {
		l.sley = rect{x, y, l.ends, l.cells(2)}
		y = l.sley.bottom() + gap
	}
	l.warpBar = rect{x, y, l.ends, bar}
	y = l.warpBar.bottom() + gap
	l.grid = rect{x, y, l.ends, l.picks}
	l.weftBar = rect{l.grid.right() + gap, y, bar, l.picks}
	l.lifts = rect{l.weftBar.right() + gap, y, l.treadles, l.picks}
	if !l.planned {
		l.tieup = rect{l.lifts.x, l.threading.y, l.treadles, l.shafts}
	}
	l.width = max(l.lifts.right()+numbers+l.cells(l.markRoom()), l.captionWidth()) + margin
	l.height = l.grid.bottom() + margin
}

// numberRoom returns the width of the picks' numbers in millimetres.
func (l *layout) numberRoom() float64 { return l.textMM(strconv.Itoa(l.picks), numberType) + 1.6 }

// markRoom returns the room for the numbers of marks in millimetres.
func (l *layout) markRoom() float64 {
	if len(l.options.Marks) == 0 {
		return 0
	}
	return 2 * (numberType + 0.8)
}

func (l *layout) textMM(text string, size float64) float64 { return l.faces.width(text, false) * size }

// column returns the column of an end. The back shows the ends in the opposite order.
func (l *layout) column(end int) int {
	if l.fromLeft() {
		return l.grid.x + end - 1
	}
	return l.grid.right() - end
}

// endAt returns the end in a column.
func (l *layout) endAt(column int) int {
	if l.fromLeft() {
		return column - l.grid.x + 1
	}
	return l.grid.right() - column
}

// fromLeft reports whether end 1 is at the left.
func (l *layout) fromLeft() bool { return (l.options.End1 == Left) != l.options.Back }

// line returns the row of a pick.
func (l *layout) line(pick int) int {
	if l.options.Pick1 == Bottom {
		return l.grid.bottom() - pick
	}
	return l.grid.y + pick - 1
}

// pickAt returns the pick in a row.
func (l *layout) pickAt(y int) int {
	if l.options.Pick1 == Bottom {
		return l.grid.bottom() - y
	}
	return y - l.grid.y + 1
}

// shaftRow returns the row of a shaft. Shaft 1 is nearest to the cloth.
func (l *layout) shaftRow(shaft int) int { return l.threading.bottom() - shaft }
