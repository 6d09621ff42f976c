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
//     treadle, too, which moves all the others. If the loom has too few treadles for
//     that, the draft gets a lift plan, unless PressesSeveral holds.
func (f *Figures) OnLoom() *schema.Draft { return f.onLoom.get(f.computeOnLoom) }

func (f *Figures) computeOnLoom() *schema.Draft {
	d := f.Draft
	switch {
	case f.PressesSeveral():
		return d
	case f.hasTreadles() == schema.No && !f.Countermarch():
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
		if f.Countermarch() {
			if planned, err := cloth.WithLiftPlan(d); err == nil {
				return planned
			}
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

// PressesSeveral reports whether a countermarch loom with too few treadles for a treadle
// each lift can press the draft's treadles together as they are: the loom has them, the
// settings allow as many at once, and each shaft of each pick is tied up or down on one of
// the treadles, and never up on one and down on another.
func (f *Figures) PressesSeveral() bool { return f.pressed.get(f.computePressesSeveral) }

func (f *Figures) computePressesSeveral() bool {
	d, loom := f.Draft, f.Setup.Loom
	if !f.Countermarch() || loom.Treadles == 0 || loom.AtOnce < 2 || d.LiftPlan.Len() > 0 || d.Shed == schema.Sinking ||
		d.Treadling.Count() == 0 || f.TreadlesAbove().Highest > loom.Treadles || f.Cloth().TooLarge() ||
		f.Cloth().DistinctLifts()+f.emptyLifts() <= loom.Treadles {
		return false
	}
	for pick := 1; pick <= d.Picks(); pick++ {
		if n := len(d.Treadling.Row(pick)); n == 0 || n > loom.AtOnce {
			return false
		}
	}
	down := f.freeDown()
	for pick := 1; pick <= d.Picks(); pick++ {
		moved := map[int32]bool{}
		for _, shaft := range f.Cloth().LiftOf(pick) {
			moved[shaft] = true
		}
		for _, treadle := range d.Treadling.Row(pick) {
			if treadle < 1 || int(treadle) > len(down) {
				return false
			}
			for _, shaft := range down[treadle-1] {
				moved[shaft] = true
			}
		}
		if slices.ContainsFunc(f.UsedShafts(), func(shaft int32) bool { return !moved[shaft] }) {
			return false
		}
	}
	return true
}

// freeDown returns, for each treadle of the tie-up, the shafts with ends that stay down at
// every pick that presses it. A treadle that is never pressed gets none.
func (f *Figures) freeDown() [][]int32 {
	d := f.Draft
	raised := make([]map[int32]bool, d.Tieup.Len())
	for pick := 1; pick <= d.Picks(); pick++ {
		for _, treadle := range d.Treadling.Row(pick) {
			if treadle < 1 || int(treadle) > len(raised) {
				continue
			}
			if raised[treadle-1] == nil {
				raised[treadle-1] = map[int32]bool{}
			}
			for _, shaft := range f.Cloth().LiftOf(pick) {
				raised[treadle-1][shaft] = true
			}
		}
	}
	list := make([][]int32, len(raised))
	for i, up := range raised {
		list[i] = []int32{}
		if up != nil {
			list[i] = without(f.UsedShafts(), func(shaft int32) bool { return up[shaft] })
		}
	}
	return list
}

// tieup returns the shafts that each treadle is tied to, or nil if the weaver lifts
// shafts. On a countermarch loom these are the shafts tied up.
func (f *Figures) tieup() [][]int32 {
	if f.byShaft() || f.OnLoom().Treadling.Count() == 0 {
		return nil
	}
	d := f.OnLoom()
	rows := rowsOf(&d.Tieup, 1, d.Tieup.Len())
	if f.Countermarch() && d.Shed == schema.Sinking {
		return f.otherShafts(rows)
	}
	return rows
}

// tieupDown returns the shafts that each treadle of a countermarch loom ties down, or
// nil for other looms.
func (f *Figures) tieupDown() [][]int32 {
	if !f.Countermarch() {
		return nil
	}
	if f.PressesSeveral() {
		return f.freeDown()
	}
	up := f.tieup()
	if up == nil {
		return nil
	}
	return f.otherShafts(up)
}

// otherShafts returns for each row the shafts with ends that it doesn't name.
func (f *Figures) otherShafts(rows [][]int32) [][]int32 {
	list := make([][]int32, 0, len(rows))
	for _, row := range rows {
		list = append(list, f.othersInUse(row))
	}
	return list
}

// moved returns the shafts that a pick of the draft moves on this loom, where the weaver
// presses treadles: those that its treadles are tied to, or tied up to on a countermarch
// loom.
func (f *Figures) moved(pick int) []int32 {
	lift := f.Cloth().LiftOf(pick)
	if f.Countermarch() && f.Draft.Shed == schema.Sinking {
		return f.othersInUse(lift)
	}
	return orEmpty(lift)
}

// shaftsGo returns "up" or "down": where the shafts go on this loom that picks and tie-up
// name. A countermarch loom moves all of them; named are those that go up.
func (f *Figures) shaftsGo() string {
	_, faceDown := f.WrongShed()
	if sinking := f.Draft.Shed == schema.Sinking; sinking != faceDown && !f.Countermarch() {
		return "down"
	}
	return "up"
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
	all := f.Setup.Loom.Shafts
	if all == 0 {
		all = f.Draft.Shafts
	}
	var list []int
	for shaft := 1; shaft <= min(all, schema.MostExtraRows); shaft++ {
		if !in(f.UsedShafts(), int32(shaft)) {
			list = append(list, shaft)
		}
	}
	return list
}
