package dressing

import (
	"math"
	"slices"

	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/measure"
)

// UsualK is Ashenhurst's k for firm yarns: how the diameters in an inch go with
// the square root of the yards in a pound.
const UsualK = 0.9

// kFor returns Ashenhurst's k for a yarn by the kind of its count: 0.84 for woollen counts,
// 0.92 for cotton and linen, and UsualK for all others. Mills have used up to 0.95 for
// cotton.
func kFor(g measure.Grist) float64 {
	switch g.Count {
	case measure.WoollenCount:
		return 0.84
	case measure.CottonCount, measure.LinenCount:
		return 0.92
	}
	return UsualK
}

// sideBySide returns how many threads of a yarn lie side by side in a centimetre, by
// Ashenhurst's rule: k·√(yd/lb) in an inch. A k of 0 or less is kFor the yarn. It is 0 if
// the grist is unknown.
func sideBySide(g measure.Grist, k float64) measure.Density {
	if k <= 0 {
		k = kFor(g)
	}
	return measure.ByInch(k * math.Sqrt(g.YardsPerPound()))
}

// maximumSett returns the closest sett in which a yarn can be woven by Ashenhurst's
// rule, in ends per centimetre: its diameters times R/(R+I), the weave's value.
// It is 0 if the grist is unknown.
func maximumSett(g measure.Grist, k, weaveValue float64) measure.Density {
	return sideBySide(g, k) * measure.Density(weaveValue)
}

// YarnMaximum is the closest sett of a yarn of the warp in the weave of the draft. If
// yarns alternate in the warp, all that are in one repeat of their order have the maximum
// for their average diameter.
type YarnMaximum struct {
	Yarn    int             // its index in the setup's yarns
	Maximum measure.Density // in all weaves that a tenth of the picks or more are in
	Brief   measure.Density // the same with those in fewer picks
	Leads   bool            // it is the thickest yarn of its repeat
}

// shortPart is the part of the picks below which a weave counts as brief.
const shortPart = 0.1

// MaximumSetts returns the closest setts of the yarns of the warp whose size is known, in
// the setup's order. A k of 0 is kFor each yarn. There are none if the cloth is too large,
// and none for a yarn that is only in repeats with one of unknown size.
func (f *Figures) MaximumSetts(k float64) []YarnMaximum {
	if len(f.Setup.Yarns) == 0 || f.Draft.Ends() == 0 || f.Cloth().TooLarge() {
		return nil
	}
	values := slices.Clone(f.weaveValues())
	if len(values) == 0 {
		return nil
	}
	slices.Sort(values)
	least, usual := values[0], values[max(0, int(math.Ceil(shortPart*float64(len(values))-hair))-1)]
	var list []YarnMaximum
	for yarn, d := range f.diameters(schema.Warp, k) {
		if d.mm > 0 {
			perCm := 10 / d.mm
			list = append(list, YarnMaximum{yarn, measure.Density(perCm * usual), measure.Density(perCm * least), d.leads})
		}
	}
	return list
}

// weaveValues returns the weave's value at each pick.
func (f *Figures) weaveValues() []float64 { return f.pickValues.get(f.computeWeaveValues) }

func (f *Figures) computeWeaveValues() []float64 { return f.Cloth().WeaveValues(f.Draft.Weft.ColorOf) }

// WeftMaximum is how close the picks of a yarn can be beaten by Ashenhurst's rule.
type WeftMaximum struct {
	Yarn    int             // its index in the setup's yarns
	Maximum measure.Density // picks to the centimetre
	Picks   measure.Density // those of the project that it is compared with
}

// WeftMaximums returns the maximum for each yarn of the weft whose size is known, in the
// setup's order, by the average intersections of the ends; of yarns that alternate, only for
// the thickest. A pattern weft lies over its tabby, so a cloth with one is judged by the
// tabby alone. There are none if the picks are unknown or the cloth is too large.
func (f *Figures) WeftMaximums() []WeftMaximum {
	picks := f.Picks().Density
	if len(f.Setup.Yarns) == 0 || f.Draft.Ends() == 0 || picks <= 0 || f.Cloth().TooLarge() {
		return nil
	}
	if color, share, ok := f.tabby(); ok {
		yarn := f.YarnOf(schema.Weft, color)
		if yarn < 0 || !f.Setup.Yarns[yarn].Grist.Known() {
			return nil
		}
		return []WeftMaximum{{yarn, maximumSett(f.Setup.Yarns[yarn].Grist, 0, 0.5), picks * measure.Density(share)}}
	}
	value := f.Cloth().WeftWeaveValue()
	var list []WeftMaximum
	for yarn, d := range f.diameters(schema.Weft, 0) {
		if d.mm > 0 && d.leads && value > 0 {
			list = append(list, WeftMaximum{yarn, measure.Density(10 / d.mm * value), picks})
		}
	}
	return list
}

