package dressing

import (
	"fmt"

	"fettle/schema"
)

// mostWoven limits the picks, and the marks in the lift plan, of a draft of the whole
// work.
const mostWoven = 5_000_000

// Unwritten says why the whole work can't be written out as one draft.
type Unwritten struct{ Why string }

func (e Unwritten) Error() string { return e.Why }

// WholeWork returns one draft with the whole warp and every pick of the work, in the
// order of Stretches, with a lift plan. The pick numbers are those of the sheet. The
// error is a TooManyEnds or an Unwritten.
func (f *Figures) WholeWork() (*schema.Draft, error) {
	if many, refused := f.TooManyEnds(); refused {
		return nil, many
	}
	stretches := f.Stretches()
	switch {
	case f.items() > mostItems:
		return nil, Unwritten{fmt.Sprintf("the project has %d items, and fettle writes out at most %d; lower [project] items", f.items(), mostItems)}
	case len(stretches) == 0 || !stretches[len(stretches)-1].UpToPick.Known:
		return nil, Unwritten{"how many picks to weave is unknown; state [project] finished length and [project] picks"}
	case f.Draft.Picks() == 0:
		return nil, Unwritten{"the draft has no picks, so there is nothing to weave"}
	}
	d, w := f.Draft, f.Warp()
	out := &schema.Draft{
		Texts: d.Texts, Notes: d.Notes, Shafts: d.Shafts, Shed: d.Shed, Palette: d.Palette,
		Warp: wholeSystem(&d.Warp, w.All, w.DraftEnd), Weft: d.Weft,
		Carried: schema.Carried{Sections: []schema.TextSection{{Name: schema.WholeWork,
			Lines: append([]string{"; Every end and every pick: repeats, items, hems and the sample are in this draft already."}, cutLines(stretches)...)}}},
	}
	for end := 1; end <= w.All; end++ {
		out.Threading.Append(d.Threading.Row(w.DraftEnd(end))...)
	}
	var picks []int // the draft's picks in weaving order
	marks := 0
	for _, x := range stretches {
		n := wholePicks(x.Picks.Value)
		if len(picks)+n > mostWoven {
			return nil, Unwritten{fmt.Sprintf("the work has more than %d picks, and fettle writes out at most that; shorten it", mostWoven)}
		}
		for i := range n {
			lift := f.lift(x, i+1)
			if marks += len(lift); marks > mostWoven {
				return nil, Unwritten{fmt.Sprintf("the lift plan would hold more than %d marks, and fettle writes out at most that; shorten the work", mostWoven)}
			}
			picks = append(picks, f.draftPick(x, i+1))
			out.LiftPlan.Append(lift...)
		}
	}
	out.Weft = wholeSystem(&d.Weft, len(picks), func(pick int) int { return picks[pick-1] })
	return out, nil
}

// cutLines names the last pick of the sample and of each item but the last: the cloth is
// cut there, at a cutting line or in a fringe.
func cutLines(stretches []Stretch) (lines []string) {
	item, last := 0, 0
	for _, x := range stretches {
		if x.Item != item && last > 0 {
			lines = append(lines, schema.CutLine(last))
			last = 0
		}
		item = x.Item
		if n := wholePicks(x.Picks.Value); n > 0 {
			last = wholePicks(x.UpToPick.Value)
		}
	}
	return lines
}

// writtenOut returns the setup for a draft of the whole work: the draft once across, and
// all its picks in order, without starting again. The lengths of the parts stay. Floats
// don't wrap, because the draft has all edges of the work.
func (f *Figures) writtenOut() *schema.Setup {
	setup := *f.Setup
	p := &setup.Project
	p.Repeats, p.Balance, p.FinishedWidth, p.ContinueDraft, p.PlainHems, p.Wrap = 1, 0, 0, true, false, false
	if p.RepeatsPerItem > 0 {
		// The repeats were those of the draft that was written out.
		p.RepeatsPerItem = 0
		w := (&Figures{Draft: f.Draft, Setup: &setup}).partsWith(part{})
		others := w.sample.picks.plus(w.hem.picks.scaled(float64(2 * w.items)))
		p.PicksPerItem = max(f.Draft.Picks()-wholePicks(others.Value), 0) / w.items
	}
	return &setup
}

// wholeSystem writes out a system's threads. of returns the thread of the draft for each.
func wholeSystem(s *schema.System, threads int, of func(int) int) schema.System {
	out := *s
	out.Threads = threads
	out.Colors, out.Spacings, out.Thicknesses = nil, nil, nil
	for n := 1; n <= threads; n++ {
		thread := of(n)
		if len(s.Colors) > 0 {
			out.Colors = append(out.Colors, int32(s.ColorOf(thread)))
		}
		if len(s.Spacings) > 0 {
			out.Spacings = append(out.Spacings, at(s.Spacings, thread))
		}
		if len(s.Thicknesses) > 0 {
			out.Thicknesses = append(out.Thicknesses, at(s.Thicknesses, thread))
		}
	}
	out.Trim()
	return out
}

func at(list []float64, thread int) float64 {
	if thread > len(list) {
		return 0
	}
	return list[thread-1]
}
