package dressing

import (
	"fmt"

	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

// Lack is something that the loom, its heddles, its reed or the shelf has too
// little of for this work, or has otherwise than the draft asks for.
type Lack struct {
	Step string `json:"step"` // the step concerned
	Text string `json:"text"` // what it is, and what to do
}

// Lacks lists what is to be seen to before the loom is dressed, in the order of
// the work. What is not known of the room lacks nothing, and a block profile,
// whose ends are no ends of a warp, is not held against it.
func Lacks(d *schema.Draft, s *schema.Setup, woven *cloth.Cloth) ([]Lack, error) {
	if d.Profile == schema.Yes || d.Ends() == 0 {
		return nil, nil
	}
	var list []Lack
	add := func(step, text string) {
		if text != "" {
			list = append(list, Lack{step, text})
		}
	}
	uses, err := YarnUses(d, s)
	for i := range uses {
		add(YarnToHave, uses[i].TooLittle(s))
	}
	_, text := TooWide(d, s)
	add(SleyReed, text)
	_, _, text = ReedTooShort(d, s)
	add(SleyReed, text)
	for _, b := range slips(d) {
		if !weaves(b) {
			add(whereLifted(d, s), b.Text())
		}
	}
	add(Thread, TooManyShafts(d, s))
	heddles, _ := Heddles(d, s)
	add(Thread, tooFewHeddles(heddles))
	_, text = TooManyTreadles(d, s, func() *cloth.Cloth { return woven })
	add(whereLifted(d, s), text)
	add(whereLifted(d, s), WrongShed(d, s))
	return list, err
}

// whereLifted is the step at which the weaver meets what lifts the shafts.
func whereLifted(d *schema.Draft, s *schema.Setup) string {
	if ByShaft(d, s) {
		return Weave
	}
	return TieUp
}

// ByShaft says whether the weaver lifts shafts and presses no treadles: by a
// lift plan, or since the loom has no treadles to tie up.
func ByShaft(d *schema.Draft, s *schema.Setup) bool {
	return d.LiftPlan.Len() > 0 || s.Has("loom.treadles") && s.Loom.Treadles == 0
}

// TooManyShafts says that the draft names more shafts than the loom has, ""
// where it does not.
func TooManyShafts(d *schema.Draft, s *schema.Setup) string {
	have, needed := s.Loom.Shafts, ShaftsAbove(d).Highest
	if have == 0 || needed <= have {
		return ""
	}
	todo := "find a draft for fewer, or another loom"
	if used := len(d.Threading.Different()); used > 0 && used <= have {
		todo = fmt.Sprintf("only %d of them %s ends, so numbered anew it fits: fettle clean --risky numbers them", used, wording.Plural(used, "carries", "carry"))
	}
	return fmt.Sprintf("the draft goes up to shaft %d and the loom has %s; %s", needed, wording.Counted(have, "shaft"), todo)
}

// TooManyTreadles is how many treadles the draft needs, and says where the loom
// has fewer, "" where it has enough. A draft with only a lift plan needs one for
// each different lift; the cloth is asked for them, and not where it is too large.
func TooManyTreadles(d *schema.Draft, s *schema.Setup, woven func() *cloth.Cloth) (needed int, text string) {
	have := s.Loom.Treadles
	if have == 0 {
		return 0, ""
	}
	if d.LiftPlan.Len() > 0 && (d.Tieup.Count() == 0 || d.Treadling.Count() == 0) {
		return tooManyLifts(have, woven())
	}
	if needed = TreadlesAbove(d).Highest; needed <= have {
		return needed, ""
	}
	return needed, fmt.Sprintf("the draft goes up to treadle %d and the loom has %s; %s", needed, wording.Counted(have, "treadle"), fewerTreadles(d, have, woven))
}

// fewerTreadles is what can be done where the draft names more treadles than
// the loom has.
func fewerTreadles(d *schema.Draft, have int, woven func() *cloth.Cloth) string {
	if used := len(d.Treadling.Different()); used > 0 && used <= have {
		return fmt.Sprintf("only %d of them %s pressed, so numbered anew it fits: fettle clean --risky numbers them", used, wording.Plural(used, "is", "are"))
	}
	if c := woven(); c.TooLarge() {
		return otherLoom
	} else if lifts := c.DistinctLifts(); lifts <= have {
		return fmt.Sprintf("it has only %d different %s, so some treadles are tied alike: fettle convert --lifts tieup --treadles %d writes it so",
			lifts, wording.Plural(lifts, "lift", "lifts"), have)
	}
	return otherLoom
}

const otherLoom = "find a loom with more, or weave it on a dobby by a lift plan: fettle convert --lifts plan"

func tooManyLifts(have int, woven *cloth.Cloth) (needed int, text string) {
	if woven.TooLarge() {
		return 0, ""
	}
	if needed = woven.DistinctLifts(); needed <= have {
		return needed, ""
	}
	return needed, fmt.Sprintf("the lift plan has %d different lifts, a treadle each, and the loom has %s; weave it on a dobby, or find a draft with fewer lifts",
		needed, wording.Counted(have, "treadle"))
}

// WrongShed says that the loom moves the shafts the other way than the draft
// means, "" where it does not, or where either is unstated.
func WrongShed(d *schema.Draft, s *schema.Setup) string {
	if !oneWay(d.Shed) || !oneWay(s.Loom.Shed) || d.Shed == s.Loom.Shed {
		return ""
	}
	return fmt.Sprintf("the draft is for a %s shed and the loom has a %s one, so it weaves face down; change the draft over with fettle convert --shed %[2]s",
		d.Shed, s.Loom.Shed)
}

// oneWay says whether a shed is stated and moves shafts one way only.
func oneWay(s schema.Shed) bool { return s == schema.Rising || s == schema.Sinking }

// TooWide is the width of the warp in the reed, and says where the loom weaves
// less, "" where it does not.
func TooWide(d *schema.Draft, s *schema.Setup) (width Figure, text string) {
	width = Width(d, s)
	limit := s.Loom.WeavingWidth
	if limit <= 0 || !width.Known || !Over(width.Value, float64(limit)) {
		return width, ""
	}
	u := s.Units
	return width, fmt.Sprintf("the warp is %s wide in the reed and the loom weaves %s, %s less; take fewer ends, or a closer sett",
		u.Length(measure.Length(width.Value)), u.Length(limit), u.Length(measure.Length(width.Value)-limit))
}

// ReedTooShort is the dents that the warp takes and those of the reed, and says
// where these are fewer, "" where they are not or are not known.
func ReedTooShort(d *schema.Draft, s *schema.Setup) (needed, dents int, text string) {
	if len(s.Reeds) == 0 {
		return 0, 0, ""
	}
	have := DentsOf(s.Reeds[0])
	sley, ok := SleyIn(s.Reeds, Sett(d, s).Density)
	warp, err := WarpOf(d, s)
	if !have.Known || !ok || err != nil {
		return 0, 0, "" // nothing to compare
	}
	needed, dents = sley.DentsFor(warp.All), int(have.Value)
	if needed <= dents {
		return needed, dents, ""
	}
	return needed, dents, fmt.Sprintf("the warp of %s takes %s and the reed has %d, %d short; take a longer reed, fewer ends, or a closer sett",
		wording.Counted(warp.All, "end"), wording.Counted(needed, "dent"), dents, needed-dents)
}

// mostShort is how many shafts are named before the rest is only counted.
const mostShort = 8

func tooFewHeddles(shafts []ShaftHeddles) string {
	var words []string
	more := 0
	for _, h := range shafts {
		switch {
		case h.Short == 0:
		case len(words) < mostShort:
			words = append(words, fmt.Sprintf("%d on shaft %d", h.Short, h.Shaft))
		default:
			more++
		}
	}
	if len(words) == 0 {
		return ""
	}
	if more > 0 {
		words = append(words, "some on "+wording.Counted(more, "shaft")+" more")
	}
	return "heddles are short, " + wording.Listed(words) + "; add heddles, or move ends to other shafts"
}
