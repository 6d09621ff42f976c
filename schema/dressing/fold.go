package dressing

import (
	"encoding/binary"

	"fettle/schema"
	"fettle/schema/cloth"
)

// Block is a stretch of threads, from From to To of them, that is repeated
// Times over one after another.
type Block struct {
	From  int `json:"from"`
	To    int `json:"to"`
	Times int `json:"times"`
}

// longestBlock bounds the blocks looked for within a stretch that has no repeat
// of its own, so that the work stays in the length of the stretch.
const longestBlock = 32

// LiftBlock is a block of the draft's picks, and what each of them presses or
// lifts, the first time it is woven: its treadles, or its shafts by the lift
// plan.
type LiftBlock struct {
	Block
	Treadles [][]int32 `json:"treadles,omitempty"`
	Shafts   [][]int32 `json:"shafts,omitempty"`
}

// liftBlocks is Lifts with the rows of the picks.
func liftBlocks(d *schema.Draft) []LiftBlock {
	var list []LiftBlock
	for _, b := range Lifts(d) {
		if d.LiftPlan.Len() > 0 {
			list = append(list, LiftBlock{Block: b, Shafts: rowsOf(&d.LiftPlan, b.From, b.To)})
		} else {
			list = append(list, LiftBlock{Block: b, Treadles: rowsOf(&d.Treadling, b.From, b.To)})
		}
	}
	return list
}

// rowsOf are some rows of a table; one that holds nothing is empty.
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

// Lifts folds the draft's picks into blocks that are woven several times over.
// Picks are alike when they press the same treadles, or lift the same shafts by
// the lift plan, in the same weft color.
func Lifts(d *schema.Draft) []Block { return Fold(pickKinds(d)) }

func pickKinds(d *schema.Draft) []int32 {
	rows := &d.Treadling
	if d.LiftPlan.Len() > 0 {
		rows = &d.LiftPlan
	}
	return kinds(rows, d.Picks(), d.Weft.ColorOf)
}

// PickRepeat is after how many picks the draft starts again where it is gone
// through over and over: the repeat of its picks, all of them where that does not
// go into them evenly, and 0 for none.
func PickRepeat(d *schema.Draft) int {
	p := cloth.Period(pickKinds(d))
	if p > 0 && d.Picks()%p != 0 {
		return d.Picks()
	}
	return p
}

// Repeat is the threading's own repeat: the smallest count of ends after which
// it starts again, all of them where it never does.
func Repeat(d *schema.Draft) int {
	return cloth.Period(kinds(&d.Threading, d.Ends(), func(int) int { return 0 }))
}

// kinds numbers the rows so that like rows of like color have like numbers.
func kinds(rows *schema.Rows, n int, color func(int) int) []int32 {
	seen := map[string]int32{}
	list := make([]int32, n)
	var key []byte
	for i := range list {
		key = binary.AppendVarint(key[:0], int64(color(i+1)))
		for _, v := range rows.Row(i + 1) {
			key = binary.AppendVarint(key, int64(v))
		}
		kind, ok := seen[string(key)]
		if !ok {
			kind = int32(len(seen))
			seen[string(key)] = kind
		}
		list[i] = kind
	}
	return list
}

// Fold folds a list of things, by numbers that are alike for like things, into
// blocks that follow each other: the repeat of the whole list where it stands
// twice or more, and short blocks otherwise. Blocks are numbered from 1.
func Fold(list []int32) []Block {
	p := cloth.Period(list)
	if p == 0 || len(list)/p < 2 {
		return foldBlocks(nil, list, 1)
	}
	times := len(list) / p
	blocks := []Block{{1, p, times}}
	return foldBlocks(blocks, list[times*p:], times*p+1)
}

// foldBlocks goes along the list and takes at each place the block that with
// its repeats covers most. What no block covers stands as it is, once.
func foldBlocks(blocks []Block, list []int32, first int) []Block {
	single := 0 // picks behind that no block took
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

// bestBlock is the block at the head of the list that covers most of it in two
// or more repeats, the shortest of those that cover as much; times is 1 for
// none.
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
