package dressing

import (
	"slices"
	"strings"

	"fettle/schema"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

// Missing is an unstated value and the figures that need it.
type Missing struct {
	Key string `json:"key"` // as in "[project] finished length"
	For string `json:"for"`
}

// Caution is something about the figures that the weaver should know.
type Caution struct {
	Key string // the setting to state or check
	// Kind is the caution with its numbers: OddSpacing, TooManyEnds, or one of the types
	// below.
	Kind any
}

// UnstatedLoss is a loss that isn't stated and counts as 0. Medium and Heavy are the
// take-up by Taylor's rule for cotton, as a fraction of 1.
type UnstatedLoss struct {
	Loss          string // "take-up"
	Medium, Heavy Figure
}

// UnevenSpacing is a system that the draft spaces unevenly. It holds the mean.
type UnevenSpacing struct {
	System schema.SystemName
	Mean   measure.Density
}

// RepeatsByWidth is the number of repeats chosen to come nearest a finished width.
type RepeatsByWidth struct {
	Repeats     int
	Asked, Gets measure.Length
}

// SelvedgesRepeated reports a repeated draft that contains floating selvedges.
type SelvedgesRepeated struct{}

// key returns the setting for the picks of the part.
func (r PartialRepeat) key() string {
	switch {
	case r.Part == SamplePart:
		return "[project] sample"
	case r.Part == HemPart:
		return "[project] hem"
	case r.InPicks:
		return "[project] picks per item"
	}
	return "[project] finished length"
}

// KeptByUse is a color without a yarn, although a yarn with another use names it.
type KeptByUse struct {
	Color  int // palette number, 0 for threads without a color
	System schema.SystemName
	Yarn   string
}

// KeptByUse returns the yarn that names a color but has another use. ok is false if there
// is none.
func (f *Figures) KeptByUse(n NoYarn) (k KeptByUse, ok bool) {
	if n.ButForUse < 0 {
		return KeptByUse{}, false
	}
	k = KeptByUse{n.Color, schema.Weft, f.Setup.Yarns[n.ButForUse].Name}
	if n.Warp {
		k.System = schema.Warp
	}
	return k, true
}

// missing lists the unstated values that would give more figures.
func (f *Figures) missing() []Missing {
	s := f.Setup
	var list []Missing
	want := func(have bool, key, what string) {
		if !have {
			list = append(list, Missing{key, what})
		}
	}
	want(f.Sett().Known(), "[project] sett", "the sleying, the width and the weft")
	want(f.Reed().Reed.Dents > 0, "[reed] dents", "the sleying")
	want(s.Heddles.Known, "[heddles] each", "whether the heddles are enough")
	want(s.Project.FinishedLength > 0 || s.Project.PicksPerItem > 0 || s.Project.RepeatsPerItem > 0, "[project] finished length", "the warp length, the picks and the yarn")
	want(f.Picks().Known(), "[project] picks", "the picks and the weft")
	want(len(s.Yarns) > 0, "[yarn] grist", "the weight of the yarn")
	for _, y := range s.Yarns {
		want(y.Grist.Known(), "["+strings.TrimSpace("yarn "+wording.Plain(y.Name, 60))+"] grist", "its weight")
	}
	return list
}

// unstated lists the losses that aren't stated and count as 0.
func (f *Figures) unstated() []string {
	var list []string
	for _, loss := range []string{"take-up", "shrinkage warp", "shrinkage weft", "weft take-up", "draw-in", "loom waste"} {
		if !f.Setup.Has("project." + loss) {
			list = append(list, loss)
		}
	}
	return list
}

// without lists the unstated losses by the figures that need them.
func (f *Figures) without() Without {
	const both = "shrinkage"
	lacks := f.unstated()
	lacksBoth := slices.Contains(lacks, both+" warp") && slices.Contains(lacks, both+" weft")
	of := func(losses ...string) []string {
		list := []string{}
		for _, loss := range losses {
			switch {
			case !slices.Contains(lacks, loss):
			case lacksBoth && strings.HasPrefix(loss, both):
				list = append(list, both)
			default:
				list = append(list, loss)
			}
		}
		return list
	}
	return Without{
		Warp: of("take-up", "shrinkage warp", "loom waste"), WovenLength: of("shrinkage warp"),
		Weft: of("weft take-up", "shrinkage warp"), Width: of("draw-in", "shrinkage weft"),
	}
}

// cautions lists the losses that aren't stated and count as 0, and the figures that rest
// on a guess.
func (f *Figures) cautions() []Caution {
	var list []Caution
	for _, loss := range f.unstated() {
		kind := UnstatedLoss{Loss: loss}
		if loss == "take-up" {
			kind.Medium, kind.Heavy = f.takeUpByRule()
		}
		list = append(list, Caution{"[project] " + loss, kind})
	}
	list = append(list, f.spacingCautions()...)
	list = append(list, f.repeatCautions()...)
	for _, r := range f.partialRepeats() {
		list = append(list, Caution{r.key(), r})
	}
	return list
}

// takeUpByRule returns the take-up by Taylor's rule. It needs a cotton weft, the picks
// per centimetre, and a cloth that isn't too large.
func (f *Figures) takeUpByRule() (medium, heavy Figure) {
	picks, weft := f.Picks(), measure.Grist{}
	for _, use := range f.WeftUse() {
		if use.Yarn >= 0 && strings.Contains(strings.ToLower(f.Setup.Yarns[use.Yarn].Grist.Text), "cotton") {
			weft = f.Setup.Yarns[use.Yarn].Grist
			break
		}
	}
	if !picks.Known() || !weft.Known() || f.Cloth().TooLarge() {
		return Figure{}, Figure{}
	}
	rate := f.Cloth().IntersectionRate(schema.Warp)
	if rate <= 0 {
		return Figure{}, Figure{}
	}
	perInch := rate * picks.Density.PerInch()
	return known(contraction(perInch, weft, mediumCloth)), known(contraction(perInch, weft, heavyCloth))
}

func (f *Figures) spacingCautions() []Caution {
	p, keys := &f.Setup.Project, map[schema.SystemName]string{schema.Warp: "[project] sett", schema.Weft: "[project] picks"}
	var list []Caution
	for _, odd := range f.OddSpacings() {
		if odd.System == schema.Warp && p.Sett <= 0 || odd.System == schema.Weft && p.Picks <= 0 {
			list = append(list, Caution{keys[odd.System], odd})
		}
	}
	if sett := f.Sett(); sett.Uneven {
		list = append(list, Caution{keys[schema.Warp], UnevenSpacing{schema.Warp, sett.Density}})
	}
	if picks := f.Picks(); picks.Uneven {
		list = append(list, Caution{keys[schema.Weft], UnevenSpacing{schema.Weft, picks.Density}})
	}
	return list
}

func (f *Figures) repeatCautions() []Caution {
	if many, refused := f.TooManyEnds(); refused {
		return []Caution{{"[project] repeats", many}}
	}
	var list []Caution
	w := f.fullWarp()
	if w.byWidth {
		gets := measure.Length(f.Lengths().FinishedWidth.Value)
		list = append(list, Caution{"[project] repeats", RepeatsByWidth{w.Repeats, f.Setup.Project.FinishedWidth, gets}})
	}
	if (f.floatingSelvedge(1) || f.floatingSelvedge(w.Ends)) && w.All > w.Ends {
		list = append(list, Caution{"[project] floating selvedges", SelvedgesRepeated{}})
	}
	return list
}
