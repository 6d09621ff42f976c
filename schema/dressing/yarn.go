package dressing

import (
	"maps"
	"slices"
	"sort"

	"fettle/schema"
	"fettle/schema/measure"
)

// ColorUse is the yarn that one color of a system takes.
type ColorUse struct {
	Color   int     // palette number, 0 for none
	Yarn    int     // its index in the setup's yarns, -1 for none
	Share   float64 // of the system's threads, from 0 to 1
	Threads Figure  // all ends of the warp, or all picks
	Metres  Figure
	Grams   Figure
}

// WarpUse returns the yarn for each color of the warp, in order of palette number. It is
// empty if TooManyEnds refuses the warp.
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

// WeftUse returns the yarn for each color of the weft, in order of palette number. If the
// number of picks is known, it counts the picks of every part, so a part that ends inside
// the draft has the colors of its first picks.
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

// mostPicks is the largest number that a float holds exactly to the pick.
const mostPicks = 1 << 53

// wholePicks converts a rounded-up number of picks.
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

// YarnUse holds how much of one yarn the whole work takes, in all colors, as warp and as
// weft.
type YarnUse struct {
	Yarn          int     // its index in the setup's yarns
	WarpShare     float64 // of all ends, from 0 to 1
	WeftShare     float64 // of all picks woven, from 0 to 1
	Metres        Figure
	Grams         Figure
	EachMetres    []float64 // metres of it for each color of the warp and of the weft; 0 if unknown
	EachGrams     []float64
	Stock         Figure // metres in stock
	Short         Figure // metres missing; 0 if the stock is enough
	Packages      Figure // whole packages needed
	StockPackages Figure // packages in stock
	Buy           Figure // whole packages to buy
	// Shorten is how many millimetres shorter each item, after washing, must be for the
	// stock to be enough. It is unknown if that leaves less than a quarter of the item.
	Shorten Figure
}

// YarnUses returns the use of each yarn in the work, in the setup's order. It is empty if
// TooManyEnds refuses the warp.
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

// yarnTotals returns the same as YarnUses, but without Shorten.
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

// YarnMargin is a yarn whose stock is enough only if the unstated losses take none of it.
type YarnMargin struct {
	Yarn          int      // its index in the setup's yarns
	Needed, Usual float64  // metres without those losses, and with the usual ones
	Stock, Short  float64  // metres in stock, and metres missing with the usual losses
	Unstated      []string // keys in [project]
}

// YarnMargins returns the yarns whose stock is enough without the unstated losses, but
// not with the usual ones, in the setup's order.
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

// compare fills in the stock of a yarn and the shortage.
func (u *YarnUse) compare(y *schema.Yarn) {
	u.Grams = grams(u.Metres, y.Grist)
	size, ok := y.Stock.PackageMetres(y.Grist)
	if !ok {
		return
	}
	u.StockPackages = known(float64(y.Stock.Packages))
	u.Stock = u.StockPackages.scaled(size)
	if u.Metres.Known {
		u.Packages = known(roundUp(u.Metres.Value / size))
		u.Buy = known(max(u.Packages.Value-u.StockPackages.Value, 0))
		u.Short = known(max(u.Metres.Value-u.Stock.Value, 0))
	}
}

// shorterItems computes how much yarn shorter items would take.
type shorterItems struct {
	figures  *Figures
	finished float64           // millimetres of cloth in an item
	picks    map[int32][]int   // the draft's picks by their yarn, ascending
	ends     []map[int]float64 // of each warp, the number of ends by yarn
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

// worthWeaving is the smallest part of an item that is worth weaving.
const worthWeaving = 0.25

// halvings is how often the search for the length halves its range, from a thousand
// kilometres down to a thousandth of a millimetre.
const halvings = 60

// inFloat is a relative tolerance, larger than any floating-point error in a length.
const inFloat = 1e-12

// by returns how many millimetres shorter each item must be for a yarn's stock to be
// enough, or unknown if too little is left. A shorter item never takes more yarn, so
// bisection finds the limit.
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

// metres returns how much of a yarn the work takes if each item is shorter by this
// length.
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

// among returns how many of the first picks use a yarn.
func (c *shorterItems) among(yarn int32, first int) int {
	own, draft := c.picks[yarn], c.figures.Draft.Picks()
	return first/draft*len(own) + sort.SearchInts(own, first%draft+1)
}
