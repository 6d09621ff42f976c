package sheet

import (
	"fmt"
	"strconv"
	"strings"

	"fettle/schema"
	"fettle/schema/dressing"
)

func (w *work) beam() step {
	s := step{title: "Beam the warp"}
	if w.plan.Warp.LengthM.Known {
		s.say("Wind on all of the %s under one even tension, with paper or sticks between the layers.", w.metres(w.plan.Warp.LengthM))
	} else {
		s.say("Wind on under one even tension, with paper or sticks between the layers.")
	}
	return s
}

func (w *work) tieOn() step {
	s := step{title: "Tie on"}
	s.say("Tie the warp to the front apron rod in small bundles, from the centre outward, and even the tension.")
	if cord := w.plan.LashingCordCm; cord.Known {
		s.say("If you lash on, cut %s of cord.", w.cm(cord))
	}
	w.tieup(&s)
	return s
}

// tieup is the shafts that each treadle moves.
func (w *work) tieup(s *step) {
	t := table{heads: []string{"treadle", "tied to shafts"}, right: []bool{true}}
	if !w.byShaft() {
		for n := 1; n <= w.draft.Tieup.Len(); n++ {
			if row := w.draft.Tieup.Row(n); len(row) > 0 {
				t.add(strconv.Itoa(n), list(row))
			}
		}
	}
	if len(t.rows) == 0 {
		return
	}
	s.say("Tie up the treadles. %s", w.shed())
	s.tabulate(t)
}

// shed says what happens to the shafts that are named.
func (w *work) shed() string {
	switch w.draft.Shed {
	case schema.Sinking:
		return "The shafts named go down."
	case schema.Rising:
		return "The shafts named go up."
	}
	return "The shafts named go up, since the draft does not say otherwise."
}

// weave is what to weave, and the lifts of the picks.
func (w *work) weave() step {
	s := step{title: "Weave"}
	w.faulty(&s, dressing.Weave)
	p := w.plan.Weft
	switch {
	case p.Picks.Known:
		s.say("Weave %s picks at %s: %s, measured with the tension off.", whole(p.Picks), w.per(p.PicksPerCm), w.metres(w.plan.WovenLengthM))
		if lacks := w.unstated(wovenLosses()); lacks != "" {
			s.say("That is without %s, which is not stated: once washed, the cloth is shorter than was asked for by what it shrinks.", lacks)
		}
		if n := w.draft.Picks(); n > 0 {
			s.say("%s", times(int(p.Picks.Value), n))
		}
	case p.PicksPerCm.Known:
		s.say("Weave at %s. How many picks is not known: state %s.", w.per(p.PicksPerCm), w.wanting("[project] finished length"))
	default:
		s.say("How many picks is not known: state %s.", w.wanting("[project] finished length", "[project] picks"))
	}
	if sample := w.setup.Project.Sample; sample > 0 {
		s.say("Of that, the first %s is a sample, as it should be when finished: wash it and measure it before you go on.", w.units.Length(sample))
	}
	if fringe := w.setup.Project.Fringe; fringe > 0 {
		s.say("Leave %s of warp without picks for the fringe of each item.", w.units.Length(fringe))
	}
	w.lifts(&s)
	return s
}

// times says how often so many picks go through a draft of n.
func times(picks, n int) string {
	text := fmt.Sprintf("The draft has %s; that is ", threads(n, "pick"))
	if picks < n {
		return text + fmt.Sprintf("its first %d.", picks)
	}
	text += "all of them once"
	if all := picks / n; all > 1 {
		text = strings.TrimSuffix(text, "once") + fmt.Sprintf("%d times", all)
	}
	if over := picks % n; over > 0 {
		text += fmt.Sprintf(", and then the first %d", over)
	}
	return text + "."
}
