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

func (w *work) tieFront() step {
	s := step{id: "tie-front", title: "Tie to the front rod"}
	s.say("Tie the warp to the front apron rod in small bunches, from the centre outward.")
	if cord := w.plan.LashingCordCm; cord.Known {
		s.say("If you lash on, cut about %s of cord; three times the width and some for the knots is a rule of thumb.", w.units.RoundedUp(measure.Length(cord.Value*10)))
	}
	return s
}

// tieUp is the tie-up, or the lifts to load.
func (w *work) tieUp() step {
	s := step{id: "tie-up", title: "Tie up the treadles"}
	if w.plan.ByShaft {
		s.title = "Get the lifts ready"
		s.say("The lifts are in the last step. For a loom with a computer, fettle plan --format wif writes every pick.")
	}
	w.lacking(&s, dressing.TieUp)
	w.tieup(&s)
	return s
}

// tieup is the shafts that each treadle is tied to.
func (w *work) tieup(s *step) {
	if w.plan.Countermarch() {
		w.tieupBothWays(s)
		return
	}
	t := table{heads: []string{"treadle", "tied to shafts"}, right: []bool{true}}
	for i, row := range w.plan.Tieup {
		if len(row) > 0 {
			t.add(strconv.Itoa(i+1), list(row))
		}
	}
	if len(t.rows) == 0 {
		return
	}
	w.newTieup(s)
	s.say("Tie up the treadles. %s", w.shed())
	s.tabulate(t)
}

// tieupBothWays is the tie-up of a countermarch loom.
func (w *work) tieupBothWays(s *step) {
	if len(w.plan.Tieup) == 0 {
		return
	}
	w.newTieup(s)
	s.say("Tie each treadle both ways: the shafts under \"up\" to the ties that lift, those under \"down\" to the ties that sink.")
	t := table{heads: []string{"treadle", "up", "down"}, right: []bool{true}}
	for i, up := range w.plan.Tieup {
		t.add(strconv.Itoa(i+1), list(up), list(w.plan.TieupDown[i]))
	}
	s.tabulate(t)
	if unused := w.plan.UnusedShafts(); len(unused) > 0 {
		s.say("%s %s no ends; leave %s untied.", capital(wording.Numbered("shaft", unused)), wording.Plural(len(unused), "carries", "carry"), wording.Plural(len(unused), "it", "them"))
	}
}

// newTieup says where the tie-up comes from if it isn't the draft's.
func (w *work) newTieup(s *step) {
	if w.plan.NewTieup() {
		s.say("This tie-up isn't in the draft: it has one treadle for each different lift, and you press one treadle a pick.")
	}
}

// shed says what happens to the shafts that are named.
func (w *work) shed() string {
	if w.plan.Countermarch() {
		return ""
	}
	if w.plan.FaceDown {
		if w.plan.Shed == schema.Sinking {
			return "The shafts named go down in the draft, and up on this loom."
		}
		return "The shafts named go up in the draft, and down on this loom."
	}
	switch w.plan.Shed {
	case schema.Sinking:
		return "The shafts named go down."
	case schema.Rising:
		return "The shafts named go up."
	}
	return "The shafts named go up, since the draft does not say otherwise."
}

// weave is what to weave, and the lifts of the picks.
func (w *work) weave() step {
	s := step{id: "weave", title: "Weave"}
	w.faulty(&s, dressing.Weave)
	w.lacking(&s, dressing.Weave)
	p := w.plan.Weft
	switch {
	case p.Picks.Known:
		s.say("Weave %s picks at %s: %s, measured with the tension off.", whole(p.Picks), w.per(p.PicksPerCm), w.metres(w.plan.WovenLengthM))
		if lacks := w.unstated(wovenLosses()); lacks != "" {
			s.say("That is without %s, which is not stated: once washed, the cloth is shorter than was asked for by what it shrinks.", lacks)
		}
		if n := w.plan.DraftPicks; n > 0 {
			s.say("%s", times(int(p.Picks.Value), n))
		}
	case p.PicksPerCm.Known:
		s.say("Weave at %s. How many picks is not known: state %s.", w.per(p.PicksPerCm), w.wanting("[project] finished length"))
	default:
		s.say("How many picks is not known: state %s.", w.wanting("[project] finished length", "[project] picks"))
	}
	w.stretches(&s)
	w.passes(&s)
	w.selvedge(&s)
	w.lifts(&s)
	return s
}

