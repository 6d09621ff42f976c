package sheet

import (
	"fmt"
	"strconv"

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

// tieUp says how to tie up the treadles, or which lifts to load.
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

// tieup lists the shafts that each treadle is tied to.
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
	s.say("%s", w.shed())
	s.tabulate(t)
}

// tieupBothWays lists the tie-up of a countermarch loom.
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
	if w.plan.PressesSeveral() {
		s.say("Treadles are pressed together here: leave a shaft untied on a treadle that doesn't name it. Another treadle of the pick moves it.")
	}
	if unused := w.plan.UnusedShafts(); len(unused) > 0 {
		s.say("%s %s no ends; leave %s untied.", capital(wording.Numbered("shaft", unused)), wording.Plural(len(unused), "carries", "carry"), wording.Plural(len(unused), "it", "them"))
	}
}

// newTieup says why the tie-up differs from the draft's.
func (w *work) newTieup(s *step) {
	if w.plan.NewTieup() {
		s.say("This tie-up isn't in the draft: it has one treadle for each different lift, and you press one treadle a pick.")
	}
}

// shed says whether the listed shafts rise or sink.
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
	return "The shafts named go up; the draft doesn't say."
}

// weave says what to weave and lists the lifts of the picks.
func (w *work) weave() step {
	s := step{id: "weave", title: "Weave"}
	w.faulty(&s, dressing.Weave)
	w.lacking(&s, dressing.Weave)
	p := w.plan.Weft
	switch {
	case p.Picks.Known:
		s.say("Weave %s picks at %s: %s, measured with the tension off.", whole(p.Picks), w.per(p.PicksPerCm), w.metres(w.plan.WovenLengthM))
		if lacks := w.unstated(wovenLosses()); lacks != "" {
			s.say("You haven't stated %s, so the washed cloth will be shorter than you asked for.", lacks)
		}
	case p.PicksPerCm.Known:
		s.say("Weave at %s. The number of picks is unknown; state %s.", w.per(p.PicksPerCm), w.wanting("[project] finished length"))
	default:
		s.say("The number of picks is unknown; state %s.", w.wanting("[project] finished length", "[project] picks"))
	}
	w.stretches(&s)
	w.passes(&s)
	w.selvedge(&s)
	w.lifts(&s)
	return s
}

// stretches lists the parts in the order of weaving.
func (w *work) stretches(s *step) {
	p := w.plan.Project
	if p.Sample > 0 {
		s.say("The sample comes first: wash it and measure it before you go on.")
	}
	if p.Sample > 0 && p.CutOffSample {
		s.say("Cut the sample off, tie the warp on again, even the tension and weave a new heading; %s of warp is allowed for that. The tape begins again at 0.", w.units.Cloth(w.plan.ReTie))
	}
	if p.Fringe > 0 {
		cut := ""
		if w.plan.Items > 1 {
			cut = ", and cut between two items"
		}
		s.say("Leave the fringes unwoven, half at each end of an item. Lay strips of card into the shed to hold each gap%s. The tape in the table runs along the cloth, fringes and all.", cut)
	} else if w.plan.Items > 1 {
		s.say("Between items, weave a cutting line: two picks of waste yarn in a contrasting color. These figures leave it out.")
	}
	w.plainHem(s)
	for _, n := range w.throughDraft() {
		s.say("%s", n)
	}
	w.stretchTable(s)
	for _, text := range w.plan.PartialRepeats {
		s.say("%s.", capital(plain(text, longText)))
	}
	w.itemsDiffer(s)
}

// plainHem says which treadles to press, or which shafts to lift, for plain-weave hems.
func (w *work) plainHem(s *step) {
	h := w.plan.PlainHem
	if h == nil {
		return
	}
	var press, tie []string
	for i, lift := range h.Lifts {
		if press = append(press, "shafts "+list(lift)); h.Treadles[i] > 0 {
			press[i] = fmt.Sprintf("treadle %d", h.Treadles[i])
		}
		if h.New[i] && h.Treadles[i] > 0 {
			tie = append(tie, fmt.Sprintf("treadle %d to shafts %s", h.Treadles[i], list(lift)))
		}
	}
	text := fmt.Sprintf("Weave the hems plain, beginning with %s and then %s, in turn; the colors are those of the draft.", press[0], press[1])
	if len(tie) > 0 {
		text += " For that tie " + wording.Listed(tie) + "."
	}
	s.say("%s", text)
}

// stretchTable has a line and a box for each stretch. It rounds lengths before it adds
// them up, so the columns add up as printed.
func (w *work) stretchTable(s *step) {
	list := w.plan.Stretches
	if len(list) < 2 {
		return
	}
	t := table{
		heads: []string{"", "in this order", "weave", "length", "picks", "from draft pick", "woven so far", "up to pick", ""},
		right: []bool{false, false, false, true, true, true, true, true},
		large: true,
	}
	if w.plan.Project.Fringe > 0 || w.plan.ReTie > 0 {
		t.heads[6] = "on the tape"
	}
	var long, tape []measure.Length
	var sum measure.Length
	for _, x := range list {
		length := w.units.OnTape(measure.Length(x.LengthCm.Value * 10))
		sum += length
		long, tape = append(long, length), append(tape, sum)
		if x.Part == dressing.SamplePart && w.plan.Project.CutOffSample {
			sum = 0
		}
	}
	lengths, sums := w.units.Cloths(long), w.units.Cloths(tape)
	for i, x := range list {
		row := []string{box, w.stretch(x), "", lengths[i], whole(x.Picks), "", sums[i], whole(x.UpToPick), ""}
		if w.plan.PlainHem != nil {
			row[2] = x.Weave
		}
		if w.plan.Project.ContinueDraft {
			row[5] = whole(x.FromDraftPick)
		}
		if x.Part == dressing.FringePart {
			row[7] = ""
		}
		if x.RepeatsShed {
			row[8] = "same shed"
		}
		t.add(row...)
	}
	s.tabulate(t)
	w.seams(s)
}

