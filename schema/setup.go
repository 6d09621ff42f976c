package schema

import (
	"fmt"
	"path/filepath"
	"slices"

	"fettle/schema/measure"
	"fettle/schema/wording"
)

// Setup holds what the settings say about the weaver's loom, heddles, reeds, yarn
// and project. The zero value states nothing, and rules that need it don't run.
type Setup struct {
	Loom    Loom
	Heddles Heddles
	Reeds   []Reed // the one that [project] reed names comes first
	Project Project
	Warps   []ExtraWarp
	Yarns   []Yarn
	// ReedNamed reports that [project] reed names the first of Reeds.
	ReedNamed bool
	// Given holds where each stated value comes from, by "section.key" such as
	// "project.sett".
	Given map[string]Origin
	// Units are the weaver's own units, for messages.
	Units measure.Units
}

// Origin is where a setting comes from: a file and a line, or a flag.
type Origin struct {
	Path string
	Line int // 0 for a flag
}

// Has reports whether a setting was stated, by "section.key".
func (s *Setup) Has(key string) bool { _, ok := s.Given[key]; return ok }

// Stated returns the name of a setting and where it comes from, for a message:
// "[project] repeats (fettle.ini:3)".
func (s *Setup) Stated(section, key string) string {
	name := "[" + section + "] " + key
	switch at, ok := s.Given[section+"."+key]; {
	case !ok:
		return name
	case at.Path == "":
		return name + ", given as a flag"
	case at.Line == 0:
		return name + " (" + wording.PathName(filepath.ToSlash(at.Path)) + ")"
	default:
		return fmt.Sprintf("%s (%s:%d)", name, wording.PathName(filepath.ToSlash(at.Path)), at.Line)
	}
}

// Loom describes a loom. Zero values are unknown.
type Loom struct {
	Name         string
	Shafts       int
	Treadles     int // 0: lifts come from a lift plan
	WeavingWidth measure.Length
	Shed         Shed
	AtOnce       int // treadles that are pressed together; 0: unstated
}

// Heddles holds how many heddles each shaft has.
type Heddles struct {
	Each    int           // on every shaft that is named in neither of the others
	Ranges  []HeddleRange // the last that holds a shaft wins
	ByShaft map[int]int   // by shaft number; overrides Ranges
	Known   bool          // whether heddles were counted at all
}

// HeddleRange is how many heddles are on each of the shafts From to To.
type HeddleRange struct{ From, To, Count int }

// On returns how many heddles a shaft has, and whether that is known.
func (h *Heddles) On(shaft int) (count int, known bool) {
	if n, ok := h.ByShaft[shaft]; ok {
		return n, true
	}
	for _, r := range slices.Backward(h.Ranges) {
		if r.From <= shaft && shaft <= r.To {
			return r.Count, true
		}
	}
	return h.Each, h.Known && h.Each > 0
}

// Reed describes a reed. Zero values are unknown.
type Reed struct {
	Name  string
	Dents measure.Density // dents per centimetre
	Width measure.Length
}

// MainWarp is the name of the warp whose ends no ExtraWarp picks.
const MainWarp = "main"

// ExtraWarp describes a warp besides the main one. It holds the ends of the whole warp
// that Ends, Shafts or Palette pick.
type ExtraWarp struct {
	Name      string
	Ends      []Steps // numbers of ends, counted after repeats
	Shafts    []Steps // ends on any of these shafts
	Palette   []int   // ends with any of these palette numbers
	TakeUp    float64 // as in Project, if stated
	LoomWaste measure.Length
	Beam      string // which beam it goes on, in words
}

// Steps are the numbers From, From + Step and so on, up to To.
type Steps struct{ From, To, Step int }

// Project describes what you weave from the draft. Percentages are fractions of
// 1: 10 % is 0.1.
type Project struct {
	Sett             measure.Density // ends per centimetre; 0: from the draft's spacing
	Picks            measure.Density // picks per centimetre; 0: from the draft's spacing
	FinishedLength   measure.Length
	FinishedWidth    measure.Length
	Items            int // 0: one
	Hem              measure.Length
	TakeUp           float64
	ShrinkageWarp    float64
	ShrinkageWeft    float64
	WeftTakeUp       float64
	LoomWaste        measure.Length
	Sample           measure.Length
	Wrap             bool
	Repeats          int // 0: one
	Balance          int
	FloatingSelvedge bool
	Fringe           measure.Length
	DrawIn           float64
	Bout             int // ends wound at once; 0: unstated
	BackToFront      bool
	ContinueDraft    bool            // the draft runs on from part to part; otherwise each begins at its pick 1
	PicksPerItem     int             // the item's cloth in picks, in place of FinishedLength; 0: unstated
	RepeatsPerItem   int             // the same in whole repeats of the draft
	HemPicks         measure.Density // picks per centimetre in hems; 0: as Picks
	PlainHems        bool            // hems are woven in plain weave
	CutOffSample     bool            // and the warp is tied on again
	ReTie            measure.Length  // warp that tying on again takes; DefaultReTie where unstated
}

// DefaultReTie is the warp that tying on again takes where [project] re-tie is not
// stated. Common practice, no source.
const DefaultReTie measure.Length = 250

// Yarn describes a yarn that the weaver owns.
type Yarn struct {
	Name    string
	Grist   measure.Grist
	Colors  []Color // the draft's colors that it is used for
	Palette []int   // the palette numbers that it is used for
	Stock   measure.Stock
	ForWarp bool
	ForWeft bool
}

// The usual losses: one number each, with which fettle asks whether yarn is enough if a
// loss is not stated. They are rules of thumb within the ranges that Usual gives.
const (
	UsualTakeUp                       = 0.05
	UsualShrinkageWarp                = 0.08
	UsualWeftTakeUp                   = 0.10
	UsualLoomWaste     measure.Length = 700
)

// WithUsualLosses returns a copy of the setup with the usual losses in place of those that
// take yarn and are not stated, and their keys in [project].
func (s *Setup) WithUsualLosses() (with *Setup, assumed []string) {
	copied := *s
	p := &copied.Project
	assume := func(key string, set func()) {
		if !s.Has("project." + key) {
			set()
			assumed = append(assumed, key)
		}
	}
	assume("take-up", func() { p.TakeUp = UsualTakeUp })
	assume("shrinkage warp", func() { p.ShrinkageWarp = UsualShrinkageWarp })
	assume("weft take-up", func() { p.WeftTakeUp = UsualWeftTakeUp })
	assume("loom waste", func() { p.LoomWaste = UsualLoomWaste })
	return &copied, assumed
}

// Usual returns the usual size, in words, of a loss that counts as 0 until the
// weaver states it. It returns "" for other keys. The figures are rules of thumb.
func Usual(key string) string {
	const together = "take-up and shrinkage together are often 10 to 15 %" // in print
	switch key {
	case "take-up":
		// Silk: A. Wolfensberger, Theory of Silk Weaving, 2nd ed. 1921, contraction of
		// the warp in weaving.
		return together + "; for silk, take-up alone is 1 to 10 %"
	case "shrinkage warp":
		return together
	case "shrinkage weft":
		return "wash a sample to find out"
	case "weft take-up":
		return "about 10 % is usual" // in print
	case "draw-in":
		return "5 to 10 % is usual (a rule of thumb)"
	case "loom waste":
		return "50 to 90 cm (20 to 36 in) is usual" // in print
	}
	return ""
}
