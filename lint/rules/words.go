package rules

import (
	"fmt"

	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

// Words returns the message for the kind of a dressing.Problem or dressing.Caution, or
// for a dressing.KeptByUse. The rules and the dressing sheet share it.
func Words(kind any, u measure.Units) string {
	switch k := kind.(type) {
	case dressing.Typo:
		return typoWords(k)
	case dressing.Gap:
		return gapWords(k)
	case dressing.UnthreadedEnds:
		return wording.Numbered("end", k.Ends) + wording.Plural(len(k.Ends), " is", " are") + " on no shaft; " + threadThem(k)
	case dressing.LooseThreads:
		return looseWords(k)
	case dressing.TooManyShafts:
		return tooManyShaftsWords(k)
	case dressing.TooManyTreadles:
		return tooManyTreadlesWords(k)
	case dressing.WrongShed:
		return fmt.Sprintf("the draft has a %s shed and the loom a %s one, so the cloth comes out face down; run fettle fit, or fettle convert --shed %[2]s",
			k.Draft, k.Loom)
	case dressing.TooWide:
		return fmt.Sprintf("the warp is %s wide in the reed but the loom weaves %s, too wide by %s; use fewer ends, or a closer sett",
			u.Length(k.Width), u.Length(k.Limit), u.Length(k.Width-k.Limit))
	case dressing.ReedTooShort:
		return fmt.Sprintf("the warp of %s needs %s but the reed has %d, %d short; use a longer reed, fewer ends or a closer sett",
			wording.Counted(k.Ends, "end"), wording.Counted(k.Needed, "dent"), k.Dents, k.Needed-k.Dents)
	case dressing.HeddlesShort:
		return heddlesShortWords(k)
	case dressing.YarnShort:
		return yarnShortWords(k, u)
	case dressing.NoPlainHem:
		return noPlainHemWords(k)
	case dressing.KeptByUse:
		return keptByUseWords(k)
	case dressing.ReedChoice:
		return reedWords(k, u)
	}
	return cautionWords(kind, u)
}

func cautionWords(kind any, u measure.Units) string {
	switch k := kind.(type) {
	case dressing.UnstatedLoss:
		text := "not stated, so it counts as 0; " + schema.Usual(k.Loss)
		if k.Medium.Known {
			text += fmt.Sprintf("; for cotton, Taylor gives %s %% in medium cloth and %s %% in heavy",
				wording.Decimal(100*k.Medium.Value, 1), wording.Decimal(100*k.Heavy.Value, 1))
		}
		return text
	case dressing.OddSpacing:
		text := fmt.Sprintf("no handwoven cloth has the %s spacing that the draft states, so fettle ignores it", k.System)
		if len(k.Meant) > 0 {
			text += "; it may mean " + k.Text()
		}
		return text
	case dressing.UnevenSpacing:
		thread, _ := threadsOf(k.System)
		return fmt.Sprintf("the draft spaces its %ss unevenly; the figures use the mean, %s", thread, u.Sett(k.Mean))
	case dressing.RepeatsByWidth:
		return fmt.Sprintf("the draft is woven %s across, which comes nearest to a finished width of %s: %s",
			wording.TimesOver(k.Repeats), u.Cloth(k.Asked), u.Cloth(k.Gets))
	case dressing.PartialRepeat:
		return partialRepeatWords(k, u)
	case dressing.SelvedgesRepeated:
		return "each repeat puts the draft's floating selvedges inside the cloth; delete them from the draft, and add them at the loom"
	}
	return fmt.Sprint(kind) // an error is its own message
}

func typoWords(s dressing.Typo) string {
	declares := "the draft declares " + wording.Counted(s.Declared, s.What)
	if s.Meant == 0 {
		return fmt.Sprintf("only %s names %s %d, but %s; correct it, or declare %d", typoRow(s), s.What, s.Number, declares, s.Number)
	}
	return fmt.Sprintf("%s names %s %d, but %s; it probably means %s %d", typoRow(s), s.What, s.Number, declares, s.What, s.Meant)
}

// typoRow names the row of a typo: "end 59". In a tie-up the treadle is the number of
// the row itself.
func typoRow(s dressing.Typo) string {
	thread := "pick"
	switch {
	case s.At.Part == schema.PartThreading:
		thread = "end"
	case s.At.Part == schema.PartTieup && s.What == "treadle":
		return "the tie-up"
	case s.At.Part == schema.PartTieup:
		thread = "treadle"
	}
	return fmt.Sprintf("%s %d", thread, s.At.Row)
}

func gapWords(g dressing.Gap) string {
	switch g {
	case dressing.BlockProfile:
		return schema.BlockProfile + "; " + schema.DrawProfileOut
	case dressing.NoThreading:
		return "the draft has no threading, so no end is on a shaft"
	case dressing.NoLifts:
		return "the draft has neither treadling nor lift plan, so nothing says what to lift"
	case dressing.NoTieup:
		return "the draft has no tie-up, so no treadle lifts a shaft"
	}
	return "no pick lifts a shaft; check the tie-up and treadling, or the lift plan"
}

func threadThem(u dressing.UnthreadedEnds) string {
	if u.Edge {
		return "for floating selvedges, write floating selvedges = yes under [project]"
	}
	return wording.Plural(len(u.Ends), "thread it, or delete it", "thread them, or delete them")
}

func looseWords(l dressing.LooseThreads) string {
	thread, crossed := threadsOf(l.System)
	n := len(l.Threads)
	return fmt.Sprintf("%s %s on one side of every %s, so %s woven in; check which shafts lift there", wording.Numbered(thread, l.Threads),
		wording.Plural(n, "stays", "stay"), crossed, wording.Plural(n, "it isn't", "they aren't"))
}

func tooManyShaftsWords(t dressing.TooManyShafts) string {
	todo := "use another loom, or a draft with fewer shafts"
	switch {
	case t.Used > 0 && t.Used > t.Available && t.Fewest > t.Available:
		todo = fmt.Sprintf("%d ends all weave differently, so %s", t.Fewest, todo)
	case t.Used > t.Available && t.Fewest > 0:
		todo = fmt.Sprintf("%d are enough if ends that weave alike share a shaft, as fettle fit does", t.Fewest)
	case t.Used > 0 && t.Used <= t.Available:
		todo = fmt.Sprintf("only %d of them %s ends, so fettle clean --risky can renumber them to fit", t.Used, wording.Plural(t.Used, "carries", "carry"))
	}
	return fmt.Sprintf("the draft goes up to shaft %d but the loom has %s; %s", t.Needed, wording.Counted(t.Available, "shaft"), todo)
}

func tooManyTreadlesWords(t dressing.TooManyTreadles) string {
	have := wording.Counted(t.Available, "treadle")
	together := ""
	switch {
	case t.PressedTogether():
		together = fmt.Sprintf("pressing up to %d at once, %d are enough; run fettle fit --at-once %d", t.AtOnce, t.Fewest, t.AtOnce)
	case t.AtLeast > t.Available:
		together = fmt.Sprintf("pressing %d at once still takes at least %d, so ", t.AtOnce, t.AtLeast)
	}
	if t.Together {
		text := fmt.Sprintf("the draft presses treadles together, and countermarch needs one for each of its %d different lifts; the loom has %s", t.Needed, have)
		if t.PressedTogether() {
			return text + fmt.Sprintf("; pressing up to %d at once, %d are enough; state treadles at once = %d and run fettle fit", t.AtOnce, t.Fewest, t.AtOnce)
		}
		return text + ". No tie-up with one treadle a pick fits"
	}
	if t.LiftPlan {
		todo := together
		if !t.PressedTogether() {
			todo += "use a dobby, or a draft with fewer lifts"
		}
		return fmt.Sprintf("the lift plan has %d different lifts, one treadle each, but the loom has %s, so no tie-up with one treadle a pick fits; %s", t.Needed, have, todo)
	}
	todo := together
	if !t.PressedTogether() {
		todo += "use a loom with more, or a dobby (fettle convert --lifts plan)"
	}
	switch {
	case t.Used > 0 && t.Used <= t.Available:
		todo = fmt.Sprintf("only %d of them %s pressed, so fettle clean --risky can renumber them to fit", t.Used, wording.Plural(t.Used, "is", "are"))
	case t.LiftsCounted && t.Lifts <= t.Available:
		todo = fmt.Sprintf("it has only %d different %s, so fettle convert --lifts tieup --treadles %d makes it fit",
			t.Lifts, wording.Plural(t.Lifts, "lift", "lifts"), t.Available)
	}
	return fmt.Sprintf("the draft goes up to treadle %d but the loom has %s; %s", t.Needed, have, todo)
}

// mostShort is the most shafts that a message names.
const mostShort = 8

func heddlesShortWords(short dressing.HeddlesShort) string {
	shafts := short.Shafts
	var words []string
	named := 0
	for at := 0; at < len(shafts) && len(words) < mostShort; at = named {
		first := shafts[at]
		for named = at + 1; named < len(shafts) && shafts[named].Short == first.Short && shafts[named].Shaft == shafts[named-1].Shaft+1; {
			named++
		}
		switch last := shafts[named-1].Shaft; {
		case named == at+1:
			words = append(words, fmt.Sprintf("%d on shaft %d", first.Short, first.Shaft))
		case named == at+2:
			words = append(words, fmt.Sprintf("%d on each of shafts %d and %d", first.Short, first.Shaft, last))
		default:
			words = append(words, fmt.Sprintf("%d on each of shafts %d to %d", first.Short, first.Shaft, last))
		}
	}
	if more := len(shafts) - named; more > 0 {
		words = append(words, fmt.Sprintf("some on %d more %s", more, wording.Plural(more, "shaft", "shafts")))
	}
	todo := "add them, or move ends to other shafts"
	if short.MovingIsEnough {
		todo = "move them from the shafts that have some to spare"
	}
	return "heddles are missing: " + wording.Listed(words) + "; " + todo
}

func yarnShortWords(y dressing.YarnShort, u measure.Units) string {
	todo := "get more yarn, or weave a narrower cloth"
	switch {
	case y.Shorten.Known && y.Items > 1:
		todo = fmt.Sprintf("shorten each item by %s, or get more yarn", u.RoundedUp(measure.Length(y.Shorten.Value)))
	case y.Shorten.Known:
		todo = fmt.Sprintf("shorten the item by %s, or get more yarn", u.RoundedUp(measure.Length(y.Shorten.Value)))
	case y.Items > 1:
		todo = "weave fewer items, or get more yarn"
	}
	there := y.Stock.Value
	return fmt.Sprintf("the project needs %s of yarn %s but you have %s, %s short; %s", u.YarnNeeded(y.EachMetres...),
		wording.Quote(y.Name), u.YarnThere(there), u.YarnShort(there, y.EachMetres...), todo)
}

func reedWords(c dressing.ReedChoice, u measure.Units) string {
	wanted := u.Sett(c.Sleying.Wanted)
	switch c.Why {
	case dressing.NamedReed:
		return "[project] reed names it"
	case dressing.OnlyReed:
		return "you have no other"
	case dressing.ExactReed:
		return fmt.Sprintf("of your %d reeds, it gives %s in the shortest order and comes nearest to %d ends a dent", c.Owned, wanted, dressing.UsualInDent)
	case dressing.NearestReed:
		return fmt.Sprintf("none of your %d reeds gives %s; this one comes nearest", c.Owned, wanted)
	case dressing.CrowdedReed:
		return fmt.Sprintf("each of your %d reeds is too short, or needs empty dents or more than %d ends in a dent; this one comes nearest to %s", c.Owned, dressing.MostInDent, wanted)
	case dressing.TooShortReed:
		return fmt.Sprintf("none of your %d reeds is as wide as the warp; this one comes nearest to %s", c.Owned, wanted)
	}
	return "it is the first of yours; the sett is unknown"
}

func keptByUseWords(k dressing.KeptByUse) string {
	what, has, use := fmt.Sprintf("color %d in the %s", k.Color, k.System), "has", schema.Warp
	if k.Color == 0 {
		what, has = fmt.Sprintf("%s threads without a color", k.System), "have"
	}
	if k.System == schema.Warp {
		use = schema.Weft
	}
	return fmt.Sprintf("%s %s no yarn, because yarn %s is for the %s; write use = warp, weft there, or add a [yarn] with use = %s",
		what, has, wording.Quote(k.Yarn), use, k.System)
}

func noPlainHemWords(n dressing.NoPlainHem) string {
	const instead = "the hems are in the draft's weave"
	switch {
	case n.Lacking:
		return fmt.Sprintf("plain hems need %s, and %d %s free; %s", wording.Counted(n.Needed, "more treadle"), n.Free, wording.Plural(n.Free, "is", "are"), instead)
	case n.OddRepeat > 0:
		return fmt.Sprintf("the draft's %s are repeated across, so two neighbours rise together and the threading gives no plain weave; %s", wording.Counted(n.OddRepeat, "end"), instead)
	}
	return fmt.Sprintf("the threading gives no plain weave: no shaft at end %d carries only every second end; %s", n.End, instead)
}

func partialRepeatWords(r dressing.PartialRepeat, u measure.Units) string {
	what := map[string]string{dressing.SamplePart: "the sample's", dressing.HemPart: "each hem's", dressing.ClothPart: "each item's"}[r.Part]
	text := fmt.Sprintf("%s %s end inside a repeat of %d", what, wording.Counted(r.Picks, "pick"), r.Repeat)
	if over := r.Picks % r.Repeat; r.LowerPicks > 0 {
		text += fmt.Sprintf(", %d past a whole one", over)
	}
	state := func(length measure.Length, picks int) string {
		if r.InPicks {
			return wording.Counted(picks, "pick")
		}
		return fmt.Sprintf("%s for %d picks", u.Typed(length), picks)
	}
	if r.LowerPicks > 0 {
		return text + "; state " + state(r.ShorterLength, r.LowerPicks) + ", or " + state(r.LongerLength, r.HigherPicks)
	}
	return text + "; state " + state(r.LongerLength, r.HigherPicks)
}

// threadsOf names a thread of a system, and a thread that it crosses.
func threadsOf(system schema.SystemName) (thread, crossed string) {
	if system == schema.Warp {
		return "end", "pick"
	}
	return "pick", "end"
}