// seams says what to do if a part begins with the shed that ended the part before.
func (w *work) seams(s *step) {
	for _, x := range w.plan.Stretches {
		if x.RepeatsShed {
			s.say("Same shed: the part begins in the shed that the one before ends with. Weave one pick fewer of the part before.")
			return
		}
	}
}

// itemsDiffer says how to make items alike if they begin at different picks of the
// draft's repeat.
func (w *work) itemsDiffer(s *step) {
	if w.plan.ItemsDiffer {
		s.say("The draft runs on from item to item, so the items differ. To make them alike, state each item = restart under [project].")
	}
}

// throughDraft says how to treadle each kind of part.
func (w *work) throughDraft() []string {
	n := w.plan.DraftPicks
	if n == 0 {
		return nil
	}
	if w.plan.Project.ContinueDraft {
		if !w.plan.Weft.Picks.Known {
			return nil
		}
		return []string{fmt.Sprintf("The draft has %s and runs on through all parts: %s.", counted(n, "pick"), times(int(w.plan.Weft.Picks.Value), n))}
	}
	var list []string
	said := map[string]bool{}
	for _, x := range w.plan.Stretches {
		if !x.FromDraftPick.Known || x.Weave == dressing.PlainWeave || said[x.Part] {
			continue
		}
		said[x.Part] = true
		name := map[string]string{dressing.SamplePart: "The sample", dressing.HemPart: "Each hem", dressing.ClothPart: "Each item"}[x.Part]
		if x.Part == dressing.ClothPart && w.plan.Items == 1 {
			name = "The cloth"
		}
		list = append(list, fmt.Sprintf("%s begins at pick 1 of the draft's %s: %s.", name, counted(n, "pick"), times(int(x.Picks.Value), n)))
	}
	return list
}

// mostPasses limits the boxes of a part for its passes through the draft.
const mostPasses = 48

// passesPerBox returns how many passes share a box: 1, 2, 5, 10, 20 and so on.
func passesPerBox(passes int) int {
	for tens := 1; ; tens *= 10 {
		for _, n := range []int{tens, 2 * tens, 5 * tens} {
			if passes <= n*mostPasses {
				return n
			}
		}
	}
}

// passes adds boxes for the passes through the draft in each part. Each label is the total
// number of picks at that point.
func (w *work) passes(s *step) {
	n := w.plan.DraftPicks
	said := false
	for _, x := range w.plan.Stretches {
		if n == 0 || !x.FromDraftPick.Known || !x.UpToPick.Known || x.Weave == dressing.PlainWeave {
			continue
		}
		picks := int(x.Picks.Value)
		before, first := int(x.UpToPick.Value)-picks, n+1-int(x.FromDraftPick.Value)
		each := passesPerBox((picks-first+n-1)/n + 1)
		var labels []string
		for upTo := first + (each-1)*n; upTo < picks; upTo += each * n {
			labels = append(labels, strconv.Itoa(before+upTo))
		}
		if len(labels) == 0 {
			continue
		}
		if !said {
			s.say("Tick a box after each pass through the draft. Its number is the total of picks woven.")
			said = true
		}
		shared := ""
		if each > 1 {
			shared = fmt.Sprintf(", a box for every %d passes, %d picks", each, each*n)
		}
		s.say("%s%s:", capital(w.stretch(x)), shared)
		s.tick(append(labels, whole(x.UpToPick)))
	}
}

// stretch names a stretch, and its item if there are several.
func (w *work) stretch(x dressing.Stretch) string {
	switch {
	case x.Item == 0 || w.plan.Items == 1:
		return x.Part
	case x.Part == dressing.ClothPart && w.plan.Project.Hem+w.plan.Project.Fringe == 0:
		return fmt.Sprintf("item %d", x.Item)
	}
	return fmt.Sprintf("item %d, %s", x.Item, x.Part)
}

// selvedge says which side to start from to catch the edges best.
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
		s.say("From either side, one shuttle misses the edge at %d of the draft's %s; add floating selvedges, or catch the edge by hand.", least, counted(p.Turns, "turn"))
	case least == 0:
		s.say("Start the first pick from the %s: one shuttle then catches both edges at every turn. From the other side it misses %d of %d.", side, most, p.Turns)
	default:
		s.say("Start the first pick from the %s. One shuttle then misses the edge at %d of the draft's %s; from the other side it misses %d. Floating selvedges catch them all.", side, least, counted(p.Turns, "turn"), most)
	}
}

// times says how often a number of picks goes through a draft of n picks.
func times(picks, n int) string {
	if picks < n {
		return fmt.Sprintf("its first %d", picks)
	}
	text := "all of them once"
	if all := picks / n; all > 1 {
		text = fmt.Sprintf("all of them %d times", all)
	}
	if over := picks % n; over > 0 {
		text += fmt.Sprintf(", and then the first %d", over)
	}
	return text
}
