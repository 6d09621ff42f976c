package rules

import (
	"fmt"

	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

// Words puts what is wrong with a draft, or lacking for it, into words: the kind of a
// dressing.Problem or a dressing.Caution, or a dressing.KeptByUse. The rules and the
// dressing sheet use the same ones.
func Words(kind any, u measure.Units) string {
	switch k := kind.(type) {
	case dressing.Slip:
		return slipWords(k)
	case dressing.Gap:
		return gapWords(k)
	case dressing.UnthreadedEnds:
		return wording.Numbered("end", k.Ends) + wording.Plural(len(k.Ends), " is", " are") + " on no shaft; " + threadThem(k)
	case dressing.LooseThreads:
		_, crossed := threadsOf(k.System)
		return looseWords(k) + " on one side of every " + crossed + " and would not be woven in; " + lookAtShafts
	case dressing.TooManyShafts:
		return tooManyShaftsWords(k)
	case dressing.TooManyTreadles:
		return tooManyTreadlesWords(k)
	case dressing.WrongShed:
		return fmt.Sprintf("the draft is for a %s shed and the loom has a %s one, so it weaves face down; change the draft over with fettle convert --shed %[2]s",
			k.Draft, k.Loom)
	case dressing.TooWide:
		return fmt.Sprintf("the warp is %s wide in the reed and the loom weaves %s, %s less; take fewer ends, or a closer sett",
			u.Length(k.Width), u.Length(k.Limit), u.Length(k.Width-k.Limit))
	case dressing.ReedTooShort:
		return fmt.Sprintf("the warp of %s takes %s and the reed has %d, %d short; take a longer reed, fewer ends, or a closer sett",
			wording.Counted(k.Ends, "end"), wording.Counted(k.Needed, "dent"), k.Dents, k.Needed-k.Dents)
	case dressing.HeddlesShort:
		return heddlesShortWords(k)
	case dressing.YarnShort:
		return yarnShortWords(k, u)
	case dressing.NoPlainHem:
		return noPlainHemWords(k)
	case dressing.KeptByUse:
		return keptByUseWords(k)
	}
	return cautionWords(kind, u)
}

func cautionWords(kind any, u measure.Units) string {
	switch k := kind.(type) {
	case dressing.UnstatedLoss:
		text := "not stated, so it counts as 0; " + schema.Usual(k.Loss)
		if k.Medium.Known {
			text += fmt.Sprintf("; Taylor's rule for cotton gives %s %% for cloth of medium weight and %s %% for heavy",
				wording.Decimal(100*k.Medium.Value, 1), wording.Decimal(100*k.Heavy.Value, 1))
		}
		return text
	case dressing.OddSpacing:
		text := fmt.Sprintf("no handwoven cloth has the %s spacing that the draft states, so it is ignored", k.System)
		if len(k.Meant) > 0 {
			text += "; it may mean " + k.Text()
		}
		return text
	case dressing.UnevenSpacing:
		thread, _ := threadsOf(k.System)
		return fmt.Sprintf("the draft spaces its %ss unevenly; the figures go by the mean, %s", thread, u.Sett(k.Mean))
	case dressing.RepeatsByWidth:
		return fmt.Sprintf("the draft is taken %s, which comes nearest the finished width asked for: %s gives %s",
			wording.TimesOver(k.Repeats), u.Cloth(k.Asked), u.Cloth(k.Gets))
	case dressing.PartialRepeat:
		return partialRepeatWords(k, u)
	case dressing.SelvedgesRepeated:
		return "the draft's outermost ends are repeated with it, so floating selvedges come inside the cloth too; leave them out of the draft and add them at the loom"
	}
	return fmt.Sprint(kind) // an error has its own words
}

func slipWords(s dressing.Slip) string {
	declares := "the draft declares " + wording.Counted(s.Declared, s.What)
	if s.Meant == 0 {
		return fmt.Sprintf("%s alone names %s %d, but %s; correct the slip, or declare %d", slipRow(s), s.What, s.Number, declares, s.Number)
	}
	return fmt.Sprintf("%s names %s %d, but %s; %s %d is probably meant", slipRow(s), s.What, s.Number, declares, s.What, s.Meant)
}

// slipRow names the row of a slip: "end 59". A tie-up names a treadle by the number
// of the row itself.
func slipRow(s dressing.Slip) string {
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
		return schema.BlockProfile + "; " + schema.DrawItOut
	case dressing.NoThreading:
		return "no end is on a shaft: the draft has no threading"
	case dressing.NoLifts:
		return "nothing says what to lift: the draft has neither treadling nor lift plan"
	case dressing.NoTieup:
		return "no treadle is tied to a shaft: the draft has no tie-up"
	}
	return "no pick lifts a shaft; look at the tie-up and the treadling, or at the lift plan"
}

