package dressing

import (
	"fettle/schema"
	"fettle/schema/measure"
)

// Plan holds everything needed to dress the loom with a draft, in the shape that `plan
// --format json` writes. Lengths are in centimetres or metres, as the keys say; densities
// are per centimetre. Unknown figures are left out, and Missing says which values would
// give them.
type Plan struct {
	Fettle          int           `json:"fettle"` // version of the shape, 1
	Path            string        `json:"path"`
	Title           string        `json:"title"`
	Warp            WarpPlan      `json:"warp"`
	Weft            WeftPlan      `json:"weft"`
	Reed            *ReedPlan     `json:"reed,omitempty"`
	Sley            *SleyPlan     `json:"sley,omitempty"`
	Heddles         []HeddleRow   `json:"heddles"`
	Groups          []Group       `json:"groups"`
	Winding         Winding       `json:"winding"`
	Warps           []WarpRow     `json:"warps"`
	LashingCordCm   Figure        `json:"lashing_cord_cm,omitzero"`
	LengthUnit      string        `json:"length_unit"` // "cm" or "in"
	ShaftsGo        string        `json:"shafts_go"`   // "up" or "down", on this loom
	Raddle          *RaddlePlan   `json:"raddle,omitempty"`
	Lifts           []LiftBlock   `json:"lifts"`
	Tieup           [][]int32     `json:"tieup,omitempty"`
	TieupDown       [][]int32     `json:"tieup_down,omitempty"` // countermarch only
	PlainHem        *PlainHem     `json:"plain_hem,omitempty"`  // nil if hems aren't plain weave
	Selvedge        *SelvedgePlan `json:"selvedge,omitempty"`
	Stretches       []Stretch     `json:"stretches"`
	Yarns           []YarnRow     `json:"yarns"`
	Unassigned      []int         `json:"unassigned"`
	KeptByUse       []KeptRow     `json:"kept_by_use"`
	FinishedWidthCm Figure        `json:"finished_width_cm,omitzero"`
	WovenLengthM    Figure        `json:"woven_length_m,omitzero"`
	Missing         []Missing     `json:"missing"`
	Unstated        []string      `json:"unstated"` // keys of unstated losses, which count as 0
	Without         Without       `json:"without"`
	Faults          []ProblemRow  `json:"faults"`
	Lacks           []ProblemRow  `json:"lacks"`
	Cautions        []CautionRow  `json:"cautions"`
	Steps           []StepRow     `json:"steps"` // in words; formats/sheet fills them in

	// JSON leaves out the other fields, which are for the sheet.

	Units          measure.Units   `json:"-"`
	Project        *schema.Project `json:"-"` // as stated
	Loom           string          `json:"-"` // its name
	Items          int             `json:"-"`
	ItemsDiffer    bool            `json:"-"` // see Figures.itemsDiffer
	SeveralReeds   bool            `json:"-"` // the weaver owns more than one
	FloatingFirst  bool            `json:"-"` // the draft's first end is a floating selvedge
	FloatingLast   bool            `json:"-"`
	HeddleMoves    []HeddleMove    `json:"-"`
	Start          Start           `json:"-"`
	ByShaft        bool            `json:"-"` // the weaver lifts shafts, without treadles
	Shed           schema.Shed     `json:"-"` // of the draft
	FaceDown       bool            `json:"-"` // the loom's shed is the opposite of the draft's
	Losses         []Loss          `json:"-"`
	PartialRepeats []PartRepeat    `json:"-"`
	ReTie          measure.Length  `json:"-"` // 0 if no sample is cut off
	WovenOnTape    measure.Length  `json:"-"` // see Figures.wovenOnTape
	AfterSample    AfterSample     `json:"-"`
	HasTreadles    schema.Answer   `json:"-"` // the loom's; unsaid if they aren't stated
	LayerSetts     []Figure        `json:"-"` // for each of several layers, the top one first
	DraftPicks     int             `json:"-"`
	Figures        *Figures        `json:"-"` // for what depends on a pick, a block or a stretch
}

// Loss is a stated loss, and how the figures allow for it.
type Loss struct {
	Warp   string         // the warp that states its own; "" for [project]
	Key    string         // "take-up"
	Part   float64        // the loss as a fraction of 1
	Factor float64        // lengths are divided or multiplied by it
	Length measure.Length // the length lost, for loom waste
}

// Without lists the unstated losses that each figure leaves out, by their keys in
// [project]; shrinkage stands for shrinkage warp and shrinkage weft if both are unstated.
type Without struct {
	Warp        []string `json:"warp"` // length and yarn of the warp
	WovenLength []string `json:"woven_length"`
	Weft        []string `json:"weft"`  // yarn of the weft
	Width       []string `json:"width"` // the finished width
}

// ProblemRow is a problem in words.
type ProblemRow struct {
	Step string `json:"step"` // the step of the work that meets it
	Text string `json:"text"` // what is wrong, and what to do
}

// StepRow is a step of the work at the loom.
type StepRow struct {
	Step  string `json:"step"`  // "wind"
	Title string `json:"title"` // "Wind the warp"
	Text  string `json:"text"`  // what to do
	// AtLoom says what to do for a weaver who has no sheet, but sees one line at a time; "" if
	// Text holds then too.
	AtLoom string `json:"at_loom,omitempty"`
}

