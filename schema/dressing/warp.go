package dressing

import (
	"fmt"
	"math"

	"fettle/schema"
)

// MostEnds is how many ends a warp may have before its figures are refused.
const MostEnds = 1_000_000

// Warp is how the draft's ends make up the whole warp: all of them as often as
// Repeats, and then the first Balance of them again.
type Warp struct {
	Ends    int // of the draft
	Repeats int
	Balance int
	All     int // Ends × Repeats + Balance
}

// TooManyEnds is the error for a warp of more than MostEnds ends.
type TooManyEnds struct {
	Ends  int    // of the whole warp; a count above mostCounted is given as that
	Cause string // the setting that adds most of them, and where it is; "" for the draft itself
}

// mostCounted bounds the count in a TooManyEnds, so that it can be compared.
const mostCounted = 1_000_000_000_000_000

func (e TooManyEnds) Error() string {
	if e.Cause == "" {
		return fmt.Sprintf("the draft has %d ends, and fettle plans at most %d; correct Threads, or take fewer ends", e.Ends, MostEnds)
	}
	return fmt.Sprintf("the whole warp has %d ends, and fettle plans at most %d; lower %s", e.Ends, MostEnds, e.Cause)
}

// WarpOf works out the whole warp. Repeats that are not stated follow from the
// finished width, to the nearest whole one, where that and the sett are known;
// else the draft is taken once. More than MostEnds is a TooManyEnds.
func WarpOf(d *schema.Draft, s *schema.Setup) (Warp, error) {
	w := Warp{Ends: d.Ends(), Repeats: max(s.Project.Repeats, 1), Balance: max(s.Project.Balance, 0)}
	if w.Ends == 0 {
		w.Balance = 0
		return w, nil
	}
	n, byWidth := repeatsForWidth(d, s, w)
	if byWidth {
		w.Repeats = n
	}
	if all := float64(w.Ends)*float64(w.Repeats) + float64(w.Balance); all > MostEnds {
		return Warp{}, TooManyEnds{int(min(all, mostCounted)), w.cause(s, byWidth)}
	}
	w.All = w.Ends*w.Repeats + w.Balance
	return w, nil
}

// cause names the setting that adds the most ends to those of the draft.
func (w Warp) cause(s *schema.Setup, byWidth bool) string {
	switch {
	case w.Ends > MostEnds:
		return ""
	case float64(w.Balance) > float64(w.Ends)*float64(w.Repeats-1):
		return s.Stated("project", "balance")
	case byWidth:
		return s.Stated("project", "finished width")
	}
	return s.Stated("project", "repeats")
}

// repeatsForWidth is how often the draft must stand for the cloth to come
// nearest the finished width that was asked for.
func repeatsForWidth(d *schema.Draft, s *schema.Setup, w Warp) (int, bool) {
	if s.Project.Repeats > 0 || s.Project.FinishedWidth <= 0 {
		return 0, false
	}
	one := finishedWidth(s, widthOf(1, Sleyed(d, s)))
	if !one.Known || one.Value <= 0 {
		return 0, false
	}
	ends := float64(s.Project.FinishedWidth) / one.Value
	n := math.Round((ends - float64(w.Balance)) / float64(w.Ends))
	return int(min(max(n, 1), mostCounted)), true
}

// DraftEnd is the draft's end that an end of the whole warp is threaded like.
func (w Warp) DraftEnd(end int) int { return (end-1)%w.Ends + 1 }

// Half is how many ends are in the first half; an odd one is in the second.
func (w Warp) Half() int { return w.All / 2 }

// times is how often a draft's end stands among the first ends of the warp.
func (w Warp) times(draftEnd, first int) int { return timesAmong(draftEnd, w.Ends, first) }

// timesAmong is how often one of a draft's threads stands among the first, where
// the draft is gone through over and over.
func timesAmong(thread, threads, first int) int {
	n := first / threads
	if thread <= first%threads {
		n++
	}
	return n
}
