package fitting

import (
	"cmp"
	"slices"

	"fettle/schema"
	"fettle/schema/cloth"
)

// mostMapped is the most shafts that a search handles: one bit for each.
const mostMapped = 64

// raised holds the lifts of a draft over the shafts that carry ends.
type raised struct {
	lifts  [][]int32 // the different lifts, without the empty one
	of     []int     // by pick - 1, the index of its lift; -1 for an empty one
	first  []int     // by lift, its first pick
	shafts []int32   // the shafts that carry ends, ascending
}

func raisedBy(d *schema.Draft, c *cloth.Cloth) (*raised, error) {
	all, of, err := c.Lifts()
	if err != nil {
		return nil, err
	}
	r := &raised{shafts: d.Threading.Different(), of: of}
	var inUse schema.Rows
	for _, lift := range all {
		inUse.Append(slices.DeleteFunc(lift, func(shaft int32) bool {
			_, used := slices.BinarySearch(r.shafts, shaft)
			return !used
		})...)
	}
	different, number := inUse.Distinct()
	lift := make([]int, len(different)) // by different row, -1 for the empty one
	for i, row := range different {
		lift[i] = -1
		if len(row) > 0 {
			lift[i] = len(r.lifts)
			r.lifts = append(r.lifts, row)
		}
	}
	r.first = make([]int, len(r.lifts))
	for i, n := range of {
		r.of[i] = lift[number[n]]
		if n := r.of[i]; n >= 0 && r.first[n] == 0 {
			r.first[n] = i + 1
		}
	}
	return r, nil
}

// relift gives the draft a lift plan, or treadles that the loom has. If that is
// impossible it adds the reason and returns the draft unchanged.
func (f *fitter) relift(d *schema.Draft) (*schema.Draft, error) {
	c := cloth.Of(d)
	planned := d.LiftPlan.Len() > 0
	trodden := !planned || d.Tieup.Count() > 0 && d.Treadling.Count() > 0 && len(c.LiftConflicts()) == 0
	t := &f.result.Treadles
	t.AtOnce = max(f.loom.AtOnce, 1)
	if f.loom.Shed == schema.Balanced {
		t.AtOnce = 1
	}
	have := f.loom.Treadles
	t.Available = known(have, f.loom.TreadlesKnown)
	if trodden {
		t.Used = len(f.draft.Treadling.Different())
	}
	lifts, err := raisedBy(d, c)
	if err != nil {
		return nil, err
	}
	found := f.search(lifts)
	t.Fewest, t.AtLeast = found.treadles, found.atLeast
	t.Proved = t.Fewest == t.AtLeast
	unlimited := !f.loom.TreadlesKnown
	if f.loom.TreadlesKnown && have == 0 {
		if planned || d.Picks() == 0 {
			return d, nil
		}
		f.changed(Lifts)
		return cloth.WithLiftPlan(d)
	}
	if trodden {
		t.Result = len(d.Treadling.Different()) // settleShed may have changed them
	}
	if planned && unlimited {
		return d, nil
	}
	if trodden && f.pressable(d, lifts) {
		if unlimited || d.HighestTreadle() <= have {
			return d, nil
		}
		if len(d.Treadling.Different()) <= have {
			f.changed(Treadles)
			return pressedOnly(d), nil
		}
	}
	var w *footwork // nil for a treadle for each lift
	if !unlimited && len(lifts.lifts) > have {
		if found.treadles > have || len(found.best.up) == 0 {
			f.lackTreadles(lifts, found.forcing)
			return d, nil
		}
		w = &found.best
	}
	if trodden {
		f.changed(Treadles)
	} else {
		f.changed(Lifts)
	}
	out := f.trodden(d, lifts, w)
	t.Result = out.Treadles
	return out, nil
}

// lackTreadles adds the reason that the loom has too few treadles. forcing are the lifts
// that need them.
func (f *fitter) lackTreadles(lifts *raised, forcing []int) {
	t, have := &f.result.Treadles, f.loom.Treadles
	reason := Reason{Rule: "loom/too-many-treadles", Needed: t.AtLeast, Available: have}
	if reason.Undecided = t.AtLeast <= have; reason.Undecided {
		reason.Needed = t.Fewest
	} else {
		reason.MoreAtOnce = t.AtOnce == 1 && f.loom.Shed != schema.Balanced
	}
	for _, lift := range forcing {
		reason.Lifts = append(reason.Lifts, lifts.first[lift])
	}
	slices.Sort(reason.Lifts)
	f.result.Why = append(f.result.Why, reason)
}

// found is an answer with its number of treadles.
type found struct {
	answer
	treadles int
}

func (f *fitter) search(lifts *raised) found {
	n, atOnce := len(lifts.lifts), f.result.Treadles.AtOnce
	if atOnce <= 1 || n <= 1 || len(lifts.shafts) > mostMapped {
		return found{answer{atLeast: counted(n, atOnce), forcing: numbersTo(n)}, n}
	}
	s := &sheds{shafts: len(lifts.shafts), atOnce: atOnce, tiedDown: f.loom.Shed == schema.Countermarch}
	for _, lift := range lifts.lifts {
		s.lifts = append(s.lifts, bitsOf(lift, lifts.shafts))
	}
	steps := cmp.Or(f.loom.steps, mostSteps)
	a := s.fewest(&steps)
	return found{a, len(a.best.up)}
}

