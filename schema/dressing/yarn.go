package dressing

import (
	"math"

	"fettle/schema"
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

// WeftUse is what each color of the weft takes, lowest palette number first,
// in the proportion of the draft's picks.
func WeftUse(d *schema.Draft, s *schema.Setup) []ColorUse {
	shelf := ShelfFor(s, schema.Weft)
	picks := PicksWoven(d, s)
	metres := weftYarn(&s.Project, picks, Width(d, s))
	counts := WeftColors(d)
	shares := apportion(counts, d.Picks(), picks)
	var list []ColorUse
	for i, c := range counts {
		share := float64(c.Threads) / float64(d.Picks())
		list = append(list, colorUse(d, s, shelf, ColorUse{
			Color: c.Color, Share: share, Threads: shares[i], Metres: metres.scaled(share),
		}))
	}
	return list
}

// colorUse gives a color its yarn, and its weight where the grist is known.
func colorUse(d *schema.Draft, s *schema.Setup, shelf Shelf, use ColorUse) ColorUse {
	use.Yarn = shelf.Yarn(d, use.Color)
	if use.Yarn >= 0 {
		use.Grams = grams(use.Metres, s.Yarns[use.Yarn].Grist)
	}
	return use
}

func grams(metres Figure, g schema.Grist) Figure {
	if !metres.Known || !g.Known() {
		return Figure{}
	}
	return known(g.Grams(metres.Value))
}

// apportion shares whole picks out by color so that they add up: each color
// takes those from its cumulative share to the next.
func apportion(counts []ColorCount, of int, picks Figure) []Figure {
	shares := make([]Figure, len(counts))
	upTo, given := 0, 0.0
	for i, c := range counts {
		upTo += c.Threads
		if picks.Known {
			next := math.Round(picks.Value * float64(upTo) / float64(of))
			shares[i] = known(next - given)
			given = next
		}
	}
	return shares
}

// YarnUse is what the whole work takes of one yarn, in all its colors, as warp
// and as weft.
type YarnUse struct {
	Yarn          int     // its place in the setup's yarns, from 0
	WarpShare     float64 // of all the ends, to 1
	WeftShare     float64 // of all the picks, to 1
	Metres        Figure
	Grams         Figure
	Stock         Figure // metres on the shelf
	Short         Figure // metres missing; 0 where the stock is enough
	Packages      Figure // whole ones needed
	StockPackages Figure // that are there
	Buy           Figure // whole packages missing
	// Shorten is by how many millimetres the finished length of an item would
	// have to be less for the stock to be enough, where that is possible.
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
	grows := growthOf(d, s)
	var used []YarnUse
	for _, u := range uses {
		if u.WarpShare+u.WeftShare == 0 {
			continue
		}
		u.compare(&s.Yarns[u.Yarn])
		u.shorten(s.Project.FinishedLength, grows)
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

// growth is how many metres of yarn a millimetre more of finished length takes
// in the warp and in the weft, and how many a pick takes.
type growth struct{ warp, weft, pick float64 }

func growthOf(d *schema.Draft, s *schema.Setup) growth {
	p := &s.Project
	w, err := WarpOf(d, s)
	if err != nil {
		return growth{}
	}
	more := float64(Items(p)) / (1 - p.ShrinkageWarp)
	pick := weftYarn(p, known(1), Width(d, s)).Value
	return growth{
		warp: more / (1 - p.TakeUp) / 1000 * float64(w.All),
		weft: more * picksPerMm(d, s).Value * pick,
		pick: pick,
	}
}

// leastItem is the least that must be left of an item for shortening it to be of
// use: as much as telling by how much rounds up.
const leastItem = 12.7

// shorten works out by how much the finished length would have to be less: the
// shortage, and a pick for the rounding up, over what each millimetre takes.
func (u *YarnUse) shorten(finished schema.Length, g growth) {
	each := u.WarpShare*g.warp + u.WeftShare*g.weft
	if u.Short.Value <= 0 || each <= 0 {
		return
	}
	if by := (u.Short.Value + u.WeftShare*g.pick) / each; by < float64(finished-leastItem) {
		u.Shorten = known(by)
	}
}
