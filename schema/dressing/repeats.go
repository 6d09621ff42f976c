package dressing

import (
	"encoding/binary"

	"fettle/schema"
	"fettle/schema/cloth"
)

// Block is a range of threads, From to To, that occurs Times times in succession.
type Block struct {
	From  int `json:"from"`
	To    int `json:"to"`
	Times int `json:"times"`
}

// longestBlock is the longest block that fettle looks for in threads that don't repeat as
// a whole. It keeps the time proportional to the threads.
const longestBlock = 32

// LiftBlock is a block of the draft's picks with the treadles that each pick presses, or
// the shafts in its lift plan.
type LiftBlock struct {
	Block
	Treadles [][]int32 `json:"treadles,omitempty"`
	Shafts   [][]int32 `json:"shafts,omitempty"`
	Moved    [][]int32 `json:"moved,omitempty"`  // the shafts that the treadles move
	Colors   []int     `json:"colors,omitempty"` // by pick; nil if the weft has one color
}

// liftBlocks folds the draft's picks into repeated blocks. Picks are equal if they press
// the same treadles, or lift the same shafts, in the same color.
func (f *Figures) liftBlocks() []LiftBlock {
	blocks := fold(f.numberedPicks())
	list := make([]LiftBlock, len(blocks))
	several := cloth.SeveralShuttles(f.Draft)
	for i, b := range blocks {
		list[i] = LiftBlock{Block: b}
		if d := f.OnLoom(); d.LiftPlan.Len() > 0 {
			list[i].Shafts = rowsOf(&d.LiftPlan, b.From, b.To)
		} else {
			list[i].Treadles = rowsOf(&d.Treadling, b.From, b.To)
			for pick := b.From; pick <= b.To; pick++ {
				list[i].Moved = append(list[i].Moved, f.moved(pick))
			}
		}
		for pick := b.From; several && pick <= b.To; pick++ {
			list[i].Colors = append(list[i].Colors, f.Draft.Weft.ColorOf(pick))
		}
	}
	return list
}

// PartsOf folds the picks of a block into smaller blocks of equal picks.
func (f *Figures) PartsOf(b Block) []Block {
	list := fold(numberThreads(b.To-b.From+1, func(n int) (int, []int32) {
		pick := b.From - 1 + n
		return f.Draft.Weft.ColorOf(pick), f.PickRow(pick)
	}))
	for i := range list {
		list[i].From += b.From - 1
		list[i].To += b.From - 1
	}
	return list
}

// byShaft reports whether the weaver lifts shafts without treadles.
func (f *Figures) byShaft() bool {
	return f.OnLoom().LiftPlan.Len() > 0 || f.hasTreadles() == schema.No && !f.Countermarch()
}

// hasTreadles reports whether the loom has treadles.
func (f *Figures) hasTreadles() schema.Answer {
	switch {
	case f.Setup.Loom.Treadles > 0:
		return schema.Yes
	case f.Setup.Has("loom.treadles"):
		return schema.No
	}
	return schema.Unsaid
}

// PickRow returns the treadles that the weaver presses at a pick of the draft, or the
// shafts lifted if Plan.ByShaft is set.
func (f *Figures) PickRow(pick int) []int32 {
	if f.byShaft() {
		return f.Cloth().LiftOf(pick)
	}
	return f.OnLoom().Treadling.Row(pick)
}

// HighestInRows returns the highest number in any PickRow.
func (f *Figures) HighestInRows() int {
	d := f.OnLoom()
	if f.byShaft() {
		return max(d.LiftPlan.Highest(), d.Tieup.Highest())
	}
	return d.HighestTreadle()
}

// rowsOf returns some rows of a table; an empty row has no numbers.
func rowsOf(rows *schema.Rows, from, to int) [][]int32 {
	list := make([][]int32, 0, to-from+1)
	for n := from; n <= to; n++ {
		row := rows.Row(n)
		if row == nil {
			row = []int32{}
		}
		list = append(list, row)
	}
	return list
}

func (f *Figures) numberedPicks() []int32 { return f.pickNumbers.get(f.numberPicks) }

func (f *Figures) numberPicks() []int32 {
	rows := &f.OnLoom().Treadling
	if d := f.OnLoom(); d.LiftPlan.Len() > 0 {
		rows = &d.LiftPlan
	}
	return numberThreads(f.Draft.Picks(), func(pick int) (int, []int32) { return f.Draft.Weft.ColorOf(pick), rows.Row(pick) })
}

