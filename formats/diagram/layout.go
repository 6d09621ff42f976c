package diagram

import (
	"fmt"
	"math"
	"strconv"

	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/wording"
)

// layout is where everything of a drawing goes, in whole cells.
type layout struct {
	o     Options
	draft *schema.Draft
	cloth *cloth.Cloth
	faces faces
	mm    float64 // side of a cell

	ends, picks      int // drawn
	shafts, treadles int // rows of the threading, columns of the treadling or lift plan
	planned          bool

	threading, sley, warpBar, grid, weftBar, lifts, tieup rect

	caption       []label
	swatches      []swatch
	width, height int
}

// newLayout lays a draft out with cells of a size in millimetres; 0 takes the
// size asked for, or one that suits.
func newLayout(d *schema.Draft, o Options, mm float64) (*layout, error) {
	if err := o.Check(); err != nil {
		return nil, err
	}
	l := &layout{o: o, draft: d, cloth: cloth.Of(d), planned: d.LiftPlan.Len() > 0}
	var err error
	if l.faces, err = newFaces(); err != nil {
		return nil, err
	}
	l.count()
	if err := l.bounded(); err != nil {
		return nil, err
	}
	l.scale(mm)
	return l, nil
}

// scale places everything for cells of that size.
func (l *layout) scale(mm float64) {
	if mm == 0 {
		mm = float64(l.o.Cell)
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
	if l.o.Repeat {
		l.ends, l.picks = l.cloth.Repeat()
	}
	if l.o.Ends > 0 {
		l.ends = min(l.ends, l.o.Ends)
	}
	if l.o.Picks > 0 {
		l.picks = min(l.picks, l.o.Picks)
	}
	l.shafts = max(d.Threading.Highest(), d.Shafts)
	if l.planned {
		l.treadles = max(d.LiftPlan.Highest(), d.Shafts)
	} else {
		l.treadles = max(d.Treadling.Highest(), d.Tieup.Len(), d.Treadles)
		l.shafts = max(l.shafts, d.Tieup.Highest())
	}
	// A declared count that nothing bears out is drawn no wider than the draft.
	const spare = 64
	l.shafts = min(l.shafts, d.HighestShaft()+spare)
	l.treadles = min(l.treadles, max(d.HighestTreadle(), d.LiftPlan.Highest())+spare)
}

// bounded refuses what would be too large a drawing.
func (l *layout) bounded() error {
	cells := float64(l.ends+l.treadles) * float64(l.picks+l.shafts)
	if l.ends == 0 || l.picks == 0 {
		return fmt.Errorf("there is no cloth to draw: the draft has %s and %s; see whether its threading and treadling came over",
			wording.Counted(l.ends, "end"), wording.Counted(l.picks, "pick"))
	}
	if cells > MostCells {
		return fmt.Errorf("the drawing would have %.0f cells, and %d is the most: draw one repeat of it with --repeat", cells, MostCells)
	}
	if n := l.countFloats(); n > mostFloats {
		return fmt.Errorf("%d floats would be outlined, and %d is the most: outline longer ones with --floats, or draw one repeat with --repeat", n, mostFloats)
	}
	return nil
}

// countFloats is how many floats are outlined, or as many as there can be where
// only one repeat is drawn.
func (l *layout) countFloats() int {
	limit := l.o.Floats
	if limit == 0 {
		return 0
	}
	f := l.cloth.Floats(cloth.FloatQuery{Warp: cloth.Measure{LimitThreads: limit}, Weft: cloth.Measure{LimitThreads: limit}})
	all := f.Warp.Face.Over + f.Weft.Face.Over
	if l.o.Back {
		all = f.Warp.Back.Over + f.Weft.Back.Over
	}
	return min(all, 2*l.ends*l.picks/(limit+1))
}

// cells is how many whole cells are needed for a length in millimetres.
func (l *layout) cells(mm float64) int { return int(math.Ceil(mm/l.mm - 1e-9)) }

// place gives every block its rectangle.
func (l *layout) place() {
	around := 6.0
	if l.o.Bare {
		around = 1
	}
	margin, gap, bar := l.cells(around), l.cells(1.2), l.cells(3.2)
	numbers := l.cells(l.numberRoom())
	x := margin + l.cells(l.textMM(strconv.Itoa(l.shafts), numberType)+1.2)
	y := l.top(margin) + l.cells(numberType+0.8) + l.cells(l.markRoom())

	l.threading = rect{x, y, l.ends, l.shafts}
	y = l.threading.bottom() + gap
	if len(l.o.Sley) > 0 {
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

// numberRoom is how wide the numbers of the picks are, in millimetres.
func (l *layout) numberRoom() float64 { return l.textMM(strconv.Itoa(l.picks), numberType) + 1.6 }

// markRoom is how much room the numbers of marks take beyond those of threads.
func (l *layout) markRoom() float64 {
	if len(l.o.Marks) == 0 {
		return 0
	}
	return 2 * (numberType + 0.8)
}

func (l *layout) textMM(text string, size float64) float64 { return l.faces.width(text, false) * size }

// column is where an end is drawn. Turned over, the cloth shows its ends in the
// opposite order.
func (l *layout) column(end int) int {
	if l.fromLeft() {
		return l.grid.x + end - 1
	}
	return l.grid.right() - end
}

// endAt is the end drawn in a column.
func (l *layout) endAt(column int) int {
	if l.fromLeft() {
		return column - l.grid.x + 1
	}
	return l.grid.right() - column
}

// fromLeft says whether end 1 is at the left.
func (l *layout) fromLeft() bool { return (l.o.End1 == Left) != l.o.Back }

// line is the row in which a pick is drawn.
func (l *layout) line(pick int) int {
	if l.o.Pick1 == Bottom {
		return l.grid.bottom() - pick
	}
	return l.grid.y + pick - 1
}

// pickAt is the pick drawn in a row.
func (l *layout) pickAt(y int) int {
	if l.o.Pick1 == Bottom {
		return l.grid.bottom() - y
	}
	return y - l.grid.y + 1
}

// shaftRow is where a shaft is drawn: shaft 1 nearest the cloth.
func (l *layout) shaftRow(shaft int) int { return l.threading.bottom() - shaft }
