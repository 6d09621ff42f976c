package dressing

import (
	"sort"

	"fettle/schema"
	"fettle/schema/measure"
)

// ColorUse is what one color of a system takes.
type ColorUse struct {
	Color   int     // palette number, 0 for none
	Yarn    int     // its place in the setup's yarns from 0, -1 where none stands for it
	Share   float64 // of the system's threads, to 1
	Threads Figure  // all ends of the warp, or picks of the woven length
	Metres  Figure
	Grams   Figure
}

// WarpUse returns what each color of the warp takes, lowest palette number first.
// There is nothing where TooManyEnds refuses the warp.
func (f *Figures) WarpUse() []ColorUse { return f.warpUse.get(f.computeWarpUse) }

func (f *Figures) computeWarpUse() []ColorUse {
	w, length := f.Warp(), f.Lengths().Warp
	if w.All == 0 {
		return nil
	}
	var list []ColorUse
	for _, c := range countColors(&f.Draft.Warp, w.Ends, func(end int) float64 { return float64(w.times(end, w.All)) }) {
		list = append(list, f.colorUse(schema.Warp, ColorUse{
			Color:   c.color,
			Share:   c.threads / float64(w.All),
			Threads: known(c.threads),
			Metres:  length.scaled(c.threads / 1000),
		}))
	}
	return list
}

// WeftUse returns what each color of the weft takes, lowest palette number first:
// counted pick by pick in every part where it is known how many are woven, so that a
// part that ends within the draft takes the colors of its first picks.
func (f *Figures) WeftUse() []ColorUse { return f.weftUse.get(f.computeWeftUse) }

func (f *Figures) computeWeftUse() []ColorUse {
	l := f.Lengths()
	counts, of := f.draftColors(schema.Weft), float64(f.Draft.Picks())
	if l.PicksWoven.Known {
		counts, of = f.wovenColors(), l.PicksWoven.Value
	}
	var list []ColorUse
	for _, c := range counts {
		use := ColorUse{Color: c.color, Share: c.threads / max(of, 1)}
		if l.PicksWoven.Known {
			use.Threads = known(c.threads)
			use.Metres = use.Threads.times(l.PickYarn)
		}
		list = append(list, f.colorUse(schema.Weft, use))
	}
	return list
}

// mostPicks is the most that a number holds to the pick.
const mostPicks = 1 << 53

// wholePicks returns a number of picks that were rounded up.
func wholePicks(picks float64) int { return int(min(picks, mostPicks)) }

// colorUse gives a color its yarn, and its weight where the grist is known.
func (f *Figures) colorUse(system schema.SystemName, use ColorUse) ColorUse {
	use.Yarn = f.YarnOf(system, use.Color)
	if use.Yarn >= 0 {
		use.Grams = grams(use.Metres, f.Setup.Yarns[use.Yarn].Grist)
	}
	return use
}

func grams(metres Figure, g measure.Grist) Figure {
	if !metres.Known || !g.Known() {
		return Figure{}
	}
	return known(g.Grams(metres.Value))
}

// YarnUse is what the whole work takes of one yarn, in all its colors, as warp
// and as weft.
type YarnUse struct {
	Yarn          int     // its place in the setup's yarns, from 0
	WarpShare     float64 // of all the ends, to 1
	WeftShare     float64 // of all the picks that are woven, to 1
	Metres        Figure
	Grams         Figure
	EachMetres    []float64 // what each color of the warp and of the weft takes of it; 0 where unknown
	EachGrams     []float64
	Stock         Figure // metres that are there
	Short         Figure // metres missing; 0 where the stock is enough
	Packages      Figure // whole ones needed
	StockPackages Figure // that are there
	Buy           Figure // whole packages missing
	// Shorten is by how many millimetres the finished length of each item would
	// have to be less for the stock to be enough, where that leaves a quarter of it.
	Shorten Figure
}

// YarnUses returns what the work takes of every yarn that it uses, in the setup's
// order. There are none where TooManyEnds refuses the warp.
func (f *Figures) YarnUses() []YarnUse { return f.yarnUses.get(f.computeYarnUses) }

