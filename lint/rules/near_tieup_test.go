package rules

import (
	"math/rand/v2"
	"slices"
	"testing"

	"fettle/schema"
)

// movingRows ties a shed of the shafts to each treadle, moved by one from each to the next.
func movingRows(r *rand.Rand, shafts, treadles int) (rows [][]int32) {
	shed := make([]bool, shafts)
	shed[0] = true
	for s := 1; s < shafts-1; s++ {
		shed[s] = r.IntN(2) == 0
	}
	step := 1 - 2*r.IntN(2)
	for t := range treadles {
		rows = append(rows, movedBy(shed, t*step))
	}
	return rows
}

func movedBy(shed []bool, by int) (row []int32) {
	n := len(shed)
	for s := range shed {
		if shed[((s-by)%n+n)%n] {
			row = append(row, int32(s+1))
		}
	}
	return row
}

func tabbies(shafts int) [][]int32 {
	rows := make([][]int32, 2)
	for s := range shafts {
		rows[s%2] = append(rows[s%2], int32(s+1))
	}
	return rows
}

// soundTieup makes a tie-up without a slip: of twill, with and without tabby, satin, single
// shafts, sheds that go up and down, two twills side by side, and any sheds.
func soundTieup(r *rand.Rand) (rows [][]int32, shafts int) {
	shafts = between(r, 4, 16)
	switch r.IntN(7) {
	case 0:
		return movingRows(r, shafts, between(r, 4, shafts+4)), shafts
	case 1:
		return append(movingRows(r, shafts, shafts), tabbies(shafts)...), shafts
	case 2:
		return append(tabbies(shafts), movingRows(r, shafts, shafts)...), shafts
	case 3:
		twill := movingRows(r, shafts, shafts)
		for i := range twill {
			rows = append(rows, twill[i*3%shafts])
		}
		return rows, shafts
	case 4:
		twill := movingRows(r, shafts, shafts)
		return append(twill, reversedRows(twill[:shafts-1])...), shafts
	case 5:
		half := shafts / 2
		one, other := movingRows(r, half+2, half+2), movingRows(r, half+2, half+2)
		for t := range one {
			row := slices.Clone(one[t])
			for _, s := range other[len(other)-1-t] {
				row = append(row, s+int32(half+2))
			}
			rows = append(rows, row)
		}
		return rows, 2 * (half + 2)
	}
	for range between(r, 6, 14) {
		rows = append(rows, movedBy([]bool{true, r.IntN(2) == 0, r.IntN(2) == 0, r.IntN(2) == 0, false, r.IntN(2) == 0}, r.IntN(6)))
	}
	return rows, 6
}

func reversedRows(rows [][]int32) [][]int32 {
	rows = slices.Clone(rows)
	slices.Reverse(rows)
	return rows
}

func TestSoundTieupsHaveNoSlips(t *testing.T) {
	for seed := range 20 * drafts() {
		rows, shafts := soundTieup(rand.New(rand.NewPCG(uint64(seed), 7)))
		table := schema.RowsOf(rows...)
		if s, ok := nearMovingTieup(&table, shafts); ok {
			t.Errorf("seed %d: %+v in %d on %d shafts", seed, s, rows, shafts)
		}
	}
}

// TestTieupSlipsAreFound adds, takes away or moves a shaft of a treadle, or swaps two
// neighbours.
// Two twills of four shafts each, one treadle of which overlaps the other's shafts.
func TestTwoTwillsAreNoSlip(t *testing.T) {
	for _, last := range [][]int32{{5, 8}, {7, 8}, {1, 8}} {
		rows := schema.RowsOf([]int32{1, 2}, []int32{2, 3}, []int32{3, 4}, []int32{1, 4}, []int32{5, 6}, []int32{6, 7}, []int32{7, 8}, last)
		if slip, found := nearMovingTieup(&rows, 8); found {
			t.Errorf("last %v: %+v", last, slip)
		}
	}
}

func TestTieupSlipsAreFound(t *testing.T) {
	made, found := 0, 0
	for seed := range 20 * drafts() {
		r := rand.New(rand.NewPCG(uint64(seed), 8))
		shafts := between(r, 6, 16)
		rows := movingRows(r, shafts, shafts)
		if r.IntN(2) == 0 {
			rows = append(rows, tabbies(shafts)...)
		}
		at, want := r.IntN(shafts), slices.Clone(rows)
		f := slipKind(changed)
		switch was := rows[at]; r.IntN(4) {
		case 0:
			at = 1 + r.IntN(shafts-3)
			f, rows[at], rows[at+1] = swapped, rows[at+1], rows[at]
		case 1:
			rows[at] = slices.Delete(slices.Clone(was), 0, 1)
		default:
			row := append(slices.Clone(was), int32(between(r, 1, shafts)))
			if r.IntN(2) == 0 {
				row = row[1:]
			}
			slices.Sort(row)
			rows[at] = slices.Compact(row)
		}
		if slices.EqualFunc(rows, want, slices.Equal[[]int32]) || len(rows[at]) == 0 || everyOther(rows[at]) {
			continue
		}
		made++
		table := schema.RowsOf(rows...)
		s, ok := nearMovingTieup(&table, shafts)
		if ok && (s.kind != f || s.treadle != at+1 || !slices.Equal(s.expected, want[at])) {
			t.Errorf("seed %d: treadle %d of %d: found %+v", seed, at+1, rows, s)
		}
		if ok {
			found++
		}
	}
	t.Logf("%d of %d found", found, made)
	if found*100 < made*95 {
		t.Errorf("only %d of %d found", found, made)
	}
}

// TestTieupSlipIsQuick looks at a tie-up of 100,000 treadles that never moves on.
func TestTieupSlipIsQuick(t *testing.T) {
	var table schema.Rows
	for range 100_000 {
		table.Append(1, 3, 4)
	}
	if s, ok := nearMovingTieup(&table, 8); ok {
		t.Errorf("found %+v", s)
	}
}
