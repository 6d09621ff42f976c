package rules

import (
	"fmt"
	"strconv"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/dressing"
)

var looseSelvedge = lint.Rule{
	ID:    "cloth/loose-selvedge",
	Title: "a single shuttle misses the edge at some turns",
	Why:   "A turn of the weft holds only if the edge end changes sides between the two picks. Otherwise the weft slips back and leaves a loop.",
	Counts: "fettle counts the missed turns for a first pick from the left and from the right, at the edges of the whole warp. " +
		"It reports them only if neither side catches every turn and a cheap change at least halves the misses: the other side, one end more or less, or another first pick. " +
		"The half is a rule of thumb: a smaller gain stays silent. " +
		"A draft with several weft colors takes several shuttles and isn't judged.",
	Remedy:  "Make the change that the finding names, or use floating selvedges.",
	Default: schema.Note,
	Faulty:  lint.Example{Draft: "[TREADLING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=3\n"},
	Fixed:   lint.Example{Draft: "[TREADLING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	SafeOff: "if you always use floating selvedges, or a separate selvedge",
	Source:  "computed from the interlacement",
	Data: []lint.Field{{Key: "misses_from_left", Text: "turns missed if the first pick starts at the left edge"},
		{Key: "misses_from_right", Text: "turns missed if it starts at the right edge, where end 1 is"},
		{Key: "best_start", Text: "the side with fewer misses, left or right; left if they are equal"}},
	Weave: true,
	Check: checkLooseSelvedge,

	Keys:     []string{},
	Measures: []lint.Measure{{Key: "misses_from_left"}, {Key: "misses_from_right"}},
}

func checkLooseSelvedge(p *lint.Pass) {
	if p.Setup.Project.FloatingSelvedge || cloth.SeveralShuttles(p.Draft) {
		return
	}
	w := p.Figures.Warp()
	if w.All == 0 {
		return
	}
	s := p.Cloth().SelvedgeAt(1, w.DraftEnd(w.All), 1)
	if s.MissesFromLeft == 0 || s.MissesFromRight == 0 {
		return
	}
	todo := fmt.Sprintf("start from the %s, or use floating selvedges", s.BestStart())
	if fewest(s)*2 > max(s.MissesFromLeft, s.MissesFromRight) {
		var helps bool
		if todo, helps = cheapChange(p.Cloth(), w, s); !helps {
			return
		}
	}
	p.Report(schema.EndPlace(1),
		schema.Data{{Key: "misses_from_left", Value: s.MissesFromLeft}, {Key: "misses_from_right", Value: s.MissesFromRight},
			{Key: "best_start", Value: s.BestStart()}},
		"one shuttle misses the edge at %d of %d turns if it starts from the left, %d from the right; %s",
		s.MissesFromLeft, s.Turns, s.MissesFromRight, todo)
}

func fewest(s cloth.Selvedge) int { return min(s.MissesFromLeft, s.MissesFromRight) }

// cheapChange says which change of the edges or of the first pick leaves the fewest missed
// turns. It helps only if these are at most half of those now.
func cheapChange(c *cloth.Cloth, w dressing.Warp, now cloth.Selvedge) (todo string, helps bool) {
	const least = 4 // ends of a warp whose edges can change
	right, left := 1, w.DraftEnd(w.All)
	most := fewest(now) / 2
	try := func(what string, right, left, pick int) {
		s := c.SelvedgeAt(right, left, pick)
		if n := fewest(s); n <= most {
			most, helps = n-1, true
			todo = fmt.Sprintf("%s and start from the %s to miss %s", what, s.BestStart(), map[bool]string{true: "none", false: strconv.Itoa(n)}[n == 0])
		}
	}
	if w.All >= least {
		try("leave off the last end", right, w.DraftEnd(w.All-1), 1)
		try("leave off end 1", w.DraftEnd(2), left, 1)
		try(fmt.Sprintf("add an end like end %d at the left edge", w.DraftEnd(w.All+1)), right, w.DraftEnd(w.All+1), 1)
		try(fmt.Sprintf("add an end like end %d at the right edge", w.Ends), w.Ends, left, 1)
	}
	if pick := c.BestFirstPick(right, left); pick > 1 {
		try(fmt.Sprintf("begin the treadling at pick %d", pick), right, left, pick)
	}
	return todo, helps
}