func (f *Figures) computeYarnUses() []YarnUse {
	if _, refused := f.TooManyEnds(); refused || len(f.Setup.Yarns) == 0 {
		return nil
	}
	uses := make([]YarnUse, len(f.Setup.Yarns))
	for i := range uses {
		uses[i] = YarnUse{Yarn: i, Metres: known(0)}
	}
	for _, c := range f.WarpUse() {
		if c.Yarn >= 0 {
			uses[c.Yarn].WarpShare += c.Share
			uses[c.Yarn].add(c)
		}
	}
	for _, c := range f.WeftUse() {
		if c.Yarn >= 0 {
			uses[c.Yarn].WeftShare += c.Share
			uses[c.Yarn].add(c)
		}
	}
	var used []YarnUse
	var shorter *shorterItems
	for _, u := range uses {
		if u.WarpShare+u.WeftShare == 0 {
			continue
		}
		u.compare(&f.Setup.Yarns[u.Yarn])
		if u.Short.Value > 0 {
			if shorter == nil {
				shorter = f.shorterItems()
			}
			u.Shorten = shorter.by(&u)
		}
		used = append(used, u)
	}
	return used
}

func (u *YarnUse) add(c ColorUse) {
	u.Metres = u.Metres.plus(c.Metres)
	u.EachMetres, u.EachGrams = append(u.EachMetres, c.Metres.Value), append(u.EachGrams, c.Grams.Value)
}

// compare sets what is needed of a yarn beside its stock.
func (u *YarnUse) compare(y *schema.Yarn) {
	u.Grams = grams(u.Metres, y.Grist)
	size, ok := y.Stock.PackageMetres(y.Grist)
	if !ok {
		return
	}
	u.StockPackages = known(float64(y.Stock.Packages))
	u.Stock = u.StockPackages.scaled(size)
	if u.Metres.Known {
		u.Packages = known(whole(u.Metres.Value / size))
		u.Buy = known(max(u.Packages.Value-u.StockPackages.Value, 0))
		u.Short = known(max(u.Metres.Value-u.Stock.Value, 0))
	}
}

// shorterItems works out how much yarn shorter items would take.
type shorterItems struct {
	figures  *Figures
	finished float64         // millimetres of an item's cloth
	picks    map[int32][]int // the draft's picks by their yarn, ascending
}

func (f *Figures) shorterItems() *shorterItems {
	c := &shorterItems{figures: f, finished: f.parts().cloth.finished(&f.Setup.Project).Value, picks: map[int32][]int{}}
	for pick := 1; pick <= f.Draft.Picks(); pick++ {
		yarn := int32(f.YarnOf(schema.Weft, f.Draft.Weft.ColorOf(pick)))
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

// inFloat is a part of a length beyond what floating point adds to it.
const inFloat = 1e-12

// by returns the least by which each item must be shorter, in millimetres, for a
// yarn's stock to be enough; unknown where too little of it would be left.
// A shorter item takes less warp and no more picks of any color, so the bound
// between too little and enough is found by halving.
func (c *shorterItems) by(u *YarnUse) Figure {
	short, enough := 0.0, c.finished*(1-worthWeaving)
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
	return known(enough + c.finished*inFloat)
}

// metres returns what a yarn takes where each item is shorter by so much.
func (c *shorterItems) metres(u *YarnUse, by float64) float64 {
	f := c.figures
	w := f.partsWith(f.finishedPart(measure.Length(c.finished-by), f.picksPerMm()))
	warp := f.warpLength(w).Value / 1000 * u.WarpShare * float64(f.Warp().All)
	if !w.picks().Known || f.Draft.Picks() == 0 {
		return warp
	}
	weft := w.count(func(first int) int { return c.among(int32(u.Yarn), first) })
	return warp + weft*f.Lengths().PickYarn.Value
}

// among returns how many of the first picks that are woven are of a yarn.
func (c *shorterItems) among(yarn int32, first int) int {
	own, draft := c.picks[yarn], c.figures.Draft.Picks()
	return first/draft*len(own) + sort.SearchInts(own, first%draft+1)
}
