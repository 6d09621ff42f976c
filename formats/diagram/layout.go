package diagram

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/wording"
)

// layout holds the place of everything in a drawing, in whole cells of the cloth. Parts
// without the cloth have larger cells: a cell there is a whole number of small ones, so that
// the gaps between the parts stay small.
type layout struct {
	options Options
	draft   *schema.Draft
	cloth   *cloth.Cloth
	faces   faces
	mm      float64 // size of a cell
	finer   int     // cells in a cell of the size that the options ask for

	firstEnd, firstPick int // drawn
	ends, picks         int // in the drawing
	shafts, treadles    int // rows of the threading, columns of the treadling or lift plan
	tied                int // columns of the tie-up
	planned             bool
	folded              folded // what repeats in one repeat instead of many pages

	threading, sley, warpBar, grid, weftBar, lifts, tieup block

	colors      []int // palette numbers in use, ascending
	letters     map[int]string
	warpLetters []letter
	weftLetters []letter
	stacked     []strip // lines of a threading, or columns of a treadling; the rest is in them
	stripCount  int     // in a line or column: how many there are
	continues   bool    // in a line or column: it isn't the first

	caption       []label
	swatches      []swatch
	width, height int
}

// block is a table of cells. It is empty if it isn't drawn.
type block struct {
	rect
	cell int // the side of its cells, in cells of the cloth
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
	if err := l.checkParts(); err != nil {
		return nil, err
	}
	l.blocks()
	if err := l.checkSize(); err != nil {
		return nil, err
	}
	l.nameColors()
	l.scale(mm)
	return l, nil
}

// scale places everything for a cell size; 0 takes the size in the options, or a suitable one.
func (l *layout) scale(mm float64) {
	if mm == 0 {
		mm = float64(l.options.Cell)
	}
	if mm == 0 {
		mm = l.options.cellFor(max(l.cellsAcross(), l.cellsDown()) / l.finer)
	}
	l.mm = mm / float64(l.finer)
	if len(l.stacked) > 0 {
		for _, line := range l.stacked {
			line.scale(mm)
		}
		l.stack()
		return
	}
	l.place()
}

// finerAlone is how many cells make up a cell of parts without the cloth.
const finerAlone = 4

func (l *layout) count() {
	d := l.draft
	l.firstEnd, l.firstPick = max(l.options.FirstEnd, 1), max(l.options.FirstPick, 1)
	l.ends, l.picks = l.cloth.Ends(), l.cloth.Picks()
	if l.options.Repeat {
		l.ends, l.picks = l.cloth.Repeat()
	}
	l.ends, l.picks = max(l.ends-l.firstEnd+1, 0), max(l.picks-l.firstPick+1, 0)
	if l.options.Ends > 0 {
		l.ends = min(l.ends, l.options.Ends)
	}
	if l.options.Picks > 0 {
		l.picks = min(l.picks, l.options.Picks)
	}
	l.shafts = max(d.Threading.Highest(), d.Shafts)
	l.tied = max(d.Treadling.Highest(), d.Tieup.Len(), d.Treadles)
	if l.planned {
		l.treadles = max(d.LiftPlan.Highest(), d.Shafts)
	} else {
		l.treadles = l.tied
	}
	if l.draws(PartTieup) {
		l.shafts = max(l.shafts, d.Tieup.Highest())
	}
	// A high declared count doesn't make the drawing much wider than the draft.
	const spare = 64
	l.shafts = min(l.shafts, d.HighestShaft()+spare)
	l.tied = min(l.tied, d.HighestTreadle()+spare)
	l.treadles = min(l.treadles, max(d.HighestTreadle(), d.LiftPlan.Highest())+spare)
}

// draws reports whether a part is drawn. With a lift plan, the tie-up is drawn only on
// request.
func (l *layout) draws(part Parts) bool {
	if l.options.Parts == 0 {
		return part != PartTieup || !l.planned
	}
	return l.options.Parts&part != 0
}

