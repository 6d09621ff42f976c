package sheet

import (
	"fmt"

	"fettle/schema/wording"
)

// longText is how long a sentence from the plan may be.
const longText = 400

// missing names what was not stated, and what it would give.
func (w *work) missing() step {
	s := step{title: "Not known"}
	t := table{heads: []string{"state", "for"}}
	for _, m := range w.plan.Missing {
		t.add(plain(m.Key, nameInText), plain(m.For, longText))
	}
	if len(t.rows) == 0 {
		return s
	}
	s.tabulate(t)
	s.say("They go into fettle.ini. What stands under [project] can be a flag as well: --finished-length '2.4 m'.")
	return s
}

// reckoned is a loss that was stated, and how the figures allow for it.
type reckoned struct{ key, how string }

// reckoned says which losses were stated, and what each is a part of.
func (w *work) reckoned() []reckoned {
	p := &w.setup.Project
	var list []reckoned
	part := func(key string, fraction float64, what, sign string, factor float64) {
		if fraction > 0 {
			list = append(list, reckoned{key, fmt.Sprintf("%s %% of %s %s %s",
				wording.Decimal(100*fraction, 2), what, sign, wording.Decimal(factor, 4))})
		}
	}
	part("take-up", p.TakeUp, "the warp that is woven up: what is woven, with fringes,", "÷", 1-p.TakeUp)
	if p.LoomWaste > 0 {
		list = append(list, reckoned{"loom waste", w.units.Cloth(p.LoomWaste) + " more for the whole warp"})
	}
	part("shrinkage warp", p.ShrinkageWarp, "the length as woven: what is to be finished", "÷", 1-p.ShrinkageWarp)
	part("shrinkage weft", p.ShrinkageWeft, "the width off the loom: that width", "×", 1-p.ShrinkageWeft)
	part("draw-in", p.DrawIn, "the width in the reed: that width", "×", 1-p.DrawIn)
	part("weft take-up", p.WeftTakeUp, "the width in the reed, more for each pick: that width", "×", 1+p.WeftTakeUp)
	return list
}

// cautions says what the figures rest on.
func (w *work) cautions() step {
	s := step{title: "What the figures rest on"}
	var t table
	for _, l := range w.reckoned() {
		t.add("[project] "+l.key, l.how)
	}
	for _, c := range w.plan.Cautions {
		t.add(plain(c.Key, nameInText), plain(c.Text, longText))
	}
	s.tabulate(t)
	for _, y := range w.plan.Yarns {
		if y.MaxSettPerCm.Known {
			s.say("The setts by rule of thumb come from the size of the yarn and the weave alone (Ashenhurst's rule); fibre and finish count too.")
			break
		}
	}
	s.say("What is said to be usual is a rule of thumb, not a measurement of your yarn. Weave a sample first.")
	return s
}
