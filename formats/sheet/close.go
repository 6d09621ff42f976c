package sheet

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

// cautions says what the figures rest on.
func (w *work) cautions() step {
	s := step{title: "What the figures rest on"}
	var t table
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