// tabby returns the color of a weft that weaves plain weave between the picks of a pattern
// weft, and its share of the picks: about half of them.
func (f *Figures) tabby() (color int, share float64, ok bool) {
	colors := f.draftColors(schema.Weft)
	if len(colors) < 2 {
		return 0, 0, false
	}
	values, picks := f.weaveValues(), float64(f.Draft.Picks())
	tightest, others := map[int]float64{}, map[int]bool{}
	for i, v := range values {
		color := f.Draft.Weft.ColorOf(i + 1)
		if last, met := tightest[color]; !met || v < last {
			tightest[color] = v
		}
		others[color] = others[color] || v > 0.5+hair
	}
	for _, c := range colors {
		if share := c.threads / picks; !others[c.color] && share >= 0.4 && share <= 0.6 {
			for _, other := range colors {
				if other.color != c.color && tightest[other.color] <= 0.5+hair {
					return 0, 0, false
				}
			}
			return c.color, share, true
		}
	}
	return 0, 0, false
}

// diameter is how thick the threads are on average where a yarn is, and whether the yarn is
// the thickest there. 0 is unknown.
type diameter struct {
	mm    float64
	leads bool
}

// diameters returns the diameters in a system for each of the setup's yarns; those that
// aren't in it have none.
func (f *Figures) diameters(system schema.SystemName, k float64) []diameter {
	yarns, threads, s := f.Setup.Yarns, f.Draft.Threads(system), f.Draft.Of(system)
	own, list := make([]float64, len(yarns)), make([]diameter, len(yarns))
	for i := range yarns {
		own[i] = math.NaN()
		if d := sideBySide(yarns[i].Grist, k); d > 0 {
			own[i] = 10 / float64(d)
		}
	}
	kinds, mm := make([]int32, threads), make([]float64, threads)
	for i := range kinds {
		mm[i] = math.NaN()
		if kinds[i] = int32(f.YarnOf(system, s.ColorOf(i+1))); kinds[i] >= 0 {
			mm[i] = own[kinds[i]]
		}
	}
	averages := cloth.MostByRepeat(kinds, 1, mm)
	thickest := map[float64]float64{} // by average
	for i, average := range averages {
		if !math.IsNaN(average) {
			thickest[average] = max(thickest[average], mm[i])
		}
	}
	for i, average := range averages {
		if yarn := kinds[i]; yarn >= 0 && average >= list[yarn].mm {
			list[yarn] = diameter{average, mm[i] >= thickest[average]}
		}
	}
	return list
}

// WorkingSett is a sett, in ends per centimetre, at a percentage of the maximum.
type WorkingSett struct {
	Percent int    `json:"percent"`
	Sett    Figure `json:"sett_per_cm"`
}

// workingSetts returns what the sources call working setts, and the maximum: Faena gives
// about 75 % of it, Osterkamp 80 % for ordinary cloth.
func workingSetts(maximum measure.Density) []WorkingSett {
	var list []WorkingSett
	for _, percent := range []int{75, 80, 100} {
		list = append(list, WorkingSett{percent, density(maximum).scaled(float64(percent) / 100)})
	}
	return list
}

// Taylor's factors for the contraction of a cotton warp, by how heavy the cloth
// is.
const (
	mediumCloth = 3
	heavyCloth  = 4
)

// contraction returns the share of its length that a cotton warp loses to
// interlacing, by the rule of thumb in J. T. Taylor, Cotton Weaving and
// Designing: in percent, the intersections in an inch times a factor for the
// cloth, divided by the cotton count of the weft. It is a fraction of 1, and 0
// where the weft's grist is unknown.
func contraction(intersectionsPerInch float64, weft measure.Grist, factor float64) float64 {
	if !weft.Known() {
		return 0
	}
	return intersectionsPerInch * factor / 100 / weft.CottonCount()
}

// WeftUnknown reports whether the weft has a yarn of unknown size, or a color without one.
func (f *Figures) WeftUnknown() bool {
	for _, c := range f.draftColors(schema.Weft) {
		if yarn := f.YarnOf(schema.Weft, c.color); yarn < 0 || !f.Setup.Yarns[yarn].Grist.Known() {
			return true
		}
	}
	return false
}
