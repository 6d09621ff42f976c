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

// KOf returns Ashenhurst's k for a yarn by the kind of its count: 0.84 for woollen counts,
// 0.92 for cotton and linen, and UsualK for all others. Mills have used up to 0.95 for
// cotton.
func KOf(g measure.Grist) float64 {
	switch g.Count {
	case measure.WoollenCount:
		return 0.84
	case measure.CottonCount, measure.LinenCount:
		return 0.92
	}
	return UsualK
}

// Diameters returns how many threads of a yarn lie side by side in a centimetre, by
// Ashenhurst's rule: k·√(yd/lb) in an inch. A k of 0 or less is KOf the yarn. It is 0 if
// the grist is unknown.
func Diameters(g measure.Grist, k float64) measure.Density {
	if k <= 0 {
		k = KOf(g)
	}
	return measure.ByInch(k * math.Sqrt(g.YardsPerPound()))
}

// MaximumSett returns the closest sett in which a yarn can be woven by Ashenhurst's
// rule, in ends per centimetre: its diameters times R/(R+I), the weave's value.
// It is 0 if the grist is unknown.
func MaximumSett(g measure.Grist, k, weaveValue float64) measure.Density {
	return Diameters(g, k) * measure.Density(weaveValue)
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
// the setup's order. A k of 0 is KOf each yarn. There are none if the cloth is too large,
// and none for a yarn that is only in repeats with one of unknown size.
func (f *Figures) MaximumSetts(k float64) []YarnMaximum {
	if len(f.Setup.Yarns) == 0 || f.Draft.Ends() == 0 || f.Cloth().TooLarge() {
		return nil
	}
	values := f.weaveValues.get(f.computeWeaveValues)
	if len(values) == 0 {
		return nil
	}
	least, usual := values[0], values[max(0, int(math.Ceil(shortPart*float64(len(values))-hair))-1)]
	var list []YarnMaximum
	for yarn, d := range f.warpDiameters(k) {
		if d.mm > 0 {
			perCm := 10 / d.mm
			list = append(list, YarnMaximum{yarn, measure.Density(perCm * usual), measure.Density(perCm * least), d.leads})
		}
	}
	return list
}

// computeWeaveValues returns the weave's value at each pick, the tightest first.
func (f *Figures) computeWeaveValues() []float64 {
	values := f.Cloth().WeaveValues(f.Draft.Weft.ColorOf)
	slices.Sort(values)
	return values
}

// diameter is how thick the threads are on average where a yarn is, and whether the yarn is
// the thickest there. 0 is unknown.
type diameter struct {
	mm    float64
	leads bool
}

// warpDiameters returns the diameters for each of the setup's yarns; those that aren't in
// the warp have none.
func (f *Figures) warpDiameters(k float64) []diameter {
	yarns := f.Setup.Yarns
	own, list := make([]float64, len(yarns)), make([]diameter, len(yarns))
	for i := range yarns {
		if d := Diameters(yarns[i].Grist, k); d > 0 {
			own[i] = 10 / float64(d)
		}
	}
	kinds, mm := make([]int32, f.Draft.Ends()), make([]float64, f.Draft.Ends())
	for i := range kinds {
		kinds[i] = int32(f.YarnOf(schema.Warp, f.Draft.Warp.ColorOf(i+1)))
		if kinds[i] >= 0 {
			mm[i] = own[kinds[i]]
		}
		if mm[i] == 0 {
			mm[i] = math.NaN()
		}
	}
	thickest := map[float64]float64{} // by average
	averages := cloth.MostByRepeat(kinds, 1, mm)
	for i, average := range averages {
		thickest[average] = max(thickest[average], mm[i])
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
	MediumCloth = 3
	HeavyCloth  = 4
)

// Contraction returns the share of its length that a cotton warp loses to
// interlacing, by the rule of thumb in J. T. Taylor, Cotton Weaving and
// Designing: in percent, the intersections in an inch times a factor for the
// cloth, divided by the cotton count of the weft. It is a fraction of 1, and 0
// where the weft's grist is unknown.
func Contraction(intersectionsPerInch float64, weft measure.Grist, factor float64) float64 {
	if !weft.Known() {
		return 0
	}
	return intersectionsPerInch * factor / 100 / weft.CottonCount()
}
