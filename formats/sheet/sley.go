package sheet

import (
	"fmt"
	"math"
	"slices"

	"fettle/schema/dressing"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

// sley says how the ends go through the reed.
func (w *work) sley() step {
	s := step{id: "sley", title: "Sley the reed"}
	w.lacking(&s, dressing.SleyReed)
	p := w.plan.Sley
	if p == nil {
		s.say("The sleying is unknown; state %s.", w.wanting("[project] sett", "[reed] dents"))
		w.centre(&s)
		return s
	}
	w.reed(&s, p)
	w.centre(&s)
	first, second := w.sides()
	half := w.plan.Warp.Half
	t := table{heads: []string{"from the centre", "ends", "in each dent, over and over"}}
	t.add("to the "+first, spanDown(half), orderText(p.FromCentre.FirstHalf))
	t.add("to the "+second, span(half+1, w.plan.Warp.Ends), orderText(p.FromCentre.SecondHalf))
	if half == 0 {
		t.rows = t.rows[1:]
	}
	s.tabulate(t)
	w.tens(&s, p)
	s.say("%s", w.dentCount(p))
	if p.OtherReed != nil {
		s.say("%s", w.otherReed(p.OtherReed))
	}
	w.floating(&s)
	return s
}

// floating says how to sley floating selvedges, and tells you to wind them separately if
// the draft has none.
func (w *work) floating(s *step) {
	first, last := w.plan.FloatingFirst, w.plan.FloatingLast
	at, other := w.sides()
	if last {
		at, other = other, at
	}
	switch {
	case !w.plan.Project.FloatingSelvedge || w.plan.Warp.DraftEnds == 0:
	case first && last:
		s.say("The floating selvedges go through the reed with the rest, but through no heddle.")
	case first || last:
		s.say("The floating selvedge at the %s goes through the reed with the rest, but through no heddle. The draft has none at the %s: wind an extra end for it, and sley it beside the last, through no heddle. These figures leave it out.", at, other)
	default:
		s.say("The draft has no floating selvedges: wind an extra end for each side, and sley it beside the last, through no heddle. These figures leave them out.")
	}
}

// tens counts the dents in tens from the centre to each side.
func (w *work) tens(s *step, p *dressing.SleyPlan) {
	first, second := w.sides()
	firstTens, secondTens := wholeTens(p.Tens.FirstHalf), wholeTens(p.Tens.SecondHalf)
	if len(firstTens)+len(secondTens) == 0 {
		return
	}
	s.introduce("Count the dents in tens. Each box gives the dents so far and, after the colon, the last end in them.")
	s.insteadAtLoom("Count the dents in tens.")
	for _, half := range []struct {
		side  string
		marks []dressing.DentTen
	}{{first, firstTens}, {second, secondTens}} {
		if len(half.marks) == 0 {
			continue
		}
		s.say("From the centre to the %s:", half.side)
		labels := make([]string, len(half.marks))
		for i, m := range half.marks {
			labels[i] = fmt.Sprintf("%d: %d", m.Dents, m.To)
		}
		s.tick(labels)
	}
}

// wholeTens leaves out the last ten if it lacks dents, and tens without ends.
func wholeTens(tens []dressing.DentTen) []dressing.DentTen {
	return slices.DeleteFunc(slices.Clone(tens), func(t dressing.DentTen) bool { return t.Dents%10 > 0 || t.To == 0 })
}

func (w *work) dents(f dressing.Figure) string { return w.units.Dents(measure.Density(f.Value)) }

// reed says which reed to use and why, its sett, and where its centre is.
func (w *work) reed(s *step, p *dressing.SleyPlan) {
	name, reed := "Reed", w.plan.Reed
	if reed.Name != "" {
		name += " " + wording.Quote(reed.Name)
	}
	why := ""
	if w.plan.SeveralReeds {
		why = ": " + plain(reed.Why, longText)
	}
	s.say("%s with %s%s. %s.", name, w.dents(p.DentsPerCm), why, w.reedSett(p))
	if reed.EmptyRight.Known {
		atFirst, atSecond := w.sides()
		half := whole(dressing.Figure{Value: math.Floor(p.DentsAvailable.Value / 2), Known: true})
		s.say("The centre of the reed is %s dents from the %s. Leave %s empty at the %s edge and %s at the %s.",
			half, atFirst, whole(reed.EmptyRight), atFirst, whole(reed.EmptyLeft), atSecond)
	}
}

func (w *work) reedSett(p *dressing.SleyPlan) string {
	if asGood(p.OffPercent) {
		return "It gives the planned sett, " + w.exactly(p.SettPerCm)
	}
	how := "wider"
	if p.WidthErrorCm.Value < 0 {
		how = "narrower"
	}
	apart := dressing.Figure{Value: math.Abs(p.WidthErrorCm.Value), Known: true}
	return fmt.Sprintf("It gives %s instead of %s, %s. The warp is %s %s",
		w.exactly(p.SettPerCm), w.exactly(p.WantedPerCm), offText(p.OffPercent.Value), w.cm(apart), how)
}

// exactly writes a sett with enough decimals to compare it with another.
func (w *work) exactly(sett dressing.Figure) string {
	return w.units.Density(measure.Density(sett.Value))
}

// asGood reports whether a sett is as close as the stated one.
func asGood(offPercent dressing.Figure) bool { return math.Abs(offPercent.Value) < 0.1 }

func offText(percent float64) string {
	off := wording.Decimal(math.Abs(percent), 2)
	if percent < 0 {
		return off + " % less"
	}
	return off + " % more"
}

// centre says how far the warp extends to each side of the centre.
func (w *work) centre(s *step) {
	if width := w.plan.Warp.WidthCm; width.Known {
		s.say("The warp is %s wide: %s to each side of the centre.", w.cm(width), w.units.Half(measure.Length(width.Value*10)))
	}
}

func (w *work) dentCount(p *dressing.SleyPlan) string {
	text := fmt.Sprintf("%s in %s", counted(w.plan.Warp.Ends, "end"), counted(p.Dents, "dent"))
	if !p.DentsAvailable.Known {
		return text + "."
	}
	return text + fmt.Sprintf(" of the reed's %s.", whole(p.DentsAvailable))
}

func (w *work) otherReed(o *dressing.OtherPlan) string {
	off := "the planned sett"
	if !asGood(o.OffPercent) {
		off = offText(o.OffPercent.Value) + " than planned"
	}
	name := "Your other reed"
	if o.Name != "" {
		name = "Your reed " + wording.Quote(o.Name)
	}
	return fmt.Sprintf("%s, with %s, comes nearer: %s in each dent, over and over, give %s.",
		name, w.dents(o.DentsPerCm), orderText(o.Order), off)
}

// orderText writes a sleying order.
func orderText(order []int) string {
	text := dressing.OrderText(order)
	if slices.Contains(order, 0) {
		text += " (0: leave the dent empty)"
	}
	return text
}

// spanDown writes the ends of the first half, outward from the centre.
func spanDown(half int) string { return span(half, min(half, 1)) }