// stretches lists what is woven one after the other.
func (w *work) stretches(s *step) {
	p := w.plan.Project
	if p.Sample > 0 {
		s.say("The sample comes first: wash it and measure it before you go on.")
	}
	if p.Fringe > 0 {
		s.say("Leave the fringes without picks, half at either end of an item, and cut between two.")
	}
	list := w.plan.Stretches
	if len(list) < 2 {
		return
	}
	t := table{
		heads: []string{"", "in this order", "length", "picks", "from draft pick", "woven so far", "up to pick"},
		right: []bool{false, false, true, true, true, true, true},
		large: true,
	}
	lengths := w.cloths(figures(list, func(x dressing.Stretch) dressing.Figure { return x.LengthCm }))
	woven := w.cloths(figures(list, func(x dressing.Stretch) dressing.Figure { return x.WovenCm }))
	for i, x := range list {
		if x.Part == dressing.FringePart {
			t.add(box, w.stretch(x), lengths[i])
			continue
		}
		t.add(box, w.stretch(x), lengths[i], whole(x.Picks), whole(x.FromDraftPick), woven[i], whole(x.UpToPick))
	}
	s.tabulate(t)
	w.itemsDiffer(s)
}

// itemsDiffer says how to have items alike where they begin at different picks of
// the draft's repeat.
func (w *work) itemsDiffer(s *step) {
	if weft := w.plan.Weft; w.plan.ItemsDiffer {
		s.say("The draft runs on from item to item, so they do not come out alike. To have them alike begin each anew at pick 1 of the draft; its repeat of %s gives %s of finished cloth, so choose the length in whole repeats.",
			counted(weft.Repeat, "pick"), w.cm(weft.RepeatCm))
	}
}

// mostPasses is how many passes through the draft have a box each.
const mostPasses = 48

// passes has a box for each pass through the draft, by the picks that have been
// woven at its end.
func (w *work) passes(s *step) {
	n, picks := w.plan.DraftPicks, w.plan.Weft.Picks
	if n == 0 || !picks.Known || picks.Value <= float64(n) || picks.Value > float64(n*mostPasses) {
		return
	}
	var labels []string
	for upTo := n; upTo < int(picks.Value); upTo += n {
		labels = append(labels, strconv.Itoa(upTo))
	}
	s.say("A box for each pass through the draft, by the picks woven at its end:")
	s.tick(append(labels, whole(picks)))
}

// stretch says what a stretch is, and of which item where there are several.
func (w *work) stretch(x dressing.Stretch) string {
	switch {
	case x.Item == 0 || w.plan.Items == 1:
		return x.Part
	case x.Part == dressing.ClothPart && w.plan.Project.Hem+w.plan.Project.Fringe == 0:
		return fmt.Sprintf("item %d", x.Item)
	}
	return fmt.Sprintf("item %d, %s", x.Item, x.Part)
}

// selvedge says from which side to start so that the edges are caught best.
func (w *work) selvedge(s *step) {
	p := w.plan.Selvedge
	if p == nil || p.MissesFromLeft+p.MissesFromRight == 0 {
		return
	}
	side, least := "left", p.MissesFromLeft
	if p.MissesFromRight < least {
		side, least = "right", p.MissesFromRight
	}
	if w.o.End1Left {
		side = map[string]string{"left": "right", "right": "left"}[side]
	}
	switch most := max(p.MissesFromLeft, p.MissesFromRight); {
	case least == most:
		s.say("From either side one shuttle misses the edge at %d of the draft's %s: hang floating selvedges, or catch the edge by hand.", least, counted(p.Turns, "turn"))
	case least == 0:
		s.say("Start the first pick from the %s: one shuttle then catches both edges at every turn. From the other side it misses %d of %d.", side, most, p.Turns)
	default:
		s.say("Start the first pick from the %s: one shuttle then misses the edge at %d of the draft's %s, from the other side at %d. Floating selvedges catch it there.", side, least, counted(p.Turns, "turn"), most)
	}
}

// times says how often so many picks go through a draft of n.
func times(picks, n int) string {
	text := fmt.Sprintf("The draft has %s; that is ", counted(n, "pick"))
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
