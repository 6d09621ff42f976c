package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettle/schema/dressing"
	"fettle/schema/wording"
)

func (w *work) title() string {
	return cmp.Or(plain(w.plan.Title, nameInText), plain(w.plan.Path, nameInText), "Dressing sheet")
}

// facts lists what is woven, in a few lines.
func (w *work) facts() table {
	p := w.plan
	var t table
	fact := func(name, value string) {
		if value != "" {
			t.add(name, value)
		}
	}
	fact("Can't be woven", problemLines(w.plan.Faults))
	fact("To see to", problemLines(w.plan.Lacks))
	fact("Draft", plain(p.Path, 3*nameInText))
	fact("Loom", plain(p.Loom, nameInText))
	fact("Dressing", w.dressing())
	fact("Ends", w.ends())
	fact("Sett", w.per(p.Warp.SettPerCm))
	fact("Layers", w.layers())
	fact("Width in the reed", w.cm(p.Warp.WidthCm))
	fact("Warp length", without(w.warpLengths(), w.plan.Without.Warp))
	fact("Woven length", without(w.woven(), w.plan.Without.WovenLength))
	fact("Picks", w.picks())
	fact("For", w.items())
	fact("Finished width", w.finishedWidth())
	first, _ := w.sides()
	fact("End 1", "at the "+first+" edge, seen from the front of the loom")
	return t
}

// warpLengths says how long each warp is.
func (w *work) warpLengths() string {
	if len(w.plan.Warps) < 2 {
		return w.warpLength(w.plan.Warp.LengthM)
	}
	var lines []string
	for _, warp := range w.plan.Warps {
		if warp.LengthM.Known {
			lines = append(lines, w.warpLength(warp.LengthM)+" for the "+wording.Counted(warp.Ends, "end")+" of "+w.warpName(warp))
		}
	}
	return strings.Join(lines, "; ")
}

// layers says that the cloth is in layers, and gives the sett of each.
func (w *work) layers() string {
	var setts []string
	for _, sett := range w.plan.LayerSetts {
		setts = append(setts, w.per(sett))
	}
	if len(setts) == 0 {
		return ""
	}
	text := fmt.Sprintf("the cloth has %d layers", len(setts))
	if w.plan.Warp.SettPerCm.Known {
		text += fmt.Sprintf(", from the top at %s", wording.Listed(setts))
	}
	return text
}

// problemLines writes problems, a line each.
func problemLines(list []dressing.ProblemRow) string {
	var lines []string
	for _, p := range list {
		lines = append(lines, capital(plain(p.Text, longText))+".")
	}
	return strings.Join(lines, "\n")
}

// faulty lists the faults that affect a step.
func (w *work) faulty(s *step, name string) {
	s.problems(w.plan.Faults, name, "This can't be woven as it is")
}

// lacking lists what is missing for a step.
func (w *work) lacking(s *step, name string) { s.problems(w.plan.Lacks, name, "See to this first") }

func (s *step) problems(list []dressing.ProblemRow, name, about string) {
	for _, p := range list {
		if p.Step == name {
			s.say("%s: %s.", about, plain(p.Text, longText))
		}
	}
}

func (w *work) dressing() string {
	if w.plan.Project.BackToFront {
		return "back to front"
	}
	return "front to back"
}

// ends gives the number of ends, and how repeats of the draft add up to it.
func (w *work) ends() string {
	p := w.plan.Warp
	text := strconv.Itoa(p.Ends)
	if p.Repeats > 1 {
		text += fmt.Sprintf(": the draft's %d, %d times", p.DraftEnds, p.Repeats)
	}
	if p.Balance > 0 {
		text += fmt.Sprintf(", and its first %d once more", p.Balance)
	}
	return text
}

// finishedWidth gives the width of whole repeats of the draft, and the stated width if it
// differs.
func (w *work) finishedWidth() string {
	width := w.cm(w.plan.FinishedWidthCm)
	if asked := w.units.Cloth(w.plan.Project.FinishedWidth); width != "" && w.plan.Project.FinishedWidth > 0 && asked != width {
		width += fmt.Sprintf(" with the draft threaded %s; you asked for %s", wording.TimesOver(w.plan.Warp.Repeats), asked)
	}
	return without(width, w.plan.Without.Width)
}

func (w *work) picks() string {
	p := w.plan.Weft
	switch {
	case p.Picks.Known:
		return fmt.Sprintf("%s, at %s", whole(p.Picks), w.per(p.PicksPerCm))
	case p.PicksPerCm.Known:
		return "at " + w.per(p.PicksPerCm)
	}
	return ""
}

// items gives the number and size of the items, as stated in the project.
func (w *work) items() string {
	p := w.plan.Project
	text := counted(w.plan.Items, "item") + " of "
	switch {
	case p.PicksPerItem > 0:
		text += wording.Counted(p.PicksPerItem, "pick")
	case p.RepeatsPerItem > 0:
		text += wording.Counted(p.RepeatsPerItem, "repeat")
	case p.FinishedLength > 0:
		text += w.units.Cloth(p.FinishedLength)
	default:
		return ""
	}
	if p.Hem > 0 {
		text += " and " + w.units.Cloth(p.Hem) + " for hems"
	}
	if p.Sample > 0 {
		text += ", a sample of " + w.units.Cloth(p.Sample)
	}
	text += ", as finished"
	if p.Fringe > 0 {
		text += "; fringe " + w.units.Cloth(p.Fringe) + " each"
	}
	return text
}

// longText limits the length of a sentence from the plan.
const longText = 400

// missing lists the settings that are not stated, and the figures they would give.
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
	s.say("State them in fettle.ini.")
	return s
}

// allowance says how the figures allow for a loss.
func (w *work) allowance(l dressing.Loss) string {
	if l.Key == "loom waste" || l.Key == "re-tie" {
		return w.units.Cloth(l.Length) + " more for the whole warp"
	}
	of := map[string]string{
		"take-up":        "the warp used in weaving: woven length ÷",
		"shrinkage warp": "the woven length: finished length ÷",
		"shrinkage weft": "the width off the loom: that width ×",
		"draw-in":        "the width in the reed: that width ×",
		"weft take-up":   "the width in the reed, more for each pick: that width ×",
	}[l.Key]
	return fmt.Sprintf("%s %% of %s %s", wording.Decimal(100*l.Part, 2), of, wording.Decimal(l.Factor, 4))
}

// cautions lists the assumptions behind the figures.
func (w *work) cautions() step {
	s := step{title: "What the figures rest on"}
	var t table
	for _, l := range w.plan.Losses {
		section := "[project] "
		if l.Warp != "" {
			section = "[warp " + plain(l.Warp, nameInTable) + "] "
		}
		t.add(section+l.Key, w.allowance(l))
	}
	for _, c := range w.plan.Cautions {
		if slices.ContainsFunc(w.plan.PartialRepeats, func(r dressing.PartRepeat) bool { return r.Text == c.Text }) {
			continue // stated at the step where it is woven
		}
		t.add(plain(c.Key, nameInText), plain(c.Text, longText))
	}
	s.tabulate(t)
	for _, y := range w.plan.Yarns {
		if y.MaxSettPerCm.Known {
			s.say("The setts by rule of thumb (Ashenhurst's rule) follow from the count of the yarn and the weave alone. Fibre and finish matter too.")
			break
		}
	}
	s.say("The usual figures are rules of thumb, not measurements of your yarn. Weave a sample first.")
	return s
}
