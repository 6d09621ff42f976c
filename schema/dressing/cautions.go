package dressing

import (
	"fmt"
	"strings"

	"fettle/schema"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

// Missing is a value nobody stated, and what cannot be worked out for want of
// it.
type Missing struct {
	Key string `json:"key"` // as in "[project] finished length"
	For string `json:"for"`
}

// Caution is something the figures rest on that the weaver should know.
type Caution struct {
	Key  string `json:"key"`
	Text string `json:"text"`
}

// missingFor lists the values that would make more figures known.
func missingFor(d *schema.Draft, s *schema.Setup) []Missing {
	var list []Missing
	want := func(have bool, key, what string) {
		if !have {
			list = append(list, Missing{key, what})
		}
	}
	want(Sett(d, s).Known(), "[project] sett", "the sleying, the width and the weft")
	want(len(s.Reeds) > 0 && s.Reeds[0].Dents > 0, "[reed] dents", "the sleying")
	want(s.Heddles.Known || len(s.Heddles.ByShaft) > 0, "[heddles] each", "whether the heddles are enough")
	want(s.Project.FinishedLength > 0, "[project] finished length", "the warp length, the picks and the yarn")
	want(Picks(d, s).Known(), "[project] picks", "the picks and the weft")
	want(len(s.Yarns) > 0, "[yarn] grist", "the weight of the yarn")
	for _, y := range s.Yarns {
		want(y.Grist.Known(), "["+strings.TrimSpace("yarn "+wording.Plain(y.Name, 60))+"] grist", "its weight")
	}
	return list
}

// losses are the values that count as 0 where they are not stated.
func losses() []string {
	return []string{"take-up", "shrinkage warp", "shrinkage weft", "weft take-up", "draw-in", "loom waste"}
}

// Unstated lists the keys of the losses that were not stated, so that the
// figures are reckoned without them.
func Unstated(s *schema.Setup) []string {
	var list []string
	for _, key := range losses() {
		if !s.Has("project." + key) {
			list = append(list, "[project] "+key)
		}
	}
	return list
}

// Cautions lists what was not stated and counts as 0, with what is usual, and
// what else of the draft the figures had to smooth over.
func Cautions(d *schema.Draft, s *schema.Setup) []Caution {
	var list []Caution
	for _, key := range losses() {
		if !s.Has("project." + key) {
			list = append(list, Caution{"[project] " + key, "not stated, so it counts as 0; " + schema.Usual(key)})
		}
	}
	list = append(list, spacingCautions(d, s)...)
	return append(list, repeatCautions(d, s)...)
}

// takeUpByRule adds to the caution about a take-up not stated what Taylor's rule
// makes of it, where a cotton weft and the picks are known. The rate is the
// intersections of an end for each pick.
func takeUpByRule(list []Caution, d *schema.Draft, s *schema.Setup, rate float64) {
	picks, weft := Picks(d, s), measure.Grist{}
	for _, use := range WeftUse(d, s) {
		if use.Yarn >= 0 && strings.Contains(strings.ToLower(s.Yarns[use.Yarn].Grist.Text), "cotton") {
			weft = s.Yarns[use.Yarn].Grist
			break
		}
	}
	if rate <= 0 || !picks.Known() || !weft.Known() {
		return
	}
	perInch := rate * picks.Density.PerInch()
	for i := range list {
		if list[i].Key == "[project] take-up" {
			list[i].Text += fmt.Sprintf("; Taylor's rule for cotton gives %s %% for cloth of medium weight and %s %% for heavy",
				wording.Decimal(100*Contraction(perInch, weft, MediumCloth), 1), wording.Decimal(100*Contraction(perInch, weft, HeavyCloth), 1))
		}
	}
}

func spacingCautions(d *schema.Draft, s *schema.Setup) []Caution {
	var list []Caution
	for _, of := range []struct {
		system schema.SystemName
		stated measure.Density
		key    string
	}{{schema.Warp, s.Project.Sett, "[project] sett"}, {schema.Weft, s.Project.Picks, "[project] picks"}} {
		odd, is := OddSpacing(d, of.system)
		if !is || of.stated > 0 {
			continue
		}
		text := "no handwoven cloth has the " + string(of.system) + " spacing that the draft states, so it is ignored"
		if len(odd.Meant) > 0 {
			text += "; it may mean " + odd.Text()
		}
		list = append(list, Caution{of.key, text})
	}
	if sett := Sett(d, s); sett.Uneven {
		list = append(list, Caution{"[project] sett", fmt.Sprintf(
			"the draft spaces its ends unevenly; the figures go by the mean, %s", s.Units.Sett(sett.Density))})
	}
	if picks := Picks(d, s); picks.Uneven {
		list = append(list, Caution{"[project] picks", fmt.Sprintf(
			"the draft spaces its picks unevenly; the figures go by the mean, %s", s.Units.Sett(picks.Density))})
	}
	return list
}

func repeatCautions(d *schema.Draft, s *schema.Setup) []Caution {
	var list []Caution
	w, err := WarpOf(d, s)
	if err != nil {
		return []Caution{{"[project] repeats", err.Error()}}
	}
	if n, ok := repeatsForWidth(d, s, w); ok {
		list = append(list, Caution{"[project] repeats", fmt.Sprintf(
			"the draft is taken %s, which comes nearest the finished width asked for: %s gives %s",
			wording.TimesOver(n), s.Units.Cloth(s.Project.FinishedWidth), s.Units.Cloth(measure.Length(finishedWidth(s, Width(d, s)).Value)))})
	}
	if first, last := FloatingSelvedges(d, s); (first || last) && w.All > w.Ends {
		list = append(list, Caution{"[project] floating selvedges",
			"the draft's outermost ends are repeated with it, so floating selvedges come inside the cloth too; leave them out of the draft and add them at the loom"})
	}
	return list
}