// threadThem says what to do about ends on no shaft.
func threadThem(u dressing.UnthreadedEnds) string {
	if u.Edge {
		return "if floating selvedges are meant, write floating selvedges = yes under [project]"
	}
	return wording.Plural(len(u.Ends), "thread it, or take it out", "thread them, or take them out")
}

const lookAtShafts = "look what lifts the shafts there"

func looseWords(l dressing.LooseThreads) string {
	thread, _ := threadsOf(l.System)
	return wording.Numbered(thread, l.Threads) + wording.Plural(len(l.Threads), " stays", " stay")
}

func tooManyShaftsWords(t dressing.TooManyShafts) string {
	todo := "find a draft for fewer, or another loom"
	if t.Used > 0 && t.Used <= t.Available {
		todo = fmt.Sprintf("only %d of them %s ends, so numbered anew it fits: fettle clean --risky numbers them", t.Used, wording.Plural(t.Used, "carries", "carry"))
	}
	return fmt.Sprintf("the draft goes up to shaft %d and the loom has %s; %s", t.Needed, wording.Counted(t.Available, "shaft"), todo)
}

func tooManyTreadlesWords(t dressing.TooManyTreadles) string {
	have := wording.Counted(t.Available, "treadle")
	if t.LiftPlan {
		return fmt.Sprintf("the lift plan has %d different lifts, a treadle each, and the loom has %s; weave it on a dobby, or find a draft with fewer lifts", t.Needed, have)
	}
	todo := "find a loom with more, or weave it on a dobby by a lift plan: fettle convert --lifts plan"
	switch {
	case t.Used > 0 && t.Used <= t.Available:
		todo = fmt.Sprintf("only %d of them %s pressed, so numbered anew it fits: fettle clean --risky numbers them", t.Used, wording.Plural(t.Used, "is", "are"))
	case t.LiftsCounted && t.Lifts <= t.Available:
		todo = fmt.Sprintf("it has only %d different %s, so some treadles are tied alike: fettle convert --lifts tieup --treadles %d writes it so",
			t.Lifts, wording.Plural(t.Lifts, "lift", "lifts"), t.Available)
	}
	return fmt.Sprintf("the draft goes up to treadle %d and the loom has %s; %s", t.Needed, have, todo)
}

// mostShort is how many shafts are named before the rest is only counted.
const mostShort = 8

func heddlesShortWords(shafts dressing.HeddlesShort) string {
	var words []string
	for _, h := range shafts[:min(len(shafts), mostShort)] {
		words = append(words, fmt.Sprintf("%d on shaft %d", h.Short, h.Shaft))
	}
	if more := len(shafts) - mostShort; more > 0 {
		words = append(words, "some on "+wording.Counted(more, "shaft")+" more")
	}
	return "heddles are short, " + wording.Listed(words) + "; add heddles, or move ends to other shafts"
}

func yarnShortWords(y dressing.YarnShort, u measure.Units) string {
	todo := "get more yarn, or weave narrower"
	switch {
	case y.Shorten.Known && y.Items > 1:
		todo = fmt.Sprintf("each item %s shorter would do", u.RoundedUp(measure.Length(y.Shorten.Value)))
	case y.Shorten.Known:
		todo = fmt.Sprintf("an item %s shorter would do", u.RoundedUp(measure.Length(y.Shorten.Value)))
	case y.Items > 1:
		todo = "weave fewer items, or get more yarn"
	}
	needed, there := y.Metres.Value, y.Stock.Value
	return fmt.Sprintf("the work takes %s of yarn %s and there are %s, %s short; %s", u.YarnNeeded(needed),
		wording.Quote(y.Name), u.YarnThere(there), u.YarnShort(needed, there), todo)
}

func keptByUseWords(k dressing.KeptByUse) string {
	what, use := fmt.Sprintf("color %d in the %s", k.Color, k.System), schema.Warp
	if k.Color == 0 {
		what = fmt.Sprintf("threads of the %s without a color", k.System)
	}
	if k.System == schema.Warp {
		use = schema.Weft
	}
	return fmt.Sprintf("no yarn stands for %s: yarn %s would, but its use is %s; write use = warp, weft there, or give another [yarn] use = %s",
		what, wording.Quote(k.Yarn), use, k.System)
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
