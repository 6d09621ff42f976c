package dressing

import (
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

// WarpUse is what each color of the warp takes, lowest palette number first.
func WarpUse(d *schema.Draft, s *schema.Setup) ([]ColorUse, error) {
	w, err := WarpOf(d, s)
	if err != nil || w.All == 0 {
		return nil, err
	}
	shelf := ShelfFor(s, schema.Warp)
	length := warpLength(&s.Project, woven(&s.Project))
	var list []ColorUse
	for _, c := range WarpColors(d, w) {
		list = append(list, colorUse(d, s, shelf, ColorUse{
			Color:   c.Color,
			Share:   float64(c.Threads) / float64(w.All),
			Threads: known(float64(c.Threads)),
			Metres:  length.scaled(float64(c.Threads) / 1000),
		}))
	}
	return list, nil
}

// WeftUse is what each color of the weft takes, lowest palette number first:
// counted pick by pick where it is known how many are woven, so that a run that
// ends within the draft takes the colors of its first picks.
func WeftUse(d *schema.Draft, s *schema.Setup) []ColorUse {
	shelf := ShelfFor(s, schema.Weft)
	pick := weftYarn(&s.Project, known(1), Width(d, s))
	counts, of, woven := weftCounts(d, s)
	var list []ColorUse
	for _, c := range counts {
		use := ColorUse{Color: c.Color, Share: float64(c.Threads) / float64(max(of, 1))}
		if woven {
			use.Threads = known(float64(c.Threads))
			use.Metres = use.Threads.times(pick)
		}
		list = append(list, colorUse(d, s, shelf, use))
	}
	return list
}

// weftCounts is the picks by color of those that are woven, else of the draft's,
// and how many these are in all.
func weftCounts(d *schema.Draft, s *schema.Setup) (counts []ColorCount, of int, woven bool) {
	if picks := PicksWoven(d, s); picks.Known {
		of = wholePicks(picks.Value)
		return WovenColors(d, of), of, true
	}
	return WeftColors(d), d.Picks(), false
}

// mostPicks is the most that a number holds to the pick.
const mostPicks = 1 << 53

// wholePicks is a number of picks that were rounded up.
func wholePicks(picks float64) int { return int(min(picks, mostPicks)) }

// colorUse gives a color its yarn, and its weight where the grist is known.
func colorUse(d *schema.Draft, s *schema.Setup, shelf Shelf, use ColorUse) ColorUse {
	use.Yarn = shelf.Yarn(d, use.Color)
	if use.Yarn >= 0 {
		use.Grams = grams(use.Metres, s.Yarns[use.Yarn].Grist)
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
	Stock         Figure // metres on the shelf
	Short         Figure // metres missing; 0 where the stock is enough
	Packages      Figure // whole ones needed
	StockPackages Figure // that are there
	Buy           Figure // whole packages missing
	// Shorten is by how many millimetres the finished length of each item would
	// have to be less for the stock to be enough, where that leaves a quarter of it.
	Shorten Figure
}

// YarnUses is what the work takes of every yarn that it uses, in the setup's
// order.
func YarnUses(d *schema.Draft, s *schema.Setup) ([]YarnUse, error) {
	warp, err := WarpUse(d, s)
	if err != nil {
		return nil, err
	}
	uses := make([]YarnUse, len(s.Yarns))
	for i := range uses {
		uses[i] = YarnUse{Yarn: i, Metres: known(0)}
	}
	for _, c := range warp {
		if c.Yarn >= 0 {
			uses[c.Yarn].WarpShare += c.Share
			uses[c.Yarn].Metres = uses[c.Yarn].Metres.plus(c.Metres)
		}
	}
	for _, c := range WeftUse(d, s) {
		if c.Yarn >= 0 {
			uses[c.Yarn].WeftShare += c.Share
			uses[c.Yarn].Metres = uses[c.Yarn].Metres.plus(c.Metres)
		}
	}
	return weigh(d, s, uses), nil
}

// weigh keeps the yarns that are used and sets what they need beside the stock.
func weigh(d *schema.Draft, s *schema.Setup, uses []YarnUse) []YarnUse {
	var used []YarnUse
	var cut *shortening
	for _, u := range uses {
		if u.WarpShare+u.WeftShare == 0 {
			continue
		}
		u.compare(&s.Yarns[u.Yarn])
		if u.Short.Value > 0 {
			if cut == nil {
				cut = shorteningOf(d, s)
			}
			u.Shorten = cut.by(&u)
		}
		used = append(used, u)
	}
	return used
}

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
