package dressing

import (
	"slices"

	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/wording"
)

// Fault is something for want of which a draft cannot be woven as it stands,
// whatever the loom.
type Fault struct {
	Step string `json:"step"` // the step concerned: Thread or Weave
	Text string `json:"text"`
}

// The steps that a fault or a lack can be found in.
const (
	YarnToHave = "yarn" // a lack only, as the two below
	SleyReed   = "sley"
	TieUp      = "tie up"
	Thread     = "thread"
	Weave      = "weave"
)

// Faults lists what keeps a draft from being woven as it stands: that it is a
// block profile, of which nothing else is said; ends without a shaft, picks that
// nothing lifts, threads that are never woven in; the last are not looked for in a
// cloth that is too large. What the loom, its heddles or the yarn lack Lacks lists.
func Faults(d *schema.Draft, s *schema.Setup, woven *cloth.Cloth) []Fault {
	if d.Ends() == 0 {
		return nil
	}
	if d.Profile == schema.Yes {
		return []Fault{{Thread, schema.BlockProfile + "; " + schema.DrawItOut}}
	}
	if list := slices.Concat(slipFaults(d), threadingFaults(d, s), liftFaults(d)); len(list) > 0 {
		return list
	}
	if woven.TooLarge() {
		return nil
	}
	return looseFaults(d, s, woven)
}

// slips are the rows that name a shaft or a treadle which the draft does not have.
func slips(d *schema.Draft) []Beyond {
	return append(ShaftsAbove(d).Slips, TreadlesAbove(d).Slips...)
}

// weaves reports whether a slip is in a row of a thread, which is then not woven
// as meant; a tie-up or a lift plan only names a shaft more than there is.
func weaves(b Beyond) bool {
	return b.At.Part == schema.PartThreading || b.At.Part == schema.PartTreadling
}

func slipFaults(d *schema.Draft) []Fault {
	var list []Fault
	for _, b := range slips(d) {
		step := Thread
		if b.At.Part == schema.PartTreadling {
			step = Weave
		}
		if weaves(b) {
			list = append(list, Fault{step, b.Text()})
		}
	}
	return list
}

func threadingFaults(d *schema.Draft, s *schema.Setup) []Fault {
	if d.Threading.Count() == 0 {
		return []Fault{{Thread, "no end is on a shaft: the draft has no threading"}}
	}
	ends, todo := Unthreaded(d, s)
	if len(ends) == 0 {
		return nil
	}
	return []Fault{{Thread, wording.Numbered("end", ends) + wording.Plural(len(ends), " is", " are") + " on no shaft; " + todo}}
}

// Unthreaded lists the ends that are on no shaft and are not meant so, and says
// what to do about them.
func Unthreaded(d *schema.Draft, s *schema.Setup) (ends []int, todo string) {
	outermost := true
	for end := 1; end <= d.Ends(); end++ {
		if len(d.Threading.Row(end)) == 0 && !FloatingSelvedge(d, s, end) {
			ends = append(ends, end)
			outermost = outermost && (end == 1 || end == d.Ends())
		}
	}
	if outermost {
		return ends, "if floating selvedges are meant, write floating selvedges = yes under [project]"
	}
	return ends, wording.Plural(len(ends), "thread it, or take it out", "thread them, or take them out")
}

// LooseEnds lists the ends that stay on one side of every pick, but for floating
// selvedges.
func LooseEnds(d *schema.Draft, s *schema.Setup, woven *cloth.Cloth) []int {
	return slices.DeleteFunc(woven.Loose(schema.Warp), func(end int) bool { return FloatingSelvedge(d, s, end) })
}

func liftFaults(d *schema.Draft) []Fault {
	switch {
	case d.Treadling.Count()+d.LiftPlan.Count() == 0:
		return []Fault{{Weave, "nothing says what to lift: the draft has neither treadling nor lift plan"}}
	case d.LiftPlan.Len() == 0 && d.Tieup.Count() == 0:
		return []Fault{{Weave, "no treadle is tied to a shaft: the draft has no tie-up"}}
	case !lifts(d):
		return []Fault{{Weave, "no pick lifts a shaft; look at the tie-up and the treadling, or at the lift plan"}}
	}
	return nil
}

// lifts says whether any pick lifts a shaft.
func lifts(d *schema.Draft) bool {
	if d.LiftPlan.Len() > 0 {
		return d.LiftPlan.Count() > 0
	}
	for pick := 1; pick <= d.Treadling.Len(); pick++ {
		if slices.ContainsFunc(d.Treadling.Row(pick), func(treadle int32) bool { return len(d.Tieup.Row(int(treadle))) > 0 }) {
			return true
		}
	}
	return false
}

// looseFaults are the threads that stay on one side of all that they cross.
func looseFaults(d *schema.Draft, s *schema.Setup, woven *cloth.Cloth) []Fault {
	var list []Fault
	if ends := LooseEnds(d, s, woven); len(ends) > 0 {
		list = append(list, Fault{Thread, wording.Numbered("end", ends) + wording.Plural(len(ends), " stays", " stay") +
			" on one side of every pick and would not be woven in; look what lifts the shafts there"})
	}
	if picks := woven.Loose(schema.Weft); len(picks) > 0 {
		list = append(list, Fault{Weave, wording.Numbered("pick", picks) + wording.Plural(len(picks), " stays", " stay") +
			" on one side of every end and would not be woven in; look what lifts the shafts there"})
	}
	return list
}

// FloatingSelvedges says whether the draft's first and last end are the floating
// selvedges that the project has.
func FloatingSelvedges(d *schema.Draft, s *schema.Setup) (first, last bool) {
	return FloatingSelvedge(d, s, 1), FloatingSelvedge(d, s, d.Ends())
}

// FloatingSelvedge says whether an end of the draft is meant to be on no shaft:
// the outermost ends where the project has floating selvedges.
func FloatingSelvedge(d *schema.Draft, s *schema.Setup, end int) bool {
	return s.Project.FloatingSelvedge && (end == 1 || end == d.Ends()) && len(d.Threading.Row(end)) == 0
}
