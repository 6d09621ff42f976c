package sheet

import (
	"strings"

	"fettle/schema/dressing"
)

// work returns the steps at the loom that apply, in the order of dressing.
func (w *work) work() []step {
	order := []func() step{w.heddles, w.wind, w.cross, w.chain, w.lease, w.cutLoops, w.sley, w.thread, w.checkThreading,
		w.tieBack, w.beam, w.tieFront, w.tension, w.tieUp, w.heading, w.checkShafts}
	if w.plan.Project.BackToFront {
		order = []func() step{w.heddles, w.wind, w.cross, w.chain, w.tieBack, w.lease, w.raddle, w.beam, w.cutLoops, w.thread, w.checkThreading,
			w.sley, w.tieFront, w.tension, w.tieUp, w.heading, w.checkShafts}
	}
	order = append(order, w.weaveSample, w.tieAgain, w.tensionAgain, w.headingAgain, w.weave)
	var list []step
	for _, write := range order {
		if s := write(); len(s.parts) > 0 {
			list = append(list, s)
		}
	}
	return list
}

// stepRows returns the steps for the plan's JSON: for each, the sentences before its
// first table, and those that hold without the sheet.
func (w *work) stepRows() []dressing.StepRow {
	rows := []dressing.StepRow{}
	for _, s := range w.work() {
		var text, atLoom []string
		for _, p := range s.parts {
			if p.say == "" && len(text) > 0 {
				break
			}
			if p.say != "" {
				text = append(text, p.say)
			}
			if words := p.withoutSheet(); words != "" {
				atLoom = append(atLoom, words)
			}
		}
		row := dressing.StepRow{Step: s.id, Title: s.title, Text: strings.Join(text, " ")}
		if words := strings.Join(atLoom, " "); words != row.Text {
			row.AtLoom = words
		}
		rows = append(rows, row)
	}
	return rows
}

// withoutSheet returns a paragraph in words that hold without the sheet, so without the
// headings of its tables; "" for none.
func (p part) withoutSheet() string {
	switch {
	case p.onPaper:
		return p.atLoom
	case strings.HasSuffix(p.say, ":"):
		return ""
	}
	return p.say
}

func (w *work) cross() step {
	s := step{id: "cross", title: "Tie the cross"}
	s.say("Tie the cross of each bout on both sides and at the waist. Put a tight choke tie around the bout every %s or so.", w.lengthWord("yard", "metre"))
	return s
}

func (w *work) chain() step {
	s := step{id: "chain", title: "Chain the bouts"}
	if n := len(w.plan.Winding.Bouts); n > 1 {
		s.say("Take the bouts off one by one, chain each, and label it with its number, from 1 to %d.", n)
	} else {
		s.say("Take the warp off and chain it.")
	}
	return s
}

func (w *work) lease() step {
	s := step{id: "lease", title: "Put in the lease sticks"}
	first, second := w.sides()
	lowest, own := "Bout 1", ""
	if len(w.plan.Warps) > 1 {
		lowest, own = "The lowest bout of each warp", " Give each warp its own sticks."
	}
	s.say("Put a lease stick into the cross on each side and tie the sticks together.%s %s lies at the %s; the others follow to the %s.", own, lowest, first, second)
	if w.plan.Project.BackToFront {
		s.say("Tie the sticks between the back beam and the shafts.")
	} else {
		s.say("Tie the sticks to the front beam.")
	}
	return s
}

func (w *work) cutLoops() step {
	s := step{id: "cut-loops", title: "Cut the loops"}
	s.say("Cut the loops at the end of each bout. Tie the ends in loose slip knots, so that none slides out of the cross.")
	return s
}

func (w *work) checkThreading() step {
	s := step{id: "check-threading", title: "Check the threading"}
	next := "tie the warp to the back rod"
	if w.plan.Project.BackToFront {
		next = "sley the reed"
	}
	s.say("Check the whole threading against the lines above, from edge to edge, before you %s.", next)
	s.insteadAtLoom("Check the whole threading against its lines, from edge to edge, before you " + next + ".")
	return s
}

func (w *work) tieBack() step {
	s := step{id: "tie-back", title: "Tie to the back rod"}
	if w.plan.Project.BackToFront {
		s.say("Slip the end loops of the bouts onto the back apron rod, in the order of the lease sticks, and centre them.")
	} else {
		s.say("Tie the ends to the back apron rod in small bunches, from the centre outward.")
	}
	return s
}

func (w *work) tension() step {
	s := step{id: "tension", title: "Even the tension"}
	w.evenTension(&s)
	return s
}

func (w *work) evenTension(s *step) {
	s.say("Pat the warp from edge to edge. Tighten the bunches that feel slack until all feel alike.")
}

func (w *work) heading() step {
	s := step{id: "heading", title: "Weave a heading"}
	w.weaveHeading(&s, "Wind the bobbins. ")
	w.hangFloating(&s)
	return s
}

func (w *work) weaveHeading(s *step, first string) {
	s.say("%sWeave %s of waste yarn until the ends are spread evenly.", first, w.lengthWord("an inch or two", "a few centimetres"))
}

// hangFloating says what to do with floating selvedges before weaving.
func (w *work) hangFloating(s *step) {
	if w.plan.Project.FloatingSelvedge {
		s.say("Weight the floating selvedges, so that they lie in the middle of the shed.")
	}
}

func (w *work) checkShafts() step {
	s := step{id: "check-shafts", title: "Check the sheds"}
	s.say("Lift each shaft alone and look for crossed and missed ends. Correct them now; it is harder later.")
	return s
}
