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

// facts are what is woven, in a few lines.
func (w *work) facts() table {
	p := w.plan
	var t table
	fact := func(name, value string) {
		if value != "" {
			t.add(name, value)
		}
	}
	fact("Cannot be woven", w.faults())
	fact("To see to", w.lacks())
	fact("Draft", plain(p.Path, 3*nameInText))
	fact("Loom", plain(p.Loom, nameInText))
	fact("Dressing", w.dressing())
	fact("Ends", w.ends())
	fact("Sett", w.per(p.Warp.SettPerCm))
	fact("Width in the reed", w.cm(p.Warp.WidthCm))
	fact("Warp length", w.without(w.metres(p.Warp.LengthM), warpLosses()))
	fact("Woven length", w.without(w.metres(p.WovenLengthM), wovenLosses()))
	fact("Picks", w.picks())
	fact("For", w.items())
	fact("Finished width", w.finishedWidth())
	first, _ := w.sides()
	fact("End 1", "at the "+first+" edge, seen from the front of the loom")
	return t
}

// faults says what keeps the draft from being woven, "" where nothing does.
func (w *work) faults() string {
	var lines []string
	for _, f := range w.plan.Faults {
		lines = append(lines, "As the draft stands, "+plain(f.Text, longText)+".")
	}
	return strings.Join(lines, "\n")
}

// faulty says at a step what keeps the draft from being woven.
func (w *work) faulty(s *step, name string) {
	for _, f := range w.plan.Faults {
		if f.Step == name {
			s.say("This cannot be woven as it stands: %s.", plain(f.Text, longText))
		}
	}
}

// lacks says what the loom, the reed, the heddles or the yarn lack, "" where
// nothing is known to.
func (w *work) lacks() string {
	var lines []string
	for _, l := range w.plan.Lacks {
		lines = append(lines, capital(plain(l.Text, longText))+".")
	}
	return strings.Join(lines, "\n")
}

// lacking says at a step what is lacking for it.
func (w *work) lacking(s *step, name string) {
	for _, l := range w.plan.Lacks {
		if l.Step == name {
			s.say("See to this first: %s.", plain(l.Text, longText))
		}
	}
}

func (w *work) dressing() string {
	if w.plan.Project.BackToFront {
		return "back to front"
	}
	return "front to back"
}

// ends says how many ends there are, and how they come of the draft's.
func (w *work) ends() string {
	p := w.plan.Warp
	text := strconv.Itoa(p.Ends)
	if p.Repeats > 1 {
		text += fmt.Sprintf(": the draft's %d, %d times over", p.DraftEnds, p.Repeats)
	}
	if p.Balance > 0 {
		text += fmt.Sprintf(", and its first %d once more", p.Balance)
	}
	return text
}

// finishedWidth is the width that whole repeats of the draft give, and the one
// that was asked for where that is another.
func (w *work) finishedWidth() string {
	width := w.cm(w.plan.FinishedWidthCm)
	if asked := w.units.Cloth(w.plan.Project.FinishedWidth); width != "" && w.plan.Project.FinishedWidth > 0 && asked != width {
		width += fmt.Sprintf(" with the draft taken %s; %s was asked for", wording.TimesOver(w.plan.Warp.Repeats), asked)
	}
	return w.without(width, widthLosses())
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

// items says what the project asks for, as it was stated.
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

// allowance says how the figures allow for a loss.
func (w *work) allowance(l dressing.Loss) string {
	if l.Length > 0 {
		return w.units.Cloth(l.Length) + " more for the whole warp"
	}
	of := map[string]string{
		"take-up":        "the warp that is woven up: what is woven ÷",
		"shrinkage warp": "the length as woven: what is to be finished ÷",
		"shrinkage weft": "the width off the loom: that width ×",
		"draw-in":        "the width in the reed: that width ×",
		"weft take-up":   "the width in the reed, more for each pick: that width ×",
	}[l.Key]
	return fmt.Sprintf("%s %% of %s %s", wording.Decimal(100*l.Part, 2), of, wording.Decimal(l.Factor, 4))
}

// cautions says what the figures rest on.
func (w *work) cautions() step {
	s := step{title: "What the figures rest on"}
	var t table
	for _, l := range w.plan.Losses {
		t.add("[project] "+l.Key, w.allowance(l))
	}
	for _, c := range w.plan.Cautions {
		if slices.Contains(w.plan.PartialRepeats, c.Text) {
			continue // said where it is woven
		}
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
