package dressing

import (
	"math"

	"fettle/schema/measure"
)

// UsualK is Ashenhurst's k for firm yarns: how the diameters in an inch go with
// the square root of the yards in a pound. Woollen yarns take 0.84, and mills
// have used up to 0.95 for cotton.
const UsualK = 0.9

// Diameters returns how many threads of a yarn lie side by side in a centimetre, by
// Ashenhurst's rule: k·√(yd/lb) in an inch. A k of 0 or less is UsualK. It is 0 if the
// grist is unknown.
func Diameters(g measure.Grist, k float64) measure.Density {
	if k <= 0 {
		k = UsualK
	}
	return measure.ByInch(k * math.Sqrt(g.YardsPerPound()))
}

// MaximumSett returns the closest sett in which a yarn can be woven by Ashenhurst's
// rule, in ends per centimetre: its diameters times R/(R+I), the weave's value.
// It is 0 if the grist is unknown.
func MaximumSett(g measure.Grist, k, weaveValue float64) measure.Density {
	return Diameters(g, k) * measure.Density(weaveValue)
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
