package dressing

import (
	"fmt"
	"math"

	"fettle/schema"
	"fettle/schema/measure"
)

// MostEnds is the most ends in a warp that gets figures.
const MostEnds = 1_000_000

// Warp says how the draft's ends make up the whole warp: Repeats times all of them, and
// then the first Balance of them again.
type Warp struct {
	Ends    int // of the draft
	Repeats int
	Balance int
	All     int // Ends × Repeats + Balance
}

// TooManyEnds is the error for a warp of more than MostEnds ends.
type TooManyEnds struct {
	Ends  int    // of the whole warp, at most mostCounted
	Cause string // the setting that adds the most ends, and its origin; "" for the draft itself
}

// mostCounted is the highest number in a TooManyEnds.
const mostCounted = 1_000_000_000_000_000

func (e TooManyEnds) Error() string {
	if e.Cause == "" {
		return fmt.Sprintf("the draft has %d ends, and fettle plans at most %d; correct Threads, or take fewer ends", e.Ends, MostEnds)
	}
	return fmt.Sprintf("the whole warp has %d ends, and fettle plans at most %d; lower %s", e.Ends, MostEnds, e.Cause)
}

// fullWarp is the warp, or the reason why there is none.
type fullWarp struct {
	Warp
	byWidth bool // the finished width gives the repeats
	tooMany TooManyEnds
}

// Warp returns the whole warp. Unstated repeats are those that come nearest to the
// finished width, or 1 if that width or the sett is unknown. The warp is zero if
// TooManyEnds refuses it.
func (f *Figures) Warp() Warp { return f.fullWarp().Warp }

// TooManyEnds reports whether the warp has more than MostEnds ends, and how many.
func (f *Figures) TooManyEnds() (TooManyEnds, bool) {
	many := f.fullWarp().tooMany
	return many, many.Ends > 0
}

func (f *Figures) fullWarp() fullWarp { return f.warp.get(f.computeWarp) }

func (f *Figures) computeWarp() fullWarp { return f.warpAt(f.Sleyed()) }

// warpAt returns the warp at a sett in the reed, 0 if unknown.
func (f *Figures) warpAt(sleyed measure.Density) fullWarp {
	p := &f.Setup.Project
	w := fullWarp{Warp: Warp{Ends: f.Draft.Ends(), Repeats: max(p.Repeats, 1), Balance: max(p.Balance, 0)}}
	if w.Ends == 0 {
		w.Balance = 0
		return w
	}
	if n := f.repeatsForWidth(w.Warp, sleyed); n > 0 {
		w.Repeats, w.byWidth = n, true
	}
	if all := float64(w.Ends)*float64(w.Repeats) + float64(w.Balance); all > MostEnds {
		return fullWarp{tooMany: TooManyEnds{int(min(all, mostCounted)), w.cause(f.Setup)}}
	}
	w.All = w.Ends*w.Repeats + w.Balance
	return w
}

// cause returns the setting that adds the most ends to those of the draft.
func (w fullWarp) cause(s *schema.Setup) string {
	switch {
	case w.Ends > MostEnds:
		return ""
	case float64(w.Balance) > float64(w.Ends)*float64(w.Repeats-1):
		return s.Stated("project", "balance")
	case w.byWidth:
		return s.Stated("project", "finished width")
	}
	return s.Stated("project", "repeats")
}

// repeatsForWidth returns the repeats that come nearest to the finished width, 0 if no
// width is stated.
func (f *Figures) repeatsForWidth(w Warp, sleyed measure.Density) int {
	if f.Setup.Project.Repeats > 0 || f.Setup.Project.FinishedWidth <= 0 {
		return 0
	}
	one := finishedWidth(&f.Setup.Project, widthOf(1, sleyed))
	if !one.Known || one.Value <= 0 {
		return 0
	}
	ends := float64(f.Setup.Project.FinishedWidth) / one.Value
	n := math.Round((ends - float64(w.Balance)) / float64(w.Ends))
	return int(min(max(n, 1), mostCounted))
}

// DraftEnd returns the draft's end that matches an end of the whole warp.
func (w Warp) DraftEnd(end int) int { return (end-1)%w.Ends + 1 }

// firstHalf returns the number of ends in the first half; an odd end is in the second.
func (w Warp) firstHalf() int { return w.All / 2 }

// times returns how often a draft's end appears among the first ends of the warp.
func (w Warp) times(draftEnd, first int) int { return schema.TimesAmong(draftEnd, w.Ends, first) }