// checkParts returns an error for a requested part that the draft lacks.
func (l *layout) checkParts() error {
	d, asked := l.draft, l.options.Parts
	switch {
	case asked&PartThreading != 0 && d.Threading.Count() == 0:
		return errors.New("the draft has no threading; leave out --part threading")
	case asked&PartTieup != 0 && d.Tieup.Count() == 0 && l.planned:
		return errors.New("the draft has a lift plan and no tie-up; leave out --part tieup, or make a tie-up with --lifts tieup")
	case asked&PartTieup != 0 && d.Tieup.Count() == 0:
		return errors.New("the draft has no tie-up; leave out --part tieup")
	case asked&PartTreadling != 0 && d.Treadling.Count() == 0 && d.LiftPlan.Count() == 0:
		return errors.New("the draft has no treadling and no lift plan; leave out --part treadling")
	case l.draws(PartCloth) && (l.ends == 0 || l.picks == 0):
		return fmt.Errorf("there is no cloth to draw, because the draft has %s and %s; check that its threading and treadling are complete",
			wording.Counted(l.ends, "end"), wording.Counted(l.picks, "pick"))
	}
	return nil
}

// blocks sets the size of the parts.
func (l *layout) blocks() {
	l.finer = 1
	if !l.draws(PartCloth) {
		l.finer = finerAlone
	}
	size := func(part Parts, wide, high, scale int) block {
		if !l.draws(part) {
			return block{}
		}
		scale = max(scale, 1) * l.finer
		return block{rect{0, 0, wide * scale, high * scale}, scale}
	}
	l.threading = size(PartThreading, l.ends, l.shafts, l.options.Scales.Threading)
	l.tieup = size(PartTieup, l.tied, l.shafts, l.options.Scales.Tieup)
	l.lifts = size(PartTreadling, l.treadles, l.picks, l.options.Scales.Treadling)
	l.grid = size(PartCloth, l.ends, l.picks, 1)
}

// warpOwner returns the part that has the colors and the dents of the ends beside it.
func (l *layout) warpOwner() block {
	if !l.threading.empty() {
		return l.threading
	}
	return l.grid
}

// weftOwner returns the part that has the colors of the picks beside it.
func (l *layout) weftOwner() block {
	if !l.lifts.empty() {
		return l.lifts
	}
	return l.grid
}

func (l *layout) cellsAcross() int { return max(l.threading.w, l.grid.w) + max(l.tieup.w, l.lifts.w) }
func (l *layout) cellsDown() int   { return max(l.threading.h, l.tieup.h) + max(l.grid.h, l.lifts.h) }

// checkSize returns an error for a drawing that is too large.
func (l *layout) checkSize() error {
	cells := float64(l.cellsAcross()) * float64(l.cellsDown())
	if cells > MostCells {
		return fmt.Errorf("the drawing would have %.0f cells (limit %d); draw one repeat with --repeat", cells, MostCells)
	}
	if n := l.countFloats(); n > maxFloats {
		return fmt.Errorf("the drawing would outline %d floats (limit %d); outline longer ones with --floats, or draw one repeat with --repeat", n, maxFloats)
	}
	return nil
}