func bitsOf(row, shafts []int32) (set uint64) {
	for _, shaft := range row {
		n, _ := slices.BinarySearch(shafts, shaft)
		set |= 1 << n
	}
	return set
}

// pressable reports whether a weaver can press the draft's own treadling on the loom:
// no more treadles together than allowed and, on a countermarch, only treadles that
// can be tied down to match.
func (f *fitter) pressable(d *schema.Draft, lifts *raised) bool {
	if !f.loom.TreadlesKnown && f.loom.AtOnce == 0 && f.loom.Shed != schema.Balanced && f.loom.Shed != schema.Countermarch {
		return true
	}
	most := 0
	for pick := 1; pick <= d.Picks(); pick++ {
		if lifts.of[pick-1] >= 0 {
			most = max(most, len(d.Treadling.Row(pick)))
		}
	}
	if most > f.result.Treadles.AtOnce {
		return false
	}
	return most <= 1 || f.loom.Shed != schema.Countermarch || f.canTieDown(d, lifts)
}

// canTieDown reports whether the draft's treadles can tie shafts down so that the
// treadles of each pick move every shaft, and each shaft only once.
func (f *fitter) canTieDown(d *schema.Draft, lifts *raised) bool {
	rank := d.Treadling.Ranks()
	rows, of := d.Treadling.Distinct()
	lifting := make([]bool, len(rows))
	for pick, row := range of {
		lifting[row] = lifts.of[pick] >= 0
	}
	if max(len(rows), len(rank))*len(lifts.shafts) > mostConditions {
		return false
	}
	clauses := &formula{}
	down := clauses.grid(len(rank), len(lifts.shafts))
	for n, shaft := range lifts.shafts {
		for i, row := range rows {
			if !lifting[i] {
				continue
			}
			ties := make([]int, len(row))
			for i, treadle := range row {
				ties[i] = down[rank[treadle]-1][n]
			}
			if !clauses.moveOnce(&d.Tieup, shaft, row, ties) {
				return false
			}
		}
	}
	steps := cmp.Or(f.loom.steps, mostSteps)
	_, v := clauses.solve(&steps)
	return v == possible
}

// moveOnce requires that just one of the treadles moves a shaft: the one that raises it,
// otherwise one that ties it down. ties holds a variable for each. It returns false if
// several raise it.
func (f *formula) moveOnce(tieup *schema.Rows, shaft int32, treadles []int32, ties []int) bool {
	raising := 0
	for i, treadle := range treadles {
		if _, up := slices.BinarySearch(tieup.Row(int(treadle)), shaft); up {
			raising++
			f.any(-ties[i])
		}
	}
	switch raising {
	case 0:
		f.any(ties...)
		f.atMost(1, ties)
	case 1:
		f.atMost(0, ties)
	}
	return raising <= 1
}

// pressedOnly keeps the treadles that are pressed, and numbers them from 1 in their
// order. It drops a lift plan, which lifts the same shafts.
func pressedOnly(d *schema.Draft) *schema.Draft {
	out := *d
	out.LiftPlan, out.Tieup = schema.Rows{}, schema.Rows{}
	for _, t := range d.Treadling.Different() {
		out.Tieup.Append(d.Tieup.Row(int(t))...)
	}
	out.Treadling = renumbered(&d.Treadling, d.Treadling.Ranks())
	out.Treadles = out.Tieup.Len()
	return &out
}

// trodden gives the draft a tie-up and a treadling. If w is nil, each lift gets a
// treadle, in the order of the draft's own treadles or of the picks.
func (f *fitter) trodden(d *schema.Draft, lifts *raised, w *footwork) *schema.Draft {
	var tied [][]int32
	press := make([][]int32, len(lifts.lifts))
	if w == nil {
		order := numbersTo(len(lifts.lifts))
		slices.SortStableFunc(order, func(a, b int) int {
			return cmp.Or(slices.Compare(d.Treadling.Row(lifts.first[a]), d.Treadling.Row(lifts.first[b])), cmp.Compare(lifts.first[a], lifts.first[b]))
		})
		for n, lift := range order {
			tied = append(tied, lifts.lifts[lift])
			press[lift] = []int32{int32(n + 1)}
		}
		if f.loom.Shed == schema.Countermarch {
			for _, up := range tied {
				f.down = append(f.down, slices.DeleteFunc(slices.Clone(lifts.shafts), func(s int32) bool { return slices.Contains(up, s) }))
			}
		}
	} else {
		arranged := arrange(*w, lifts, plainLifts(d, lifts))
		for i, up := range arranged.up {
			tied = append(tied, rowOf(up, lifts.shafts))
			if arranged.down != nil {
				f.down = append(f.down, rowOf(arranged.down[i], lifts.shafts))
			}
		}
		for lift, list := range arranged.presses {
			for _, t := range list {
				press[lift] = append(press[lift], int32(t+1))
			}
		}
	}
	out := *d
	out.LiftPlan, out.Tieup, out.Treadling = schema.Rows{}, schema.RowsOf(tied...), schema.Rows{}
	for _, lift := range lifts.of {
		if lift < 0 {
			out.Treadling.Append()
		} else {
			out.Treadling.Append(press[lift]...)
		}
	}
	out.Treadles = len(tied)
	return &out
}

func rowOf(set uint64, shafts []int32) []int32 {
	var row []int32
	for n, shaft := range shafts {
		if set>>n&1 != 0 {
			row = append(row, shaft)
		}
	}
	return row
}
