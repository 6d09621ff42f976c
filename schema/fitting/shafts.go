package fitting

import (
	"cmp"
	"slices"

	"fettle/schema"
)

// kind is a group of ends that are on a shaft and weave alike.
type kind struct {
	ends  []int // ascending
	shaft int32 // the lowest old shaft of any of them
}

// sortEnds finds the kinds of ends and sorts them by their lowest old shafts.
func (f *fitter) sortEnds() {
	number, _ := f.cloth.Alike(schema.Warp)
	at := map[int32]int{}
	f.kindOf = make([]int, len(number))
	for i, n := range number {
		f.kindOf[i] = -1
		row := f.draft.Threading.Row(i + 1)
		if len(row) == 0 {
			continue
		}
		k, seen := at[n]
		if !seen {
			k = len(f.kinds)
			at[n] = k
			f.kinds = append(f.kinds, kind{shaft: row[0]})
		}
		f.kinds[k].ends = append(f.kinds[k].ends, i+1)
		f.kinds[k].shaft = min(f.kinds[k].shaft, row[0])
	}
	slices.SortStableFunc(f.kinds, func(a, b kind) int { return cmp.Compare(a.shaft, b.shaft) })
	for k, kind := range f.kinds {
		for _, end := range kind.ends {
			f.kindOf[end-1] = k
		}
	}
}

// rethread gives the draft a threading that fits the loom's shafts and heddles. It
// tries the smallest changes first: it renumbers shafts, moves ends to spare shafts,
// and puts ends that weave alike on one shaft. If nothing fits it adds the reason and
// returns the draft unchanged.
func (f *fitter) rethread() *schema.Draft {
	d, r := f.draft, f.result
	used := d.Threading.Different()
	r.Shafts = ShaftCount{Used: len(used), Fewest: len(f.kinds), Available: known(f.loom.Shafts, f.loom.Shafts > 0)}
	limit := f.limit(used)
	within := f.loom.Shafts == 0 || d.HighestShaft() <= f.loom.Shafts
	single := d.Threading.MostInRow() <= 1
	if kept := f.keepKinds(used, limit, within, single); kept != nil {
		return kept
	}
	if len(f.kinds) > limit {
		ends := make([]int, len(f.kinds))
		for k, kind := range f.kinds {
			ends[k] = kind.ends[0]
		}
		slices.Sort(ends)
		r.Why = append(r.Why, Reason{Rule: "loom/too-many-shafts", Needed: len(f.kinds), Available: limit, Ends: ends})
		return d
	}
	if len(used) > len(f.kinds) || !within || !single {
		f.changed(Shafts)
	}
	var fewest schema.Rows
	for _, k := range f.kindOf {
		fewest.AppendOne(int32(k + 1))
	}
	if f.suffices(&fewest) {
		return f.threadedBy(fewest)
	}
	threading, v := f.spread(&fewest, limit)
	if v != possible {
		threading, v = f.redistribute(&fewest, limit)
	}
	if v == possible {
		f.changed(Heddles)
		return f.threadedBy(threading)
	}
	f.lackHeddles(&fewest, v == undecided)
	return d
}

// keepKinds leaves ends that share a shaft together: it keeps the threading, renumbers the
// shafts, or moves ends to spare shafts. It returns nil if none of these fits.
func (f *fitter) keepKinds(used []int32, limit int, within, single bool) *schema.Draft {
	switch {
	case !single && f.otherShed():
		return nil
	case within && f.suffices(&f.draft.Threading):
		return f.draft
	case len(used) > limit:
		return nil
	}
	numbered := f.numbered(used, limit)
	if f.suffices(&numbered.Threading) {
		f.changed(Shafts)
		return numbered
	}
	if !single {
		return nil
	}
	spread, v := f.spread(&numbered.Threading, limit)
	if v != possible {
		return nil
	}
	if !within {
		f.changed(Shafts)
	}
	f.changed(Heddles)
	return f.threadedBy(spread)
}

// limit returns how many shafts a threading may use: those of the loom, but no more
// than could help. If the loom's are unknown, the draft and the heddles give the limit.
func (f *fitter) limit(used []int32) int {
	if f.loom.Shafts > 0 {
		return min(f.loom.Shafts, max(len(used), len(f.kindOf)))
	}
	limit := max(len(used), len(f.kinds))
	for shaft := range f.loom.Heddles.ByShaft {
		limit = max(limit, min(shaft, len(f.kindOf)))
	}
	return limit
}

// numbered drops the ties of shafts without ends. If a shaft in use is above the
// limit, it numbers those in use from 1, in their order.
func (f *fitter) numbered(used []int32, limit int) *schema.Draft {
	number := f.draft.Threading.Ranks()
	if f.draft.Threading.Highest() <= limit {
		for _, shaft := range used {
			number[shaft] = shaft
		}
	}
	out := *f.draft
	out.Threading = renumbered(&f.draft.Threading, number)
	out.Tieup, out.LiftPlan = renumbered(&f.draft.Tieup, number), renumbered(&f.draft.LiftPlan, number)
	out.Shafts = out.Threading.Highest()
	return &out
}

// renumbered gives each number of a table a new one, and drops those without.
func renumbered(rows *schema.Rows, number map[int32]int32) schema.Rows {
	by := make(map[int32][]int32, len(number))
	for old, n := range number {
		by[old] = []int32{n}
	}
	return translated(rows, by)
}

// translated replaces each number of a table with others.
func translated(rows *schema.Rows, by map[int32][]int32) schema.Rows {
	var out schema.Rows
	var row []int32
	for n := 1; n <= rows.Len(); n++ {
		row = row[:0]
		for _, v := range rows.Row(n) {
			row = append(row, by[v]...)
		}
		out.Append(row...)
	}
	return out
}

// threadedBy returns the draft with another threading, in which each end is on one
// shaft. It lifts each shaft as it lifted the first end on it.
func (f *fitter) threadedBy(threading schema.Rows) *schema.Draft {
	lifted := map[int32][]int32{} // by old shaft, the new shafts that replace it
	seen := map[int32]bool{}
	for end := 1; end <= threading.Len(); end++ {
		for _, shaft := range threading.Row(end) {
			if seen[shaft] {
				continue
			}
			seen[shaft] = true
			for _, old := range f.draft.Threading.Row(end) {
				lifted[old] = append(lifted[old], shaft)
			}
		}
	}
	out := *f.draft
	out.Threading = threading
	out.Tieup, out.LiftPlan = translated(&f.draft.Tieup, lifted), translated(&f.draft.LiftPlan, lifted)
	out.Shafts = threading.Highest()
	return &out
}
