package dressing

import (
	"maps"
	"slices"
	"sort"

	"fettle/schema"
	"fettle/schema/measure"
)

// ColorUse is what one color of a system takes.
type ColorUse struct {
	Color   int     // palette number, 0 for none
	Yarn    int     // its index in the setup's yarns, -1 for none
	Share   float64 // of the system's threads, to 1
	Threads Figure  // all ends of the warp, or picks of the woven length
	Metres  Figure
	Grams   Figure
}

// WarpUse returns what each color of the warp takes, lowest palette number first.
// It is empty if TooManyEnds refuses the warp.
func (f *Figures) WarpUse() []ColorUse { return f.warpUse.get(f.computeWarpUse) }

func (f *Figures) computeWarpUse() []ColorUse {
	w := f.Warp()
	if w.All == 0 {
		return nil
	}
	uses := map[int]ColorUse{}
	for _, set := range f.Warps() {
		for _, c := range set.colors {
			u, ok := uses[c.color]
			if !ok {
				u = ColorUse{Color: c.color, Threads: known(0), Metres: known(0)}
			}
			u.Share += c.threads / float64(w.All)
			u.Threads = u.Threads.plus(known(c.threads))
			u.Metres = u.Metres.plus(set.Length.scaled(c.threads / 1000))
			uses[c.color] = u
		}
	}
	list := make([]ColorUse, 0, len(uses))
	for _, color := range slices.Sorted(maps.Keys(uses)) {
		list = append(list, f.colorUse(schema.Warp, uses[color]))
	}
	return list
}

// WeftUse returns what each color of the weft takes, lowest palette number first. If the
// number of picks is known, it counts the picks of every part, so a part that ends
// inside the draft takes the colors of its first picks.
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

// colorUse fills in the yarn of a color, and its weight if the grist is known.
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

// YarnUse is what the whole work takes of one yarn, in all colors, as warp and as weft.
type YarnUse struct {
	Yarn          int     // its index in the setup's yarns
	WarpShare     float64 // of all the ends, to 1
	WeftShare     float64 // of all the picks that are woven, to 1
	Metres        Figure
	Grams         Figure
	EachMetres    []float64 // what each color of the warp and of the weft takes of it; 0 where unknown
	EachGrams     []float64
	Stock         Figure // metres that are there
	Short         Figure // metres missing; 0 if the stock is enough
	Packages      Figure // whole ones needed
	StockPackages Figure // that are there
	Buy           Figure // whole packages missing
	// Shorten is how many millimetres shorter each item must be, after washing, for the
	// stock to be enough. It is unknown if that leaves less than a quarter of the item.
	Shorten Figure
}

// YarnUses returns what the work takes of every yarn that it uses, in the setup's
// order. It is empty if TooManyEnds refuses the warp.
func (f *Figures) YarnUses() []YarnUse { return f.yarnUses.get(f.computeYarnUses) }

func (f *Figures) computeYarnUses() []YarnUse {
	uses := f.yarnTotals()
	var shorter *shorterItems
	for i := range uses {
		if uses[i].Short.Value > 0 {
			if shorter == nil {
				shorter = f.shorterItems()
			}
			uses[i].Shorten = shorter.by(&uses[i])
		}
	}
	return uses
}

// yarnTotals is YarnUses without Shorten.
func (f *Figures) yarnTotals() []YarnUse {
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
	for _, u := range uses {
		if u.WarpShare+u.WeftShare == 0 {
			continue
		}
		u.compare(&f.Setup.Yarns[u.Yarn])
		used = append(used, u)
	}
	return used
}

// YarnMargin is a yarn of which there is enough only if no loss that the weaver hasn't
// stated takes any.
type YarnMargin struct {
	Yarn          int      // its index in the setup's yarns
	Needed, Usual float64  // metres without those losses, and with the usual ones
	Stock, Short  float64  // metres that are there, and that are missing with the usual losses
	Unstated      []string // keys in [project]
}

// YarnMargins returns the yarns of which there is too little with the usual losses, and
// enough without them, in the setup's order.
func (f *Figures) YarnMargins() []YarnMargin {
	enough := map[int]YarnUse{}
	for _, u := range f.YarnUses() {
		if u.Short.Known && u.Short.Value == 0 {
			enough[u.Yarn] = u
		}
	}
	setup, unstated := f.Setup.WithUsualLosses()
	if len(enough) == 0 || len(unstated) == 0 {
		return nil
	}
	var list []YarnMargin
	for _, u := range Of(f.Draft, setup).yarnTotals() {
		if now, ok := enough[u.Yarn]; ok && u.Short.Value > 0 {
			list = append(list, YarnMargin{u.Yarn, now.Metres.Value, u.Metres.Value, u.Stock.Value, u.Short.Value, unstated})
		}
	}
	return list
}

func (u *YarnUse) add(c ColorUse) {
	u.Metres = u.Metres.plus(c.Metres)
	u.EachMetres, u.EachGrams = append(u.EachMetres, c.Metres.Value), append(u.EachGrams, c.Grams.Value)
}

// compare fills in the stock of a yarn, and what is missing.
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
	finished float64           // millimetres of an item's cloth
	picks    map[int32][]int   // the draft's picks by their yarn, ascending
	ends     []map[int]float64 // of each warp, by yarn
}

func (f *Figures) shorterItems() *shorterItems {
	c := &shorterItems{figures: f, finished: f.parts().cloth.finished(&f.Setup.Project).Value, picks: map[int32][]int{}}
	for pick := 1; pick <= f.Draft.Picks(); pick++ {
		yarn := int32(f.YarnOf(schema.Weft, f.Draft.Weft.ColorOf(pick)))
		c.picks[yarn] = append(c.picks[yarn], pick)
	}
	for _, set := range f.Warps() {
		ends := map[int]float64{}
		for _, color := range set.colors {
			ends[f.YarnOf(schema.Warp, color.color)] += color.threads
		}
		c.ends = append(c.ends, ends)
	}
	return c
}

// worthWeaving is the part of an item that must be left for shortening to be worth it.
const worthWeaving = 0.25

// halvings is how often the search for the length halves its range: from a thousand
// kilometres down to a thousandth of a millimetre.
const halvings = 60

// inFloat is a part of a length that is larger than any error of floating point.
const inFloat = 1e-12

// by returns how many millimetres shorter each item must be for a yarn's stock to be
// enough, or unknown if too little would be left. A shorter item never takes more yarn,
// so halving finds the limit.
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

// metres returns what a yarn takes if each item is shorter by so much.
func (c *shorterItems) metres(u *YarnUse, by float64) float64 {
	f := c.figures
	w := f.partsWith(f.finishedPart(measure.Length(c.finished-by), f.picksPerMm()))
	warp := 0.0
	for i, set := range f.Warps() {
		warp += f.warpLength(&set, w).Value / 1000 * c.ends[i][u.Yarn]
	}
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
