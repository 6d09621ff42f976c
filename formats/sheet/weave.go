package sheet

import (
	"fmt"
	"slices"
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

// tieUp says how to tie up the treadles, or which lifts to load.
func (w *work) tieUp() step {
	s := step{id: "tie-up", title: "Tie up the treadles"}
	w.lacking(&s, dressing.TieUp)
	if w.plan.ByShaft {
		s.title = "Get the lifts ready"
		w.byShaft(&s)
	}
	w.tieup(&s)
	return s
}

// byShaft says how to lift shafts where the sheet has no tie-up.
func (w *work) byShaft(s *step) {
	const (
		computer       = " For a loom with a computer, fettle plan --format wif writes every pick."
		lastStep       = "The last step lists the shafts to lift."
		computerAtLoom = " For a loom with a computer, load a file with every pick there."
		eachPick       = "While you weave, each pick shows the shafts to lift."
	)
	switch w.plan.HasTreadles {
	case schema.Yes:
		s.say("Your treadles can't give these lifts one treadle a pick, so this sheet has no tie-up. Run fettle fit: it looks for treadles to press together. Otherwise weave this draft on a table loom or a dobby; the last step lists the shafts for that.")
		s.insteadAtLoom("Your treadles can't give these lifts one treadle a pick, so there is no tie-up. Run fettle fit: it looks for treadles to press together. Otherwise weave this draft on a table loom or a dobby. " + eachPick)
	case schema.No:
		s.say(lastStep + computer)
		s.insteadAtLoom(eachPick + computerAtLoom)
	default:
		s.say(lastStep + " If your loom has treadles, state how many under [loom]: this sheet then gives a tie-up." + computer)
		s.insteadAtLoom(eachPick + " If your loom has treadles, state how many in fettle.ini: this step then gives a tie-up." + computerAtLoom)
	}
}

// tieup lists the shafts that each treadle is tied to.
func (w *work) tieup(s *step) {
	if w.plan.Figures.Countermarch() {
		w.tieupBothWays(s)
		return
	}
	t := table{heads: []string{"treadle", "tied to shafts", "for"}, right: []bool{true}}
	for i, row := range w.plan.Tieup {
		if len(row) > 0 {
			t.add(strconv.Itoa(i+1), list(row), "")
		}
	}
	w.hemTies(func(treadle int, lift, _ []int32) { t.add(strconv.Itoa(treadle), list(lift), plainHems) })
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
	t := table{heads: []string{"treadle", "up", "down", "for"}, right: []bool{true}}
	for i, up := range w.plan.Tieup {
		t.add(strconv.Itoa(i+1), list(up), list(w.plan.TieupDown[i]), "")
	}
	w.hemTies(func(treadle int, lift, other []int32) {
		if w.plan.Shed == schema.Sinking {
			lift, other = other, lift
		}
		t.add(strconv.Itoa(treadle), list(lift), list(other), plainHems)
	})
	s.tabulate(t)
	if w.plan.Figures.PressesSeveral() {
		s.say("Treadles are pressed together here: leave a shaft untied on a treadle that doesn't name it. Another treadle of the pick moves it.")
	}
	if unused := w.plan.Figures.UnusedShafts(); len(unused) > 0 {
		s.say("%s %s no ends; leave %s untied.", capital(wording.Numbered("shaft", unused)), wording.Plural(len(unused), "carries", "carry"), wording.Plural(len(unused), "it", "them"))
	}
}

// plainHems marks a treadle that only plain hems need.
const plainHems = "plain hems"

// hemTies passes on each treadle to tie up for plain hems, the shafts that the draft would
// name for it, and the other shafts.
func (w *work) hemTies(tie func(treadle int, lift, other []int32)) {
	if h := w.plan.PlainHem; h != nil {
		for i, lift := range h.Lifts {
			if h.New[i] && h.Treadles[i] > 0 {
				tie(h.Treadles[i], lift, h.Lifts[1-i])
			}
		}
	}
}

// newTieup says why the tie-up differs from the draft's.
func (w *work) newTieup(s *step) {
	if f := w.plan.Figures; f.OnLoom() != f.Draft && len(w.plan.Tieup) > 0 {
		s.say("This tie-up isn't in the draft: it has one treadle for each different lift, and you press one treadle a pick.")
	}
}

// shed says whether the listed shafts rise or sink.
func (w *work) shed() string {
	if w.plan.Figures.Countermarch() {
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

// weaveSample says how to weave a sample that is cut off.
func (w *work) weaveSample() step {
	s := step{id: "weave", title: "Weave the sample"}
	if !w.plan.AfterSample.CutOff {
		return s
	}
	w.faulty(&s, dressing.Weave)
	w.lacking(&s, dressing.Weave)
	sample, _ := w.bySample()
	for _, x := range sample {
		s.say("%s: %s picks.", w.units.Cloth(x.Length), whole(x.Picks))
	}
	s.say("The last step lists what to do at each pick.")
	s.insteadAtLoom("")
	w.parts(&s, sample)
	s.say("Cut the sample off. Wash it and measure it before you go on.")
	return s
}

// bySample returns the sample that is cut off, and the other stretches.
func (w *work) bySample() (sample, others []dressing.Stretch) {
	list := w.plan.Stretches
	if w.plan.AfterSample.CutOff && len(list) > 0 {
		return list[:1], list[1:]
	}
	return nil, list
}

// tieAgain, tensionAgain and headingAgain follow a sample that is cut off.
func (w *work) tieAgain() step {
	s := step{id: "tie-front", title: "Tie the warp on again"}
	if w.plan.AfterSample.CutOff {
		s.say("Tie the warp to the front apron rod in small bunches, from the centre outward. %s of warp is allowed for that.", w.units.Cloth(w.plan.ReTie))
	}
	return s
}

func (w *work) tensionAgain() step {
	s := step{id: "tension", title: "Even the tension again"}
	if w.plan.AfterSample.CutOff {
		w.evenTension(&s)
	}
	return s
}

func (w *work) headingAgain() step {
	s := step{id: "heading", title: "Weave a new heading"}
	if w.plan.AfterSample.CutOff {
		w.weaveHeading(&s, "")
		s.say("The tape begins again at 0, at the end of this heading.")
	}
	return s
}

// weave says what to weave and lists the lifts of the picks.
func (w *work) weave() step {
	s := step{id: "weave", title: "Weave"}
	w.faulty(&s, dressing.Weave)
	w.lacking(&s, dressing.Weave)
	p, after := w.plan.Weft, w.plan.AfterSample
	_, list := w.bySample()
	switch {
	case p.Picks.Known:
		s.say("Weave %s picks at %s: %s, measured with the tension off.", whole(after.Picks), w.per(p.PicksPerCm), w.units.Cloth(after.OnTape))
		if lacks := w.plan.Without.WovenLength; len(lacks) > 0 {
			s.say("You haven't stated %s, so the washed cloth will be shorter than you asked for.", wording.Listed(lacks))
		}
	case p.PicksPerCm.Known:
		s.say("Weave at %s. The number of picks is unknown; state %s.", w.per(p.PicksPerCm), w.wanting("[project] finished length"))
	default:
		s.say("The number of picks is unknown; state %s.", w.wanting("[project] finished length", "[project] picks"))
	}
	w.between(&s)
	w.plainHem(&s, list)
	w.parts(&s, list)
	w.itemsDiffer(&s)
	w.selvedge(&s)
	w.lifts(&s)
	return s
}

// between says what to do between parts and items.
func (w *work) between(s *step) {
	p := w.plan.Project
	if p.Sample > 0 && !p.CutOffSample {
		s.say("The sample comes first: measure it with the tension off before you go on. To wash it first too, state cut off sample = yes under [project].")
	}
	if p.Fringe > 0 {
		cut := ""
		if w.plan.Items > 1 {
			cut = ", and cut between two items"
		}
		leave := "Leave the fringes unwoven, half at each end of an item. Lay strips of card into the shed to hold each gap" + cut + "."
		s.say("%s The tape in the table runs along the cloth, fringes and all.", leave)
		s.insteadAtLoom(leave + " The tape runs along the cloth, fringes and all.")
		return
	}
	var where []string
	if p.Sample > 0 && !p.CutOffSample {
		where = append(where, "after the sample")
	}
	if w.plan.Items > 1 {
		where = append(where, "between items")
	}
	if len(where) > 0 {
		s.say("%s, weave a cutting line: two picks of waste yarn in a contrasting color. These figures leave it out.", capital(strings.Join(where, " and ")))
	}
}

// parts lists some stretches in the order of weaving, with boxes.
func (w *work) parts(s *step, list []dressing.Stretch) {
	for _, text := range w.throughDraft(list) {
		s.say("%s", text)
	}
	w.stretchTable(s, list)
	for _, r := range w.plan.PartialRepeats {
		if slices.ContainsFunc(list, func(x dressing.Stretch) bool { return x.Part == r.Part }) {
			s.say("%s.", capital(plain(r.Text, longText)))
		}
	}
	w.passes(s, list)
}

// plainHem says which treadles to press, or which shafts to lift, for plain-weave hems.
func (w *work) plainHem(s *step, stretches []dressing.Stretch) {
	h := w.plan.PlainHem
	if h == nil {
		return
	}
	var press []string
	for i, lift := range h.Lifts {
		if press = append(press, "shafts "+list(lift)); h.Treadles[i] > 0 {
			press[i] = fmt.Sprintf("treadle %d", h.Treadles[i])
		}
	}
	s.say("Weave the hems plain, beginning with %s and then %s, in turn.", press[0], press[1])
	w.hemColors(s, stretches)
}

// hemColors lists the yarn of the picks of each plain hem, or once if all are alike.
func (w *work) hemColors(s *step, list []dressing.Stretch) {
	names := colorNames(w.plan.Weft.ByColor)
	t := table{heads: []string{"plain hem", "to pick", "weft in order"}, right: []bool{false, true}}
	alike := true
	for _, x := range list {
		if x.Weave != dressing.PlainWeave || !x.FromDraftPick.Known {
			continue
		}
		colors := "as in the draft, from its pick " + whole(x.FromDraftPick)
		if runs, order, ok := w.plan.Figures.HemColors(x); ok {
			colors = colorOrder(runs, order, names)
		}
		alike = alike && (len(t.rows) == 0 || t.rows[0][2] == colors)
		t.add(w.stretch(x), whole(x.UpToPick), colors)
	}
	switch {
	case len(t.rows) == 0:
	case alike:
		s.say("The weft of each hem: %s.", t.rows[0][2])
	default:
		s.tabulate(t)
	}
}

// stretchTable has a line and a box for each stretch.
func (w *work) stretchTable(s *step, list []dressing.Stretch) {
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
	for _, x := range list {
		long, tape = append(long, x.Length), append(tape, x.OnTape)
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
	w.seams(s, list)
}

// seams says what to do if a part begins with the shed that ended the part before.
func (w *work) seams(s *step, list []dressing.Stretch) {
	for _, x := range list {
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
func (w *work) throughDraft(stretches []dressing.Stretch) []string {
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
	for _, x := range stretches {
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

// plainPass is the number of picks that a box stands for in a plain hem.
const plainPass = 10

// passes adds boxes for the passes through the draft in each part, and in plain hems for
// every plainPass picks. Each label is the total number of picks at that point.
func (w *work) passes(s *step, list []dressing.Stretch) {
	var boxes []part
	var draft, plain bool // passes through the draft, and plain hems
	for _, x := range list {
		n := w.plan.DraftPicks
		if n == 0 || !x.FromDraftPick.Known || !x.UpToPick.Known {
			continue
		}
		first, what := n+1-int(x.FromDraftPick.Value), "%d passes, %d picks"
		if x.Weave == dressing.PlainWeave {
			n, first, what = plainPass, plainPass, "%[2]d picks"
		}
		labels, each := passLabels(x, n, first)
		if len(labels) == 0 {
			continue
		}
		draft, plain = draft || x.Weave != dressing.PlainWeave, plain || x.Weave == dressing.PlainWeave
		shared := ""
		if each > 1 {
			shared = ", a box for every " + fmt.Sprintf(what, each, each*n)
		}
		boxes = append(boxes, part{say: capital(w.stretch(x)) + shared + ":"}, part{ticks: append(labels, whole(x.UpToPick))})
	}
	if len(boxes) == 0 {
		return
	}
	var after []string
	if draft {
		after = append(after, "after each pass through the draft")
	}
	if plain {
		after = append(after, fmt.Sprintf("in plain hems after every %d picks", plainPass))
	}
	s.introduce("Tick a box %s. Its number is the total of picks woven.", strings.Join(after, ", "))
	s.insteadAtLoom("")
	s.parts = append(s.parts, boxes...)
}

// passLabels returns the totals of picks after the passes of n picks in a stretch, without
// its end, and how many passes share a box. The first pass has another length.
func passLabels(x dressing.Stretch, n, first int) (labels []string, each int) {
	picks := int(x.Picks.Value)
	before := int(x.UpToPick.Value) - picks
	each = perBox((picks-first+n-1)/n+1, mostPasses)
	for upTo := first + (each-1)*n; upTo < picks; upTo += each * n {
		labels = append(labels, strconv.Itoa(before+upTo))
	}
	return labels, each
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
