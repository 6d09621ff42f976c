package fitting

import (
	"cmp"
	"slices"

	"fettle/schema"
)

// Threading lists the groups of ends that change shafts.
type Threading struct {
	Groups int    `json:"groups"` // how many groups there are; Moves may list fewer
	Moves  []Move `json:"moves"`  // in the order of the old shafts
}

// Move is a group of ends that goes from the same old shafts to the same new ones.
type Move struct {
	From  []int32 `json:"from"` // the old shafts
	To    []int32 `json:"to"`   // the new shafts
	Ends  int     `json:"ends"`
	First int     `json:"first"` // the lowest end of the group
}

// Tieup holds a tie-up that changes.
type Tieup struct {
	Before Ties `json:"before"`
	After  Ties `json:"after"`
}

// Ties lists the shafts that each treadle ties, from treadle 1.
type Ties struct {
	Treadles int       `json:"treadles"` // how many treadles there are; Shafts may list fewer; 0: a lift plan
	Shafts   [][]int32 `json:"shafts"`
	Down     [][]int32 `json:"down"` // the shafts tied down; nil unless Fit made a tie-up for a countermarch
}

// A Result lists the first groups or treadles: no more than mostRows, with no more than
// mostNumbers shafts. No loom has so many.
const (
	mostRows    = 1_000
	mostNumbers = 10_000
)

// listed returns how many of n rows a Result lists; size returns the length of a row.
func listed(n int, size func(i int) int) int {
	numbers := 0
	for i := range min(n, mostRows) {
		if numbers += size(i); numbers > mostNumbers {
			return i
		}
	}
	return min(n, mostRows)
}

// threadingOf compares two threadings. It returns nil if no end changes shafts.
func threadingOf(before, after *schema.Rows) *Threading {
	old, oldOf := before.Distinct()
	now, nowOf := after.Distinct()
	at := map[[2]int]int{} // by the indexes of the old and the new shafts
	var moves []Move
	for end := 1; end <= after.Len(); end++ {
		from, to := before.Row(end), after.Row(end)
		if slices.Equal(from, to) {
			continue
		}
		key := [2]int{oldOf[end-1], nowOf[end-1]}
		i, known := at[key]
		if !known {
			i = len(moves)
			at[key] = i
			moves = append(moves, Move{From: old[key[0]], To: now[key[1]], First: end})
		}
		moves[i].Ends++
	}
	if len(moves) == 0 {
		return nil
	}
	slices.SortStableFunc(moves, func(a, b Move) int {
		return cmp.Or(slices.Compare(a.From, b.From), slices.Compare(a.To, b.To))
	})
	n := listed(len(moves), func(i int) int { return len(moves[i].From) + len(moves[i].To) })
	return &Threading{Groups: len(moves), Moves: moves[:n:n]}
}

// tieupOf compares two tie-ups. It returns nil if they are equal.
func tieupOf(before, after *schema.Rows, down [][]int32) *Tieup {
	if after.Equal(*before) {
		return nil
	}
	return &Tieup{Before: tiesOf(before, nil), After: tiesOf(after, down)}
}

func tiesOf(tieup *schema.Rows, down [][]int32) Ties {
	t := Ties{Shafts: [][]int32{}}
	if tieup.Count() == 0 {
		return t
	}
	t.Treadles = tieup.Len()
	n := listed(t.Treadles, func(i int) int {
		size := len(tieup.Row(i + 1))
		if down != nil {
			size += len(down[i])
		}
		return size
	})
	for i := range n {
		t.Shafts = append(t.Shafts, append([]int32{}, tieup.Row(i+1)...))
		if down != nil {
			t.Down = append(t.Down, append([]int32{}, down[i]...))
		}
	}
	return t
}
