package dressing

import (
	"slices"

	"fettle/schema"
	"fettle/schema/cloth"
)

// OnLoom returns the draft with its lifts given as the loom takes them. The cloth is
// the same.
//
//   - A loom without treadles gets a lift plan.
//   - A loom with treadles gets a treadle for each different lift of a lift plan, if it
//     has enough.
//   - On a countermarch loom, treadles that are pressed together become one: a shaft
//     can't be tied up on one and down on the other. A pick that names no shaft gets a
//     treadle, too, which moves all the others.
func (f *Figures) OnLoom() *schema.Draft { return f.onLoom.get(f.computeOnLoom) }

func (f *Figures) computeOnLoom() *schema.Draft {
	d := f.Draft
	switch {
	case f.Setup.Has("loom.treadles") && f.Setup.Loom.Treadles == 0 && !f.Countermarch():
		if d.LiftPlan.Len() > 0 {
			return d
		}
		if planned, err := cloth.WithLiftPlan(d); err == nil {
			return planned
		}
	case f.NeedsLifts() && f.Setup.Loom.Treadles > 0:
		if many, over := f.TooManyTreadles(); !over && many.LiftsCounted {
			return f.oneTreadleEach()
		}
	case f.NeedsLifts() && !f.Cloth().TooLarge():
		return f.oneTreadleEach()
	}
	return d
}

// oneTreadleEach returns the draft with a treadle for each different lift.
func (f *Figures) oneTreadleEach() *schema.Draft {
	planned, err := cloth.WithLiftPlan(f.Draft) // treadles with the same ties become one
	if err != nil {
		return f.Draft
	}
	d, err := cloth.WithTreadles(planned, 0)
	if err != nil {
		return f.Draft
	}
	if !f.Countermarch() || d.Treadling.Count() == d.Picks() {
		return d
	}
	all := int32(d.Tieup.Len() + 1)
	d.Tieup.Append()
	d.Treadles = int(all)
	var treadling schema.Rows
	for pick := 1; pick <= d.Picks(); pick++ {
		if row := d.Treadling.Row(pick); len(row) > 0 {
			treadling.Append(row...)
		} else {
			treadling.Append(all)
		}
	}
	d.Treadling = treadling
	return d
}

// Countermarch reports whether the loom ties each treadle to all shafts, some up and
// the others down.
func (f *Figures) Countermarch() bool { return f.Setup.Loom.Shed == schema.Countermarch }

// pressesSeveral reports whether a pick of the draft presses more or fewer than one
// treadle.
func (f *Figures) pressesSeveral() bool {
	for pick := 1; pick <= f.Draft.Picks(); pick++ {
		if len(f.Draft.Treadling.Row(pick)) != 1 {
			return true
		}
	}
	return false
}

// Tieup returns the shafts that each treadle is tied to, or nil if the weaver lifts
// shafts. On a countermarch loom these are the shafts tied up.
func (f *Figures) Tieup() [][]int32 {
	if f.ByShaft() || f.OnLoom().Treadling.Count() == 0 {
		return nil
	}
	d := f.OnLoom()
	rows := rowsOf(&d.Tieup, 1, d.Tieup.Len())
	if f.Countermarch() && d.Shed == schema.Sinking {
		return f.otherShafts(rows)
	}
	return rows
}

// TieupDown returns the shafts that each treadle of a countermarch loom ties down, or
// nil for other looms.
func (f *Figures) TieupDown() [][]int32 {
	if !f.Countermarch() {
		return nil
	}
	return f.otherShafts(f.Tieup())
}

// otherShafts returns for each row the shafts with ends that it doesn't name.
func (f *Figures) otherShafts(rows [][]int32) [][]int32 {
	used := f.Draft.Threading.Different()
	list := make([][]int32, 0, len(rows))
	for _, row := range rows {
		list = append(list, slices.DeleteFunc(slices.Clone(used), func(shaft int32) bool { return slices.Contains(row, shaft) }))
	}
	return list
}

// emptyLifts returns 1 if a pick that names no shaft still needs a treadle, otherwise 0.
func (f *Figures) emptyLifts() int {
	for pick := 1; f.Countermarch() && pick <= f.Draft.Picks(); pick++ {
		if len(f.Cloth().LiftOf(pick)) == 0 {
			return 1
		}
	}
	return 0
}

// UnusedShafts returns the shafts without ends: of the loom, or of the draft if the
// loom's shafts are unknown.
func (f *Figures) UnusedShafts() []int {
	used := f.Draft.Threading.Different()
	all := f.Setup.Loom.Shafts
	if all == 0 {
		all = f.Draft.Shafts
	}
	var list []int
	for shaft := 1; shaft <= min(all, schema.Belief); shaft++ {
		if _, ok := slices.BinarySearch(used, int32(shaft)); !ok {
			list = append(list, shaft)
		}
	}
	return list
}