// pickRepeat returns the picks after which both the weave and the weft colors repeat: the
// smallest such divisor of the draft's picks, or all picks if there is none.
func (f *Figures) pickRepeat() int {
	picks := f.Draft.Picks()
	if picks == 0 {
		return 0
	}
	_, weave := f.Cloth().Repeat()
	colors := cloth.Period(paletteNumbers(&f.Draft.Weft, picks))
	return leastCommon(divisor(weave, picks), divisor(colors, picks))
}

// divisor returns a repeat if it divides the picks evenly, otherwise all picks, because
// then no smaller divisor is a repeat either.
func divisor(repeat, picks int) int {
	if repeat == 0 || picks%repeat != 0 {
		return picks
	}
	return repeat
}

// leastCommon returns the least common multiple of two numbers above 0.
func leastCommon(a, b int) int {
	x, y := a, b
	for y > 0 {
		x, y = y, x%y
	}
	return a / x * b
}

// paletteNumbers lists the palette numbers of a system's threads.
func paletteNumbers(system *schema.System, threads int) []int32 {
	list := make([]int32, threads)
	for i := range list {
		list[i] = int32(system.ColorOf(i + 1))
	}
	return list
}

// numberAlike numbers n things so that equal keys get equal numbers. key appends the key of
// thing i, from 0, to a buffer.
func numberAlike(n int, key func(i int, to []byte) []byte) []int32 {
	seen := map[string]int32{}
	list := make([]int32, n)
	var text []byte
	for i := range list {
		text = key(i, text[:0])
		kind, ok := seen[string(text)]
		if !ok {
			kind = int32(len(seen))
			seen[string(text)] = kind
		}
		list[i] = kind
	}
	return list
}

// numberThreads numbers n threads, from 1, by their colors and rows.
func numberThreads(n int, thread func(n int) (color int, row []int32)) []int32 {
	return numberAlike(n, func(i int, key []byte) []byte {
		color, row := thread(i + 1)
		key = binary.AppendVarint(key, int64(color))
		for _, v := range row {
			key = binary.AppendVarint(key, int64(v))
		}
		return key
	})
}

// numberRuns numbers runs of ends by their color and length.
func numberRuns(runs []ColorRun) []int32 {
	return numberAlike(len(runs), func(i int, key []byte) []byte {
		return binary.AppendVarint(binary.AppendVarint(key, int64(runs[i].Color)), int64(runs[i].Ends))
	})
}

// fold folds a list into blocks: the repeat of the whole list if it occurs at least
// twice, otherwise short blocks. Equal numbers are equal elements. Blocks count from 1.
func fold(list []int32) []Block {
	p := cloth.Period(list)
	if p == 0 || len(list)/p < 2 {
		return foldBlocks(nil, list, 1)
	}
	times := len(list) / p
	blocks := []Block{{1, p, times}}
	return foldBlocks(blocks, list[times*p:], times*p+1)
}

// foldBlocks takes at each place the block whose repeats cover most. Elements outside any
// block stay as they are.
func foldBlocks(blocks []Block, list []int32, first int) []Block {
	single := 0 // picks before this one that aren't in a block
	flush := func(upTo int) {
		if single > 0 {
			blocks = append(blocks, Block{first + upTo - single, first + upTo - 1, 1})
		}
		single = 0
	}
	for at := 0; at < len(list); {
		size, times := bestBlock(list[at:])
		if times < 2 {
			single++
			at++
			continue
		}
		flush(at)
		blocks = append(blocks, Block{first + at, first + at + size - 1, times})
		at += size * times
	}
	flush(len(list))
	return blocks
}

// bestBlock returns the block at the start of the list whose repeats, two or more, cover
// the most, and the shortest of several. times is 1 if there is none.
func bestBlock(list []int32) (size, times int) {
	covered := 0
	times = 1
	for p := 1; p <= longestBlock && 2*p <= len(list); p++ {
		n := p
		for n < len(list) && list[n] == list[n-p] {
			n++
		}
		if n/p >= 2 && n/p*p > covered {
			size, times, covered = p, n/p, n/p*p
		}
	}
	return size, times
}
