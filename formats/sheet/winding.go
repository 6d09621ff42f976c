package sheet

import (
	"fmt"
	"strconv"
	"strings"

	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

// wind lists the bouts, with their colors in order.
func (w *work) wind() step {
	s := step{id: "wind", title: "Wind the warp"}
	for _, warp := range w.plan.Warps {
		w.howLong(&s, warp)
	}
	if len(w.plan.Warps) > 1 {
		s.say("In all that is %s of yarn.", w.units.YarnNeeded(metresOf(w.plan.Warp.ByColor)...))
	}
	if lacks := w.plan.Without.Warp; w.plan.Warp.LengthM.Known && len(lacks) > 0 {
		s.say("Don't wind yet: that length is too short, because you haven't stated %s. The end of this sheet says what is usual.", wording.Listed(lacks))
		s.insteadAtLoom("Don't wind yet: that length is too short. State " + wording.Listed(lacks) + " first.")
	}
	if bouts := w.plan.Winding.Bouts; w.plan.Project.Bout == 0 && len(bouts) > 1 {
		s.say("Each half of the warp is one bout here. If you wind fewer ends at once, state how many in [project] bout.")
	}
	if e := w.plan.Selvedge; e != nil && min(e.MissesFromLeft, e.MissesFromRight) > 0 {
		s.say("From either side one shuttle misses the edge at some of the draft's turns. For floating selvedges, wind two more ends; no figure here counts them.")
	}
	s.say("Make a cross and tie it; it keeps the ends in order. Wind each bout from its lowest end, and tie it off before the next. No bout crosses the centre.")
	s.say("On the lease sticks, each bout lies in its half of the warp; its number counts from the centre.")
	from := 1
	for _, warp := range w.plan.Warps {
		if len(w.plan.Warps) > 1 {
			s.say("%s:", capital(w.warpName(warp)))
		}
		s.tabulate(w.bouts(warp, from))
		from += len(warp.Bouts)
	}
	return s
}

// howLong says how many ends a warp has, and how long they are.
func (w *work) howLong(s *step, warp dressing.WarpRow) {
	of, yarn := "", ""
	if len(w.plan.Warps) > 1 {
		of = " for " + w.warpName(warp)
	} else {
		yarn = ": " + w.units.YarnNeeded(metresOf(w.plan.Warp.ByColor)...) + " of yarn"
	}
	if warp.LengthM.Known {
		s.say("Wind %s%s, each %s long%s.", counted(warp.Ends, "end"), of, w.warpLength(warp.LengthM), yarn)
	} else {
		s.say("Wind %s%s. The length is unknown; state %s.", counted(warp.Ends, "end"), of, w.wanting("[project] finished length"))
	}
}

// warpName returns the name of a warp in a sentence.
func (w *work) warpName(warp dressing.WarpRow) string {
	if warp.Name == schema.MainWarp {
		return "the main warp"
	}
	return "warp " + wording.Quote(warp.Name)
}

// bouts lists the bouts of a warp, numbered on from a start. The place of a bout is its
// number in its half, counted from the centre.
func (w *work) bouts(warp dressing.WarpRow, from int) table {
	t := table{
		heads: []string{"", "bout", "ends", "count", "length", "on the sticks", "colors in winding order"},
		right: []bool{false, true, true, true, true},
		large: true,
	}
	names := colorNames(w.plan.Warp.ByColor)
	side, other := w.sides()
	first := 0 // bouts in the first half
	for first < len(warp.Bouts) && warp.Bouts[first].To <= w.plan.Warp.Half {
		first++
	}
	long := ""
	if warp.LengthM.Known {
		long = w.units.WarpInRow(measure.Length(warp.LengthM.Value * 1000))
	}
	for i, b := range warp.Bouts {
		place := fmt.Sprintf("%s %d", other, i-first+1)
		if i < first {
			place = fmt.Sprintf("%s %d", side, first-i)
		}
		t.add(box, strconv.Itoa(from+i), span(b.From, b.To), strconv.Itoa(b.Ends), long, place, colorOrder(b.Colors, b.Blocks, names))
	}
	return t
}

const box = "[ ]"

// colorOrder writes color runs in words, and names a repeating sequence only once.
func colorOrder(runs []dressing.ColorRun, order []dressing.Block, names map[int]string) string {
	var words []string
	for _, b := range order {
		var part []string
		for _, r := range runs[b.From-1 : b.To] {
			part = append(part, fmt.Sprintf("%d %s", r.Ends, afterCount(names[r.Color])))
		}
		text := strings.Join(part, ", ")
		if b.Times > 1 {
			text = fmt.Sprintf("%d times (%s)", b.Times, text)
		}
		words = append(words, text)
	}
	return strings.Join(words, ", then ")
}

// raddle says how to spread the warp before you beam it.
func (w *work) raddle() step {
	s := step{id: "raddle", title: "Spread the warp in the raddle"}
	p := w.plan.Raddle
	if p == nil {
		s.say("The number of ends in each space of the raddle is unknown; state %s.", w.wanting("[project] sett"))
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
	for _, warp := range w.plan.Warps {
		length, of := "", ""
		if warp.LengthM.Known {
			length = " all of the " + w.warpLength(warp.LengthM)
		}
		if len(w.plan.Warps) > 1 {
			of = " of " + w.warpName(warp)
		}
		on := ""
		if warp.Beam != "" {
			on = ", on the " + plain(warp.Beam, nameInText) + ","
		}
		s.say("Wind on%s%s%s under one even tension, with paper or sticks between the layers.", length, of, on)
	}
	s.say("Tighten every few turns, and loosen the choke ties as they come.")
	if !w.plan.Project.BackToFront {
		s.say("Take out the lease sticks near the end.")
	}
	return s
}
