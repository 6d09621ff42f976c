package dressing

import (
	"fmt"
	"sort"

	"fettle/schema"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

// shortening is what tells how much yarn shorter items would take.
type shortening struct {
	project schema.Project
	ends    int
	perMm   Figure          // picks
	pick    Figure          // metres of weft in one
	draft   int             // picks of the draft
	picks   map[int32][]int // the draft's picks by their yarn, ascending
}

func shorteningOf(d *schema.Draft, s *schema.Setup) *shortening {
	c := &shortening{project: s.Project, perMm: picksPerMm(d, s), draft: d.Picks(), picks: map[int32][]int{}}
	c.pick = weftYarn(&s.Project, known(1), Width(d, s))
	if w, err := WarpOf(d, s); err == nil {
		c.ends = w.All
	}
	shelf := ShelfFor(s, schema.Weft)
	for pick := 1; pick <= d.Picks(); pick++ {
		yarn := int32(shelf.Yarn(d, d.Weft.ColorOf(pick)))
		c.picks[yarn] = append(c.picks[yarn], pick)
	}
	return c
}

// worthWeaving is how much of an item must be left for shortening it to be of
// use.
const worthWeaving = 0.25

// halvings is how often the length is halved to find by how much it is to be
// shorter: a thousand kilometres down to a thousandth of a millimetre.
const halvings = 60

// by is the least by which each item must be shorter, in millimetres, for a
// yarn's stock to be enough; unknown where too little of it would be left.
// A shorter item takes less warp and no more picks of any color, so the bound
// between too little and enough is found by halving.
func (c *shortening) by(u *YarnUse) Figure {
	short, enough := 0.0, float64(c.project.FinishedLength)*(1-worthWeaving)
	if c.metres(u, enough) > u.Stock.Value {
		return Figure{}
	}
	for range halvings {
		if half := (short + enough) / 2; c.metres(u, half) > u.Stock.Value {
			short = half
		} else {
			enough = half
		}
	}
	return known(enough)
}

// metres is what a yarn takes where each item is shorter by so much.
func (c *shortening) metres(u *YarnUse, by float64) float64 {
	p := c.project
	p.FinishedLength -= measure.Length(by)
	woven := woven(&p)
	warp := warpLength(&p, woven).Value / 1000 * u.WarpShare * float64(c.ends)
	picks := woven.times(c.perMm)
	if !picks.Known || c.draft == 0 {
		return warp
	}
	return warp + float64(c.among(int32(u.Yarn), wholePicks(whole(picks.Value))))*c.pick.Value
}

// among is how many of the first picks that are woven are of a yarn.
func (c *shortening) among(yarn int32, first int) int {
	own := c.picks[yarn]
	over := first % c.draft
	return first/c.draft*len(own) + sort.SearchInts(own, over+1)
}

// TooLittle says that there is too little of a yarn and what to do, "" where
// there is enough or it is not known.
func (u *YarnUse) TooLittle(s *schema.Setup) string {
	if u.Short.Value <= 0 {
		return ""
	}
	needed, there := u.Metres.Value, u.Stock.Value
	return fmt.Sprintf("the work takes %s of yarn %s and there are %s, %s short; %s", s.Units.YarnNeeded(needed),
		wording.Quote(s.Yarns[u.Yarn].Name), s.Units.YarnThere(there), s.Units.YarnShort(needed, there), u.toDo(s))
}

func (u *YarnUse) toDo(s *schema.Setup) string {
	items := Items(&s.Project)
	switch {
	case u.Shorten.Known && items > 1:
		return fmt.Sprintf("each item %s shorter would do", s.Units.RoundedUp(measure.Length(u.Shorten.Value)))
	case u.Shorten.Known:
		return fmt.Sprintf("an item %s shorter would do", s.Units.RoundedUp(measure.Length(u.Shorten.Value)))
	case items > 1:
		return "weave fewer items, or get more yarn"
	}
	return "get more yarn, or weave narrower"
}