// PartRepeat is a caution about a kind of part that ends inside a repeat, in words.
type PartRepeat struct{ Part, Text string }

// AfterSample is what to weave after a sample that is cut off. CutOff is false if there
// is none; then it is the whole work.
type AfterSample struct {
	CutOff bool
	Picks  Figure
	OnTape measure.Length
}

// CautionRow is a caution in words.
type CautionRow struct {
	Key  string `json:"key"`
	Text string `json:"text"`
}

// WarpPlan holds the figures of the whole warp.
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

	Half int `json:"half"` // ends of the first half
}

// WeftPlan holds the figures of the whole weft.
type WeftPlan struct {
	PicksPerCm Figure     `json:"picks_per_cm,omitzero"`
	Picks      Figure     `json:"picks,omitzero"`
	Metres     Figure     `json:"metres,omitzero"`
	ByColor    []ColorRow `json:"by_color"`
	// Repeat is the number of picks after which the draft starts again, 0 if it has no
	// picks. RepeatCm is their length in finished cloth.
	Repeat   int    `json:"repeat"`
	RepeatCm Figure `json:"repeat_cm,omitzero"`
}

// ColorRow is one color: Ends in the warp, or Picks in the weft. Color is 0 for threads
// without a color. Name is what the sheet calls it; formats/sheet fills it in.
type ColorRow struct {
	Color  int    `json:"color"`
	Name   string `json:"name,omitempty"`
	Hex    string `json:"hex,omitempty"`
	Yarn   string `json:"yarn,omitempty"`
	Ends   Figure `json:"ends,omitzero"`
	Picks  Figure `json:"picks,omitzero"`
	Metres Figure `json:"metres,omitzero"`
	Grams  Figure `json:"grams,omitzero"`
}

// ReedPlan is the reed in use, the reason for it, and how many of its dents stay empty at
// each edge, with end 1 at the right.
type ReedPlan struct {
	Name       string `json:"name"`
	Why        string `json:"why"`
	EmptyRight Figure `json:"empty_right,omitzero"`
	EmptyLeft  Figure `json:"empty_left,omitzero"`
}

// SleyPlan says how to sley the reed in use.
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

	Tens DentTens `json:"tens"`
}

// DentTens counts the dents of each half in tens, from the centre outward.
type DentTens struct {
	FirstHalf  []DentTen `json:"first_half"`
	SecondHalf []DentTen `json:"second_half"`
}

// Halves holds the order of each half, from the centre outward.
type Halves struct {
	FirstHalf  []int `json:"first_half"`
	SecondHalf []int `json:"second_half"`
}

// OtherPlan is another of the weaver's reeds that comes nearer to the sett.
type OtherPlan struct {
	Name       string `json:"name"`
	DentsPerCm Figure `json:"dents_per_cm"`
	Order      []int  `json:"order"`
	OffPercent Figure `json:"off_percent"`
}

// HeddleRow holds the heddles of one shaft.
type HeddleRow struct {
	Shaft      int    `json:"shaft"`
	Needed     int    `json:"needed"`
	FirstHalf  int    `json:"first_half"`
	SecondHalf int    `json:"second_half"`
	Available  Figure `json:"available,omitzero"`
	Short      Figure `json:"short,omitzero"`
	PerCm      Figure `json:"per_cm,omitzero"`
	RunsOut    int    `json:"runs_out,omitempty"`
	// PushAside is the number of unused heddles to push to each side. It is nil if there
	// are too few heddles, or they weren't counted.
	PushAside *PushAside `json:"push_aside,omitempty"`
}

// PushAside is the number of unused heddles to the right and to the left of those in use,
// with end 1 at the right.
type PushAside struct {
	Right int `json:"right"`
	Left  int `json:"left"`
}

// KeptRow is a color without a yarn, although a yarn with another use names it.
type KeptRow struct {
	Color int    `json:"color"`
	Text  string `json:"text"`
}

// SelvedgePlan says how many turns in the draft's picks miss the edge with one shuttle,
// for each side that the first pick can start from, with end 1 at the right.
type SelvedgePlan struct {
	Turns           int `json:"turns"`
	MissesFromLeft  int `json:"misses_from_left"`
	MissesFromRight int `json:"misses_from_right"`
}

// Winding holds the bouts of all warps, the main one first.
type Winding struct {
	Bouts []Bout `json:"bouts"`
}

// WarpRow is one of the warps on the loom.
type WarpRow struct {
	Name    string `json:"name"` // schema.MainWarp, or NAME from [warp NAME]
	Beam    string `json:"beam,omitempty"`
	Ends    int    `json:"ends"`
	LengthM Figure `json:"length_m,omitzero"`
	Bouts   []Bout `json:"bouts"`
}

// RaddlePlan holds the number of ends in each space of the raddle.
type RaddlePlan struct {
	PerCm Figure `json:"spaces_per_cm"`
	Order []int  `json:"order"`
}

// YarnRow is one yarn with all its colors, as warp and as weft.
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

	OfMaximum  Figure    `json:"-"` // the sett of this warp in percent of the yarn's closest sett
	TooClose   bool      `json:"-"` // this warp is set closer than that
	Stock      string    `json:"-"` // as stated
	EachMetres []float64 `json:"-"` // metres of it for each color of the warp and of the weft
	EachGrams  []float64 `json:"-"`
}
