package dressing

import (
	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/measure"
)

// Options is what a plan takes beside the draft and the setup. The zero value
// is what a weaver would expect.
type Options struct {
	Cloth *cloth.Cloth // that the draft weaves; nil: worked out
	Path  string       // of the draft, as the plan names it
	Group int          // ends threaded together; 0: see Groups
	Start Start
	// WeaveValue is R/(R+I) of the weave, for the closest sett of each warp
	// yarn; 0 leaves those out. K is Ashenhurst's, 0 for UsualK.
	WeaveValue, K float64
	// IntersectionRate is how often an end passes between face and back for
	// each pick, for what Taylor's rule makes of the take-up; 0 leaves it out.
	IntersectionRate float64
}

// For gathers the whole plan. It is an error where WarpOf is.
func For(d *schema.Draft, s *schema.Setup, o Options) (*Plan, error) {
	w, err := WarpOf(d, s)
	if err != nil {
		return nil, err
	}
	if o.Cloth == nil {
		o.Cloth = cloth.Of(d)
	}
	l := lengthsOf(d, s)
	p := &Plan{
		Fettle: 1, Path: o.Path, Title: d.Texts.Title,
		Weft: WeftPlan{
			PicksPerCm: density(Picks(d, s).Density), Picks: l.PicksWoven, Metres: l.WeftYarn,
			ByColor: colorRows(d, s, WeftUse(d, s), schema.Weft),
			Repeat:  PickRepeat(d), RepeatCm: finishedPicks(d, s, PickRepeat(d)).scaled(0.1),
		},
		Sley: sleyPlan(d, s, w), Raddle: raddlePlan(d, s),
		Groups: list(Groups(d, w, o.Group, o.Start)), Lifts: list(liftBlocks(d)), Tieup: tieup(d),
		Selvedge: selvedgePlan(d, s, w, o.Cloth), Stretches: list(Stretches(d, s)),
		Winding:       Winding{list(Bouts(d, s, w))},
		LashingCordCm: l.LashingCord.scaled(0.1), FinishedWidthCm: l.FinishedWidth.scaled(0.1),
		WovenLengthM: l.Woven.scaled(0.001),
		Unassigned:   list(Unassigned(d, s)), KeptByUse: list(keptRows(d, s)),
		Missing: list(missingFor(d, s)), Cautions: list(Cautions(d, s)),
		Unstated: list(Unstated(s)), Faults: list(Faults(d, s, o.Cloth)),
	}
	takeUpByRule(p.Cautions, d, s, o.IntersectionRate)
	if p.Warp, err = warpPlan(d, s, w, l); err != nil {
		return nil, err
	}
	lacks, err := Lacks(d, s, o.Cloth)
	if p.Lacks = list(lacks); err != nil {
		return nil, err
	}
	if p.Heddles, err = heddleRows(d, s, l.Width); err != nil {
		return nil, err
	}
	p.Yarns, err = yarnRows(d, s, o)
	return p, err
}

// list makes an empty list of none, which JSON then writes as one.
func list[T any](l []T) []T {
	if l == nil {
		return []T{}
	}
	return l
}

// density is a density as a figure, unknown for 0.
func density(d measure.Density) Figure {
	if d <= 0 {
		return Figure{}
	}
	return known(float64(d))
}

func warpPlan(d *schema.Draft, s *schema.Setup, w Warp, l Lengths) (WarpPlan, error) {
	uses, err := WarpUse(d, s)
	return WarpPlan{
		Ends: w.All, DraftEnds: w.Ends, Repeats: w.Repeats, Balance: w.Balance,
		SettPerCm: density(Sleyed(d, s)), WidthCm: l.Width.scaled(0.1),
		LengthM: l.Warp.scaled(0.001), Metres: l.WarpYarn,
		ByColor: colorRows(d, s, uses, schema.Warp),
	}, err
}

func colorRows(d *schema.Draft, s *schema.Setup, uses []ColorUse, system schema.SystemName) []ColorRow {
	rows := make([]ColorRow, 0, len(uses))
	for _, u := range uses {
		row := ColorRow{Color: u.Color, Hex: Hex(d, u.Color), Metres: u.Metres, Grams: u.Grams}
		if u.Yarn >= 0 {
			row.Yarn = s.Yarns[u.Yarn].Name
		}
		if system == schema.Warp {
			row.Ends = u.Threads
		} else {
			row.Picks = u.Threads
		}
		rows = append(rows, row)
	}
	return rows
}

