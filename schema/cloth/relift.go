package cloth

import (
	"fmt"
	"slices"

	"fettle/schema"
)

// WithLiftPlan returns the draft with a lift plan instead of tie-up and treadling,
// for a dobby. It weaves the same cloth. It returns an error if the plan would be
// too large.
func WithLiftPlan(d *schema.Draft) (*schema.Draft, error) {
	c := Of(d)
	if n := c.liftMarks(); n > maxMarks {
		return nil, fmt.Errorf("its lift plan would have %d marks (limit %d); keep the treadles", n, maxMarks)
	}
	out := *d
	out.LiftPlan = c.liftPlan()
	out.Tieup, out.Treadling, out.Treadles = schema.Rows{}, schema.Rows{}, 0
	return &out, nil
}

func (c *Cloth) liftPlan() (plan schema.Rows) {
	plan.Grow(c.Picks())
	for pick := 1; pick <= c.Picks(); pick++ {
		plan.Append(c.LiftOf(pick)...)
	}
	return plan
}

// maxMarks limits the marks in all lifts of a converted draft, because a small file
// can ask for far more than it lists.
const maxMarks = 5_000_000

// liftMarks returns the number of shafts of all picks' treadles together; 0 if the
// draft has a lift plan, which lists them itself.
func (c *Cloth) liftMarks() int {
	if c.planned {
		return 0
	}
	n := 0
	for pick := 1; pick <= c.Picks(); pick++ {
		for _, treadle := range c.draft.Treadling.Row(pick) {
			n += len(c.draft.Tieup.Row(int(treadle)))
		}
	}
	return n
}

// WithTreadles returns the draft with tie-up and treadling instead of a lift plan:
// one treadle for each distinct lift, in order of use, one for each pick. It weaves
// the same cloth. most limits the treadles, 0 for no limit. A draft with treadles
// and no lift plan stays as it is if it keeps to the limit. It returns an error if
// the draft needs more treadles.
func WithTreadles(d *schema.Draft, most int) (*schema.Draft, error) {
	if d.LiftPlan.Len() == 0 && (most == 0 || d.HighestTreadle() <= most) {
		return d, nil
	}
	c := Of(d)
	if need := c.DistinctLifts(); most > 0 && need > most {
		return nil, fmt.Errorf("the draft lifts %d different sets of shafts, so it needs %d treadles, and there are %d; use a lift plan or a loom with more treadles", need, need, most)
	}
	lifts, of, err := c.Lifts()
	if err != nil {
		return nil, fmt.Errorf("%w; keep the treadles", err)
	}
	out := *d
	out.LiftPlan, out.Tieup, out.Treadling = schema.Rows{}, schema.Rows{}, schema.Rows{}
	treadles := make([][]int32, len(lifts)) // the treadles for each lift
	for i, lift := range lifts {
		if len(lift) > 0 {
			out.Tieup.Append(lift...)
			treadles[i] = []int32{int32(out.Tieup.Len())}
		}
	}
	for _, i := range of {
		out.Treadling.Append(treadles[i]...)
	}
	out.Treadles = out.Tieup.Len()
	return &out, nil
}

// WithShed returns the draft for another shed: each pick or treadle names the other
// shafts. It returns an error if the cloth would change, as it can with ends on
// several shafts.
func WithShed(d *schema.Draft, shed schema.Shed) (*schema.Draft, error) {
	out := *d
	out.Shed = shed
	if (d.Shed == schema.Sinking) == (shed == schema.Sinking) {
		return &out, nil
	}
	shafts := d.Threading.Different() // the shafts with ends
	byTieup := d.LiftPlan.Len() == 0 && d.OneTreadleAPick()
	rows := d.Picks()
	if byTieup {
		rows = max(d.Tieup.Len(), d.Treadling.Highest())
	}
	if n := len(shafts) * rows; n > maxMarks {
		return nil, fmt.Errorf("the draft can't become a %s shed: its lifts would have %d marks (limit %d); keep the shed as it is", shed, n, maxMarks)
	}
	if byTieup {
		out.Tieup = otherShafts(&d.Tieup, rows, shafts)
	} else {
		plan, err := WithLiftPlan(d)
		if err != nil {
			return nil, err
		}
		plan.LiftPlan = otherShafts(&plan.LiftPlan, plan.LiftPlan.Len(), shafts)
		plan.Shed = shed
		if d.LiftPlan.Len() > 0 {
			out.LiftPlan, out.Tieup, out.Treadling, out.Treadles = plan.LiftPlan, plan.Tieup, plan.Treadling, 0
		} else {
			treadled, err := WithTreadles(plan, 0)
			if err != nil {
				return nil, err
			}
			out = *treadled
		}
	}
	if !Same(&out, d) {
		return nil, fmt.Errorf("the draft can't become a %s shed: ends on several shafts would change the cloth; keep the shed as it is, or put each end on one shaft", shed)
	}
	return &out, nil
}

// otherShafts returns a table that has, in each row, the shafts that t doesn't have.
func otherShafts(t *schema.Rows, rows int, shafts []int32) schema.Rows {
	var out schema.Rows
	var row []int32
	for n := 1; n <= rows; n++ {
		row = row[:0]
		has := t.Row(n)
		for _, s := range shafts {
			if _, named := slices.BinarySearch(has, s); !named {
				row = append(row, s)
			}
		}
		out.Append(row...)
	}
	return out
}
