package dressing

import (
	"fettle/schema"
	"fettle/schema/measure"
)

// part is the sample, or a hem or the cloth of an item. A part that isn't woven has no
// length and no picks.
type part struct {
	woven Figure // millimetres on the loom, without tension
	picks Figure // rounded up to whole picks
}

// finished returns the washed length of the part in millimetres.
func (p part) finished(project *schema.Project) Figure {
	return p.woven.scaled(1 - project.ShrinkageWarp)
}

// parts holds all parts of the work: the sample once, and hem, cloth and hem for each
// item.
type parts struct {
	sample, hem, cloth part
	items              int
	continues          bool // each part goes on where the last one stopped in the draft
}

func (f *Figures) parts() parts { return f.allParts.get(f.computeParts) }

func (f *Figures) computeParts() parts {
	p, each := &f.Setup.Project, f.picksPerMm()
	picks := p.PicksPerItem
	if p.RepeatsPerItem > 0 {
		picks = p.RepeatsPerItem * f.pickRepeat()
	}
	switch {
	case picks > 0:
		n := known(float64(picks))
		return f.partsWith(part{n.over(each), n})
	case p.FinishedLength > 0:
		return f.partsWith(f.finishedPart(p.FinishedLength, each))
	}
	return f.partsWith(part{})
}

// partsWith returns the parts for a given cloth of each item.
func (f *Figures) partsWith(cloth part) parts {
	p := &f.Setup.Project
	return parts{
		sample: f.finishedPart(p.Sample, f.picksPerMm()), hem: f.finishedPart(p.Hem/2, f.hemPicksPerMm()), cloth: cloth,
		items: f.items(), continues: p.ContinueDraft,
	}
}

// finishedPart returns a part with this washed length.
func (f *Figures) finishedPart(finished measure.Length, picksPerMm Figure) part {
	if finished <= 0 {
		return part{known(0), known(0)}
	}
	p := part{woven: known(float64(finished) / (1 - f.Setup.Project.ShrinkageWarp))}
	if p.picks = p.woven.times(picksPerMm); p.picks.Known {
		p.picks.Value = roundUp(p.picks.Value)
	}
	return p
}

func (f *Figures) hemPicksPerMm() Figure {
	if d := f.Setup.Project.HemPicks; d > 0 {
		return known(float64(d) / 10)
	}
	return f.picksPerMm()
}

// LongestPart returns the picks of the longest stretch in the draft's weave that doesn't
// start the draft again: the longest part, or all parts if the draft continues from part
// to part. It is 0 if the picks are unknown.
func (f *Figures) LongestPart() int {
	w := f.parts()
	if w.continues {
		return wholePicks(w.picks().Value)
	}
	longest := max(w.sample.picks.Value, w.cloth.picks.Value)
	if !f.Setup.Project.PlainHems {
		longest = max(longest, w.hem.picks.Value)
	}
	return wholePicks(longest)
}

func (w parts) woven() Figure { return w.sum(w.sample.woven, w.hem.woven, w.cloth.woven) }
func (w parts) picks() Figure { return w.sum(w.sample.picks, w.hem.picks, w.cloth.picks) }

func (w parts) sum(sample, hem, cloth Figure) Figure {
	return hem.scaled(2).plus(cloth).scaled(float64(w.items)).plus(sample)
}

// count adds up the picks of one kind in all parts. among returns how many of them are in
// the first picks of the repeated draft.
func (w parts) count(among func(first int) int) float64 {
	if w.continues {
		return float64(among(wholePicks(w.picks().Value)))
	}
	in := func(p part) float64 { return float64(among(wholePicks(p.picks.Value))) }
	return in(w.sample) + float64(w.items)*(2*in(w.hem)+in(w.cloth))
}

// PartialRepeat is a kind of part that isn't a whole number of repeats, with the nearest
// numbers of picks that are. Lower is 0 for a part shorter than one repeat.
type PartialRepeat struct {
	Part                        string
	Picks, Repeat               int
	LowerPicks, HigherPicks     int
	InPicks                     bool           // the cloth is stated in picks
	ShorterLength, LongerLength measure.Length // lengths to state for these; 0 if InPicks is set, or for no picks
}

// partialRepeats returns the kinds of parts that end inside a repeat, in the order of
// the work. The repeat of a plain hem is two picks.
func (f *Figures) partialRepeats() []PartialRepeat {
	p, w := &f.Setup.Project, f.parts()
	var list []PartialRepeat
	add := func(name string, x part, repeat, times int, picksPerMm Figure) {
		picks := wholePicks(x.picks.Value)
		if !x.picks.Known || repeat == 0 || picks%repeat == 0 {
			return
		}
		r := PartialRepeat{Part: name, Picks: picks, Repeat: repeat, LowerPicks: picks / repeat * repeat,
			InPicks: name == ClothPart && p.PicksPerItem > 0}
		r.HigherPicks = r.LowerPicks + repeat
		if !r.InPicks {
			r.ShorterLength = f.lengthFor(r.LowerPicks, times, picksPerMm)
			r.LongerLength = f.lengthFor(r.HigherPicks, times, picksPerMm)
		}
		list = append(list, r)
	}
	repeat := f.pickRepeat()
	inHem := repeat
	if _, plain := f.PlainHem(); plain {
		inHem = 2
	}
	add(SamplePart, w.sample, repeat, 1, f.picksPerMm())
	add(HemPart, w.hem, inHem, 2, f.hemPicksPerMm())
	add(ClothPart, w.cloth, repeat, 1, f.picksPerMm())
	return list
}

// lengthFor returns the finished length to state so that each of some parts has this many
// picks; 0 for none. One length covers all these parts.
func (f *Figures) lengthFor(picks, times int, picksPerMm Figure) measure.Length {
	exact := known(float64(picks * times)).over(picksPerMm).scaled(1 - f.Setup.Project.ShrinkageWarp)
	return f.Setup.Units.Shortest(measure.Length(exact.Value), func(l measure.Length) bool {
		return f.finishedPart(l/measure.Length(times), picksPerMm).picks == known(float64(picks))
	})
}
