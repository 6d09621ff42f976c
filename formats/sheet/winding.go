package sheet

import (
	"fmt"
	"strconv"
	"strings"

	"fettle/schema/dressing"
)

// wind is the bouts to wind, with their colors in order.
func (w *work) wind() step {
	s := step{id: "wind", title: "Wind the warp"}
	p := w.plan.Warp
	if p.LengthM.Known {
		s.say("Wind %s, each %s long: %s of yarn.", counted(p.Ends, "end"), w.metres(p.LengthM), w.units.YarnNeeded(metresOf(p.ByColor)...))
		if lacks := w.unstated(warpLosses()); lacks != "" {
			s.say("Do not wind yet: that length is without %s, which you have not stated, so it is too short. What is usual stands at the end of this sheet.", lacks)
		}
	} else {
		s.say("Wind %s. How long is not known: state %s.", counted(p.Ends, "end"), w.wanting("[project] finished length"))
	}
	if bouts := w.plan.Winding.Bouts; w.plan.Project.Bout == 0 && len(bouts) > 1 {
		s.say("Each half of the warp is one bout here. If you wind fewer ends at once, state how many in [project] bout.")
	}
	s.say("Make a cross and tie it: it keeps the ends in order. Wind each bout from its lowest end, and tie it off before the next. No bout crosses the centre.")
	s.say("On the lease sticks, each bout lies in its half of the warp; its number counts from the centre.")
	s.tabulate(w.bouts())
	return s
}

func (w *work) bouts() table {
	t := table{
		heads: []string{"", "bout", "ends", "count", "length", "on the sticks", "colors in winding order"},
		right: []bool{false, true, true, true, true},
		large: true,
	}
	names := colorNames(w.plan.Warp.ByColor)
	bouts := w.plan.Winding.Bouts
	for i, b := range bouts {
		t.add(box, strconv.Itoa(i+1), span(b.From, b.To), strconv.Itoa(b.Ends), w.metres(w.plan.Warp.LengthM), w.place(i), colorOrder(b, names))
	}
	return t
}

// place says where a bout, counted from 0, lies on the lease sticks: which one it is
// in its half, counted from the centre.
func (w *work) place(i int) string {
	bouts := w.plan.Winding.Bouts
	first := 0 // bouts in the first half
	for first < len(bouts) && bouts[first].To <= w.plan.Warp.Half {
		first++
	}
	side, other := w.sides()
	if i < first {
		return fmt.Sprintf("%s %d", side, first-i)
	}
	return fmt.Sprintf("%s %d", other, i-first+1)
}

// box is a box to tick.
const box = "[ ]"

// colorOrder is a bout's color order in words; what repeats is said once.
func colorOrder(bout dressing.Bout, names map[int]string) string {
	var words []string
	for _, b := range bout.Order {
		var part []string
		for _, r := range bout.Colors[b.From-1 : b.To] {
			part = append(part, fmt.Sprintf("%d %s", r.Ends, names[r.Color]))
		}
		text := strings.Join(part, ", ")
		if b.Times > 1 {
			text = fmt.Sprintf("%d times (%s)", b.Times, text)
		}
		words = append(words, text)
	}
	return strings.Join(words, ", then ")
}

// raddle is how the warp is spread before it is beamed.
func (w *work) raddle() step {
	s := step{id: "raddle", title: "Spread the warp in the raddle"}
	p := w.plan.Raddle
	if p == nil {
		s.say("How the raddle is filled is not known: state %s.", w.wanting("[project] sett"))
		return s
	}
	w.centre(&s)
	unit := "centimetre"
	if w.units.PerInch() {
		unit = "inch"
	}
	s.say("In a raddle with a space to each %s, lay %s ends in each space, over and over, from the centre outward.", unit, orderText(p.Order))
	return s
}

func (w *work) beam() step {
	s := step{id: "beam", title: "Beam the warp"}
	if w.plan.Warp.LengthM.Known {
		s.say("Wind on all of the %s under one even tension, with paper or sticks between the layers.", w.metres(w.plan.Warp.LengthM))
	} else {
		s.say("Wind on under one even tension, with paper or sticks between the layers.")
	}
	s.say("Tighten every few turns, and loosen the choke ties as they come.")
	if !w.plan.Project.BackToFront {
		s.say("Take out the lease sticks near the end.")
	}
	return s
}