// countFloats returns how many floats are outlined. For a part of the cloth, this is an upper
// bound.
func (l *layout) countFloats() int {
	limit := l.options.Floats
	if limit == 0 || !l.draws(PartCloth) {
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

// place sets the rectangle of every block: the threading above the cloth and the tie-up above
// the treadling, with the colors and the dents between them.
func (l *layout) place() {
	around := 6.0
	if l.options.Bare {
		around = 1
	}
	margin, gap := l.cells(around), l.cells(1.2)
	l.placeLetters()
	top := l.layCaption(margin) + l.numbersHigh(l.threading, l.tieup, l.grid, l.lifts) + l.cells(l.markRoom())
	y := l.placeTop(top, gap)
	l.placeColumns(margin, y, gap)
	l.height = 0
	for _, b := range []block{l.threading, l.warpBar, l.tieup, l.grid, l.weftBar, l.lifts} {
		l.height = max(l.height, b.bottom())
	}
	l.width = max(l.threadsRight(), l.captionWidth()) + margin
	l.height = max(l.height, l.warpBar.bottom()+l.lettersHigh()) + margin
	for _, b := range []block{l.threading, l.tieup, l.grid, l.lifts} { // numbers beside the last row
		if size := l.numberMM(b); !b.empty() {
			l.height = max(l.height, b.bottom()+l.cells(0.4*size), b.y+l.cells(size))
		}
	}
}

// placeTop places the threading, the tie-up, and the bars of the warp below them, from a row
// down. It returns the row below them.
func (l *layout) placeTop(y, gap int) int {
	high := max(l.threading.h, l.tieup.h)
	l.threading.y, l.tieup.y = y+high-l.threading.h, y+high-l.tieup.h
	if high > 0 {
		y += high + gap
	}
	below := y
	l.sley, l.warpBar = block{}, block{}
	if owner := l.warpOwner(); !owner.empty() {
		if len(l.options.Sley) > 0 {
			l.sley = block{rect{0, y, owner.w, l.cells(2)}, owner.cell}
			y = l.sley.bottom() + gap
		}
		l.warpBar = block{rect{0, y, owner.w, l.cells(l.barMM())}, owner.cell}
		y = l.warpBar.bottom() + l.lettersHigh() + gap
		if l.numbersApart(l.grid, l.threading) {
			y += l.numbersHigh(l.grid)
		}
	}
	if high > 0 && l.liftsNumbered() {
		y = max(y, below+l.numbersHigh(l.lifts))
	}
	if l.numbersApart(l.tieup, l.threading) { // the number of shaft 1 is above that of the first pick
		shaft1 := l.lowered(l.tieup, float64(l.tieup.shaftY(1)), l.numberMM(l.tieup)/l.mm)
		y = max(y, int(math.Ceil(shaft1+0.7/l.mm)))
		if l.liftsNumbered() { // and above those of the treadles, which may reach below it
			y = max(y, int(math.Ceil(shaft1))+l.numbersHigh(l.lifts))
		}
	}
	return y
}

// placeColumns places the blocks from left to right, and the cloth and the treadling from row
// y down.
func (l *layout) placeColumns(margin, y, gap int) {
	x := margin
	if wide := max(l.threading.w, l.grid.w); wide > 0 {
		right := margin + l.cells(max(l.leftRoom()+1.2, l.halfNumber())) + wide
		l.threading.x, l.grid.x = right-l.threading.w, right-l.grid.w
		l.sley.x, l.warpBar.x = right-l.sley.w, right-l.warpBar.w
		x = right + gap
	}
	l.grid.y, l.lifts.y = y, y
	l.weftBar = block{}
	if owner := l.weftOwner(); !owner.empty() {
		l.weftBar = block{rect{x, y, l.cells(l.barMM()), owner.h}, owner.cell}
		x = l.weftBar.right() + l.lettersWide() + max(gap, l.cells(0.3*l.numberMM(l.lifts)+0.3)) // half a figure
	}
	half := 0.3 * max(l.numberMM(l.lifts), l.numberMM(l.tieup)) // of a figure
	x = max(x, l.cells(half+0.5))
	if owner := l.warpOwner(); !owner.empty() {
		x = max(x, max(l.threading.right(), l.grid.right())+l.cells(half+0.3*l.numberMM(owner)+0.4))
	}
	l.tieup.x, l.lifts.x = x, x
}

// picksRight returns the column right of all that belongs to a pick.
func (l *layout) picksRight() int {
	return max(l.lifts.right(), l.weftBar.right()+l.lettersWide())
}

// threadsRight returns the column right of the threads and all that is beside them.
func (l *layout) threadsRight() int {
	right := l.picksRight()
	for _, b := range []block{l.threading, l.warpBar, l.tieup, l.grid, l.weftBar, l.lifts} {
		right = max(right, b.right())
	}
	return right + l.cells(l.numberRoom()) + l.cells(l.markRoom())
}

// numbersApart reports whether a block needs numbers of its own, because its threads aren't
// in line with those of another.
func (l *layout) numbersApart(b, other block) bool {
	return !b.empty() && (other.empty() || b.cell != other.cell)
}

// liftsNumbered reports whether the columns of the treadling have their own numbers.
func (l *layout) liftsNumbered() bool {
	return !l.lifts.empty() && (l.planned || l.numbersApart(l.lifts, l.tieup))
}

// Heights of type that grows with the cells, in millimetres.
const (
	numberPart = 0.6 // of a cell
	mostNumber = 12.0
)

// numberMM returns the height of the numbers of a block in millimetres.
func (l *layout) numberMM(b block) float64 {
	return max(l.numberType(), min(numberPart*l.mm*float64(b.cell), mostNumber))
}

// numbersHigh returns how many cells the tallest numbers above some blocks take.
func (l *layout) numbersHigh(blocks ...block) int {
	most := l.numberType()
	for _, b := range blocks {
		most = max(most, l.numberMM(b))
	}
	return l.cells(most + 0.8)
}

// leftRoom returns the width of the texts left of the threading and the cloth, in millimetres.
func (l *layout) leftRoom() float64 {
	room := 0.0
	if !l.threading.empty() {
		room = l.textMM(strconv.Itoa(l.shafts), l.numberMM(l.threading))
	}
	if !l.grid.empty() && !l.lifts.empty() && l.lifts.cell != l.grid.cell {
		room = max(room, l.textMM(l.lastPick(), l.numberMM(l.grid)))
	}
	if len(l.options.Sley) > 0 {
		room = max(room, l.textMM(reedWord, l.numberType()))
	}
	return room
}

// halfNumber returns the width in millimetres of half the widest number of an end. It may
// extend beyond the end at the left edge.
func (l *layout) halfNumber() float64 {
	return l.textMM(strconv.Itoa(l.lastEnd()), max(l.numberMM(l.threading), l.numberMM(l.grid))) / 2
}

func (l *layout) lastPick() string { return strconv.Itoa(l.firstPick + l.picks - 1) }

// numberRoom returns the width of the numbers at the right, in millimetres.
func (l *layout) numberRoom() float64 {
	room := 0.0
	if owner := l.weftOwner(); !owner.empty() {
		room = l.textMM(l.lastPick(), l.numberMM(owner))
	}
	if l.numbersApart(l.tieup, l.threading) {
		room = max(room, l.textMM(strconv.Itoa(l.shafts), l.numberMM(l.tieup)))
	}
	return room + 1.6
}

// markRoom returns the room for the numbers of marks in millimetres.
func (l *layout) markRoom() float64 {
	if len(l.options.Marks) == 0 {
		return 0
	}
	return 2 * (l.numberType() + 0.8)
}

func (l *layout) textMM(text string, size float64) float64 { return l.faces.width(text, false) * size }

// endX returns the left edge of an end in a block. The back shows the ends in the opposite
// order.
func (l *layout) endX(b block, end int) int {
	if l.fromLeft() {
		return b.x + (end-l.firstEnd)*b.cell
	}
	return b.right() - (end-l.firstEnd+1)*b.cell
}

// endAt returns the end in a column of a block, counted from 0.
func (l *layout) endAt(b block, column int) int {
	if l.fromLeft() {
		return l.firstEnd + column
	}
	return l.firstEnd + b.w/b.cell - 1 - column
}

// fromLeft reports whether end 1 is at the left.
func (l *layout) fromLeft() bool { return (l.options.End1 == Left) != l.options.Back }

// pickY returns the top edge of a pick in a block.
func (l *layout) pickY(b block, pick int) int {
	if l.options.Pick1 == Bottom {
		return b.bottom() - (pick-l.firstPick+1)*b.cell
	}
	return b.y + (pick-l.firstPick)*b.cell
}

// pickAt returns the pick in a row of the drawing, within a block.
func (l *layout) pickAt(b block, y int) int {
	if l.options.Pick1 == Bottom {
		return l.firstPick + (b.bottom()-1-y)/b.cell
	}
	return l.firstPick + (y-b.y)/b.cell
}

// shaftY returns the top edge of a shaft in a block. Shaft 1 is nearest to the cloth.
func (b block) shaftY(shaft int) int { return b.bottom() - shaft*b.cell }

// columnX returns the left edge of a treadle, or a shaft of a lift plan, in a block.
func (b block) columnX(n int) int { return b.x + (n-1)*b.cell }

// lastEnd returns the last drawn end.
func (l *layout) lastEnd() int { return l.firstEnd + l.ends - 1 }

// drawnEnds returns the first and the last end of a view of a block, ascending.
func (l *layout) drawnEnds(b block, seen rect) (first, last int) {
	a, z := l.endAt(b, (seen.x-b.x)/b.cell), l.endAt(b, (seen.right()-1-b.x)/b.cell)
	return min(a, z), max(a, z)
}
