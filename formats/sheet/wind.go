package sheet

import (
	"fmt"
	"strconv"
	"strings"

	"fettle/schema/dressing"
)

// wind is the bouts to wind, with their colors in order.
func (w *work) wind() step {
	s := step{title: "Wind the warp"}
	p := w.plan.Warp
	if p.LengthM.Known {
		s.say("Wind %s, each %s long: %s of yarn.", counted(p.Ends, "end"), w.metres(p.LengthM), w.need(p.Metres))
		if lacks := w.unstated(warpLosses()); lacks != "" {
			s.say("Do not wind yet: that length is without %s, which you have not stated, so it is too short. What is usual stands at the end of this sheet.", lacks)
		}
	} else {
		s.say("Wind %s. How long is not known: state %s.", counted(p.Ends, "end"), w.wanting("[project] finished length"))
	}
	if bouts := w.plan.Winding.Bouts; w.setup.Project.Bout == 0 && len(bouts) > 1 {
		s.say("Each half of the warp is one bout here. If you wind fewer ends at once, state how many in [project] bout.")
	}
	s.say("Make a cross and tie it: it keeps the ends in order. Tie every bout off before the next. No bout runs across the centre.")
	s.tabulate(w.bouts())
	return s
}

func (w *work) bouts() table {
	t := table{
		heads: []string{"", "bout", "ends", "count", "colors, from the lowest end"},
		right: []bool{false, true, true, true},
		large: true,
	}
	names := colorNames(w.plan.Warp.ByColor)
	for i, b := range w.plan.Winding.Bouts {
		t.add(box, strconv.Itoa(i+1), span(b.From, b.To), strconv.Itoa(b.Ends), colorOrder(b.Colors, names))
	}
	return t
}

// box is a box to tick.
const box = "[ ]"

// colorOrder is a color order in words; what repeats is said once.
func colorOrder(runs []dressing.ColorRun, names map[int]string) string {
	var words []string
	for _, b := range dressing.Fold(kinds(runs)) {
		var part []string
		for _, r := range runs[b.From-1 : b.To] {
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

// kinds numbers things so that like things have like numbers.
func kinds[T comparable](list []T) []int32 {
	seen := map[T]int32{}
	out := make([]int32, len(list))
	for i, x := range list {
		kind, ok := seen[x]
		if !ok {
			kind = int32(len(seen))
			seen[x] = kind
		}
		out[i] = kind
	}
	return out
}
