package dressing

// Plan is everything that dressing the loom with a draft takes, in the shape
// that `plan --format json` writes: lengths in centimetres or metres as the
// keys say, densities per centimetre. What is not known is left out, and
// Missing says which value would give it.
type Plan struct {
	Fettle          int           `json:"fettle"` // version of the shape, 1
	Path            string        `json:"path"`
	Title           string        `json:"title"`
	Warp            WarpPlan      `json:"warp"`
	Weft            WeftPlan      `json:"weft"`
	Sley            *SleyPlan     `json:"sley,omitempty"`
	Heddles         []HeddleRow   `json:"heddles"`
	Groups          []Group       `json:"groups"`
	Winding         Winding       `json:"winding"`
	LashingCordCm   Figure        `json:"lashing_cord_cm,omitzero"`
	Raddle          *RaddlePlan   `json:"raddle,omitempty"`
	Lifts           []LiftBlock   `json:"lifts"`
	Tieup           [][]int32     `json:"tieup,omitempty"`
	Selvedge        *SelvedgePlan `json:"selvedge,omitempty"`
	Stretches       []Stretch     `json:"stretches"`
	Yarns           []YarnRow     `json:"yarns"`
	Unassigned      []int         `json:"unassigned"`
	KeptByUse       []KeptRow     `json:"kept_by_use"`
	FinishedWidthCm Figure        `json:"finished_width_cm,omitzero"`
	WovenLengthM    Figure        `json:"woven_length_m,omitzero"`
	Missing         []Missing     `json:"missing"`
	Unstated        []string      `json:"unstated"` // keys of losses that count as 0
	Faults          []Fault       `json:"faults"`
	Lacks           []Lack        `json:"lacks"`
	Cautions        []Caution     `json:"cautions"`
}

// WarpPlan is the warp in all.
type WarpPlan struct {
	Ends      int        `json:"ends"`
	SettPerCm Figure     `json:"sett_per_cm,omitzero"` // as sleyed
	WidthCm   Figure     `json:"width_cm,omitzero"`    // in the reed
	LengthM   Figure     `json:"length_m,omitzero"`
	Metres    Figure     `json:"metres,omitzero"`
	ByColor   []ColorRow `json:"by_color"`
	DraftEnds int        `json:"draft_ends"`
	Repeats   int        `json:"repeats"`
	Balance   int        `json:"balance"`
}

// WeftPlan is the weft in all.
type WeftPlan struct {
	PicksPerCm Figure     `json:"picks_per_cm,omitzero"`
	Picks      Figure     `json:"picks,omitzero"`
	Metres     Figure     `json:"metres,omitzero"`
	ByColor    []ColorRow `json:"by_color"`
	// Repeat is after how many picks the draft, gone through over and over,
	// starts again, 0 where it has none; RepeatCm is how much finished cloth they
	// give.
	Repeat   int    `json:"repeat"`
	RepeatCm Figure `json:"repeat_cm,omitzero"`
}

// ColorRow is one color of the warp, which has ends, or of the weft, which has
// picks. Color is 0 for threads the draft gives no color.
type ColorRow struct {
	Color  int    `json:"color"`
	Hex    string `json:"hex,omitempty"`
	Yarn   string `json:"yarn,omitempty"`
	Ends   Figure `json:"ends,omitzero"`
	Picks  Figure `json:"picks,omitzero"`
	Metres Figure `json:"metres,omitzero"`
	Grams  Figure `json:"grams,omitzero"`
}

// SleyPlan is how the reed in use is sleyed.
type SleyPlan struct {
	DentsPerCm     Figure     `json:"dents_per_cm"`
	Order          []int      `json:"order"`
	SettPerCm      Figure     `json:"sett_per_cm"`
	OffPercent     Figure     `json:"off_percent"`
	Dents          int        `json:"dents"`
	FromCentre     Halves     `json:"from_centre"`
	WantedPerCm    Figure     `json:"wanted_per_cm"`
	WidthErrorCm   Figure     `json:"width_error_cm"`
	Fullest        int        `json:"fullest"`
	DentsAvailable Figure     `json:"dents_available,omitzero"`
	OtherReed      *OtherPlan `json:"other_reed,omitempty"`
}

// Halves are the orders from the centre outward.
type Halves struct {
	FirstHalf  []int `json:"first_half"`
	SecondHalf []int `json:"second_half"`
}

// OtherPlan is another reed of the weaver's that comes nearer the sett.
type OtherPlan struct {
	Name       string `json:"name"`
	DentsPerCm Figure `json:"dents_per_cm"`
	Order      []int  `json:"order"`
	OffPercent Figure `json:"off_percent"`
}

// HeddleRow is what one shaft takes.
type HeddleRow struct {
	Shaft      int    `json:"shaft"`
	Needed     int    `json:"needed"`
	FirstHalf  int    `json:"first_half"`
	SecondHalf int    `json:"second_half"`
	Available  Figure `json:"available,omitzero"`
	Short      Figure `json:"short,omitzero"`
	PerCm      Figure `json:"per_cm,omitzero"`
	RunsOut    int    `json:"runs_out,omitempty"`
}

// KeptRow is a color of those unassigned that a yarn would stand for if it were
// not for its use.
type KeptRow struct {
	Color int    `json:"color"`
	Text  string `json:"text"`
}

// SelvedgePlan is how one shuttle catches the edges in the draft's picks, by the
// side that the first of them starts from, with end 1 at the right.
type SelvedgePlan struct {
	Turns           int `json:"turns"`
	MissesFromLeft  int `json:"misses_from_left"`
	MissesFromRight int `json:"misses_from_right"`
}

// Winding is the bouts in the order of the ends.
type Winding struct {
	Bouts []Bout `json:"bouts"`
}

// RaddlePlan is how many ends each space of the raddle takes.
type RaddlePlan struct {
	PerCm Figure `json:"spaces_per_cm"`
	Order []int  `json:"order"`
}

// YarnRow is one yarn in all its colors, as warp and as weft.
type YarnRow struct {
	Yarn          string        `json:"yarn"`
	Metres        Figure        `json:"metres,omitzero"`
	Grams         Figure        `json:"grams,omitzero"`
	StockM        Figure        `json:"stock_m,omitzero"`
	ShortM        Figure        `json:"short_m,omitzero"`
	Packages      Figure        `json:"packages,omitzero"`
	StockPackages Figure        `json:"stock_packages,omitzero"`
	BuyPackages   Figure        `json:"buy_packages,omitzero"`
	ShortenCm     Figure        `json:"shorten_cm,omitzero"`
	MaxSettPerCm  Figure        `json:"max_sett_per_cm,omitzero"`
	WorkingSetts  []WorkingSett `json:"working_setts,omitempty"`
}
