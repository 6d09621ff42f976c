package cloth

import (
	"fmt"
	"slices"

	"fettle/schema"
)

// LiftOf returns the shafts that a pick names, ascending: its row of the lift plan,
// or the shafts of its treadles. With a sinking shed these go down. The slice may
// belong to the draft.
func (c *Cloth) LiftOf(pick int) []int32 {
	if c.planned {
		return c.draft.LiftPlan.Row(pick)
	}
	treadles := c.draft.Treadling.Row(pick)
	if len(treadles) == 1 {
		return c.draft.Tieup.Row(int(treadles[0]))
	}
	var lift []int32
	for _, treadle := range treadles {
		lift = append(lift, c.draft.Tieup.Row(int(treadle))...)
	}
	slices.Sort(lift)
	return slices.Compact(lift)
}

// DistinctLifts returns how many different sets of shafts the picks lift. The draft
// needs this many treadles, pressed one at a time. Picks that lift nothing don't
// count.
func (c *Cloth) DistinctLifts() int {
	if c.planned { // its different rows are different lifts
		return len(c.lifts) - c.countIdle(c.lifts)
	}
	shafts := liftShafts(c.draft)
	treadled := treadlePaths(c.draft, c.lifts, shafts)
	p := newPartition(len(c.lifts), c.seed)
	words := make([]uint64, len(c.lifts))
	for lanes := range slices.Chunk(countTo(shafts.count), 64) {
		treadled.walk(lanes, words)
		p.refine(words)
	}
	return p.parts - min(1, c.countIdle(c.lifts))
}

// Lifts returns the different lifts of the picks, in order of use, and for each pick
// the index of its lift, from 0. The lifts share no memory with the draft. It returns
// an error if the lifts would be too large.
func (c *Cloth) Lifts() (lifts [][]int32, of []int, err error) {
	if n := c.liftMarks(); n > maxMarks {
		return nil, nil, fmt.Errorf("its lifts have %d marks (limit %d)", n, maxMarks)
	}
	plan := c.liftPlan()
	lifts, of = plan.Distinct()
	return lifts, of, nil
}

// countIdle counts the picks, numbered from 0, that lift nothing.
func (c *Cloth) countIdle(picks []int32) int {
	n := 0
	for _, pick := range picks {
		if !slices.ContainsFunc(c.pickRows().Row(int(pick)+1), c.raises) {
			n++
		}
	}
	return n
}

// raises reports whether a number in the pick rows lifts anything: a shaft does, a
// treadle only if it is tied.
func (c *Cloth) raises(n int32) bool {
	return c.planned || len(c.draft.Tieup.Row(int(n))) > 0
}

// LiftConflicts returns the picks whose lift plan names other shafts than tie-up and
// treadling do. A draft without both has none.
func (c *Cloth) LiftConflicts() []int {
	d := c.draft
	if !c.planned || d.Tieup.Count() == 0 || d.Treadling.Count() == 0 {
		return nil
	}
	shafts := liftShafts(d)
	plans := classify(&d.LiftPlan, c.Picks(), c.seed)
	feet := classify(&d.Treadling, c.Picks(), c.seed)
	plan, foot := planPaths(d, plans.first, shafts), treadlePaths(d, feet.first, shafts)
	planned, trodden := make([]uint64, len(plans.first)), make([]uint64, len(feet.first))
	differ := make([]bool, c.Picks())
	for lanes := range slices.Chunk(countTo(shafts.count), 64) {
		plan.walk(lanes, planned)
		foot.walk(lanes, trodden)
		for i := range differ {
			differ[i] = differ[i] || planned[plans.class[i]] != trodden[feet.class[i]]
		}
	}
	var picks []int
	for i, yes := range differ {
		if yes {
			picks = append(picks, i+1)
		}
	}
	return picks
}

// liftShafts ranks the shafts in the lift plan and the tie-up, even those without ends.
func liftShafts(d *schema.Draft) *ranks {
	highest := max(d.LiftPlan.Highest(), d.Tieup.Highest())
	r := newRanks(highest, d.LiftPlan.Count()+d.Tieup.Count())
	r.take(&d.LiftPlan, countTo(d.LiftPlan.Len()))
	r.take(&d.Tieup, countTo(d.Tieup.Len()))
	return r
}

// planPaths leads from shafts to the picks, numbered from 0, whose row of the lift plan
// has them.
func planPaths(d *schema.Draft, picks []int32, shafts *ranks) paths {
	lifts := tableOf(&d.LiftPlan, picks, shafts.rank)
	return pathsOf(lifts.inverse(shafts.count))
}

// treadlePaths leads from shafts to the picks, numbered from 0, whose treadles are tied
// to them.
func treadlePaths(d *schema.Draft, picks []int32, shafts *ranks) paths {
	treadles := d.Tieup.Len()
	tied := tableOf(&d.Tieup, countTo(treadles), shafts.rank)
	pressed := tableOf(&d.Treadling, picks, rankBelow(treadles))
	return pathsOf(tied.inverse(shafts.count), pressed.inverse(treadles))
}
