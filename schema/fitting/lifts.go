package fitting

import (
	"cmp"
	"slices"

	"fettle/schema"
	"fettle/schema/cloth"
)

// mostMapped is the most shafts in use that lifts are searched for: a bit each.
const mostMapped = 64

// raised is the lifts of a draft over the shafts in use, and which pick has which.
type raised struct {
	lifts  [][]int32 // different ones; an empty lift is not among them
	of     []int     // by pick - 1; -1 for an empty lift
	first  []int     // by lift, the first pick
	shafts []int32   // in use, ascending
}

func raisedBy(d *schema.Draft, c *cloth.Cloth) (*raised, error) {
	lifts, of, err := c.Lifts()
	if err != nil {
		return nil, err
	}
	r := &raised{shafts: d.Threading.Different(), of: make([]int, len(of))}
	number, at := make([]int, len(lifts)), map[string]int{}
	for i, lift := range lifts {
		number[i] = -1
		var row []int32
		for _, s := range lift {
			if _, used := slices.BinarySearch(r.shafts, s); used {
				row = append(row, s)
			}
		}
		if len(row) == 0 {
			continue
		}
		key := cloth.RowKey(row)
		n, known := at[key]
		if !known {
			n = len(r.lifts)
			at[key] = n
			r.lifts = append(r.lifts, row)
		}
		number[i] = n
	}
	r.first = make([]int, len(r.lifts))
	for i, n := range of {
		r.of[i] = number[n]
		if n := number[n]; n >= 0 && r.first[n] == 0 {
			r.first[n] = i + 1
		}
	}
	return r, nil
}

// relift has the lifts come from where the loom wants them, with no more treadles
// than it has. Where that cannot be it says why, and gives the draft as it is.
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
	if !planned || trodden {
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
		if planned {
			return d, nil
		}
		f.changed(Lifts)
		return cloth.WithLiftPlan(d)
	}
	if !planned || trodden {
		t.Result = len(d.Treadling.Different()) // the shed may have changed them
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
	var w *footwork
	switch {
	case unlimited || len(lifts.lifts) <= have:
		w = nil
	case found.treadles <= have && len(found.best.up) > 0:
		w = &found.best
	default:
		reason := Reason{Rule: "loom/too-many-treadles", Needed: t.AtLeast, Available: have}
		if reason.Undecided = t.AtLeast <= have; reason.Undecided {
			reason.Needed = t.Fewest
		}
		for _, lift := range found.forcing {
			reason.Lifts = append(reason.Lifts, lifts.first[lift])
		}
		slices.Sort(reason.Lifts)
		f.result.Why = append(f.result.Why, reason)
		return d, nil
	}
	if planned && !trodden {
		f.changed(Lifts)
	} else {
		f.changed(Treadles)
	}
	out := f.trodden(d, lifts, w)
	t.Result = out.Treadles
	return out, nil
}

// found is the answer of a search for treadles, by shafts in use.
type found struct {
	answer
	treadles int
}

// search finds the fewest treadles for lifts.
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

// pressable reports whether the draft's own treadling can be pressed on the loom:
// no more treadles at once than may be, and on a loom that ties shafts down no two
// together, since the draft says nothing of what its treadles tie down.
func (f *fitter) pressable(d *schema.Draft, lifts *raised) bool {
	if !f.loom.TreadlesKnown && f.loom.AtOnce == 0 && f.loom.Shed != schema.Balanced && f.loom.Shed != schema.Countermarch {
		return true
	}
	most := f.result.Treadles.AtOnce
	if f.loom.Shed == schema.Countermarch {
		most = 1
	}
	for pick := 1; pick <= d.Picks(); pick++ {
		if len(d.Treadling.Row(pick)) > most && lifts.of[pick-1] >= 0 {
			return false
		}
	}
	return true
}

// pressedOnly keeps the treadles that are pressed, numbered from 1 in their order. They
// lift all that a lift plan beside them does, which goes.
func pressedOnly(d *schema.Draft) *schema.Draft {
	out := *d
	out.LiftPlan, out.Tieup = schema.Rows{}, schema.Rows{}
	number := map[int32][]int32{}
	for i, t := range d.Treadling.Different() {
		number[t] = []int32{int32(i + 1)}
		out.Tieup.Append(d.Tieup.Row(int(t))...)
	}
	out.Treadling = translated(&d.Treadling, number)
	out.Treadles = out.Tieup.Len()
	return &out
}

// trodden gives the draft a tie-up and a treadling: those found, or for nil a
// treadle for each lift, in the order of the draft's own treadles or of the picks.
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
				f.result.Down = append(f.result.Down, slices.DeleteFunc(slices.Clone(lifts.shafts), func(s int32) bool { return slices.Contains(up, s) }))
			}
		}
	} else {
		arranged := arrange(*w, lifts, plainLifts(d, lifts))
		for i, up := range arranged.up {
			tied = append(tied, rowOf(up, lifts.shafts))
			if arranged.down != nil {
				f.result.Down = append(f.result.Down, rowOf(arranged.down[i], lifts.shafts))
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