func sleyPlan(d *schema.Draft, s *schema.Setup, w Warp) *SleyPlan {
	sett := Sett(d, s).Density
	order, ok := SleyIn(s.Reeds, sett)
	if !ok {
		return nil
	}
	first, second := order.FromCentre()
	p := &SleyPlan{
		DentsPerCm: density(order.Reed), Order: order.Order(), SettPerCm: density(order.Sett()),
		OffPercent: known(order.OffPercent()), Dents: order.DentsFor(w.All),
		FromCentre:  Halves{first, second},
		WantedPerCm: density(sett), WidthErrorCm: order.WidthError(w.All).scaled(0.1),
		Fullest: order.Fullest(), DentsAvailable: DentsOf(s.Reeds[0]),
	}
	if reed, other, ok := OtherReed(s.Reeds, sett); ok {
		p.OtherReed = &OtherPlan{reed.Name, density(reed.Dents), other.Order(), known(other.OffPercent())}
	}
	return p
}

// raddlePlan spreads the sleyed sett over a raddle with a space to each
// centimetre, or to each inch where the weaver works in inches.
func raddlePlan(d *schema.Draft, s *schema.Setup) *RaddlePlan {
	order := Sley(raddleSpaces(s.Units), Sleyed(d, s))
	if order.Dents == 0 {
		return nil
	}
	return &RaddlePlan{density(order.Reed), order.Order()}
}

// raddleSpaces is a raddle's spaces per centimetre: one to a centimetre, or one
// to an inch. Sley with it gives the ends that each space takes.
func raddleSpaces(u measure.Units) measure.Density {
	if u.PerInch() {
		return measure.ByInch(1)
	}
	return 1
}

// tieup is the shafts of each treadle; none where the lifts come from a lift
// plan.
func tieup(d *schema.Draft) [][]int32 {
	if d.LiftPlan.Len() > 0 || d.Treadling.Count() == 0 {
		return nil
	}
	return rowsOf(&d.Tieup, 1, d.Tieup.Len())
}

// selvedgePlan is nil where one shuttle does not weave the draft, where floating
// selvedges catch it, or where the last end of the warp is not the draft's.
func selvedgePlan(d *schema.Draft, s *schema.Setup, w Warp, woven *cloth.Cloth) *SelvedgePlan {
	if s.Project.FloatingSelvedge || cloth.SeveralShuttles(d) || w.All == 0 || w.DraftEnd(w.All) != w.Ends {
		return nil
	}
	edges := woven.Selvedge()
	if edges.Turns == 0 {
		return nil
	}
	return &SelvedgePlan{edges.Turns, edges.MissesFromLeft, edges.MissesFromRight}
}

func heddleRows(d *schema.Draft, s *schema.Setup, width Figure) ([]HeddleRow, error) {
	shafts, err := Heddles(d, s)
	rows := make([]HeddleRow, 0, len(shafts))
	for _, h := range shafts {
		row := HeddleRow{
			Shaft: h.Shaft, Needed: h.Needed, FirstHalf: h.FirstHalf, SecondHalf: h.SecondHalf,
			PerCm: h.PerCm(width), RunsOut: h.RunsOut,
		}
		if h.Counted {
			row.Available, row.Short = known(float64(h.Available)), known(float64(h.Short))
		}
		rows = append(rows, row)
	}
	return rows, err
}

func keptRows(d *schema.Draft, s *schema.Setup) []KeptRow {
	var rows []KeptRow
	for _, n := range NoYarns(d, s) {
		if advice := n.Advice(s); advice != "" {
			rows = append(rows, KeptRow{n.Color, advice})
		}
	}
	return rows
}

func yarnRows(d *schema.Draft, s *schema.Setup, o Options) ([]YarnRow, error) {
	uses, err := YarnUses(d, s)
	rows := make([]YarnRow, 0, len(uses))
	for _, u := range uses {
		y := &s.Yarns[u.Yarn]
		row := YarnRow{
			Yarn: y.Name, Metres: u.Metres, Grams: u.Grams, StockM: u.Stock, ShortM: u.Short,
			Packages: u.Packages, StockPackages: u.StockPackages, BuyPackages: u.Buy, ShortenCm: u.Shorten.scaled(0.1),
		}
		if maximum := MaximumSett(y.Grist, o.K, o.WeaveValue); maximum > 0 && u.WarpShare > 0 {
			row.MaxSettPerCm, row.WorkingSetts = density(maximum), WorkingSetts(maximum)
		}
		rows = append(rows, row)
	}
	return rows, err
}
