package cloth

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
)

// Weave names a cloth that is one regular weave throughout.
type Weave struct {
	Name string  `json:"name"` // "plain weave", "2/2 warp rib", "2/2 hopsack", "2/2 twill", "5-end warp satin"
	Hand *string `json:"hand"` // of a twill on the face: "right" or "left"
	// Step is how many picks higher each end weaves than its neighbour: the steepness of a
	// twill, or the counter of a satin.
	Step *int    `json:"step"`
	Code *string `json:"code"` // by ISO 9354, as far as known; nil for ribs and hopsacks
}

// String returns the name with hand, steepness and counter.
func (w *Weave) String() string {
	if w == nil {
		return "not one regular weave throughout"
	}
	text := w.Name
	switch {
	case w.Hand != nil && *w.Step > 1:
		text += fmt.Sprintf(", %s-hand, %d picks steep", *w.Hand, *w.Step)
	case w.Hand != nil:
		text += ", " + *w.Hand + "-hand"
	case w.Step != nil:
		text += ", counter " + strconv.Itoa(*w.Step)
	}
	if w.Code != nil {
		text += " (ISO 9354, as far as known: " + *w.Code + ")"
	}
	return text
}

// mostNamed is the largest repeat in which fettle looks for a name.
const mostNamed = 64

// Weave returns the name of the cloth's weave, or nil unless it is plain weave, a rib, a
// regular hopsack, a twill in which each end is the one before moved by a step, or a
// regular satin.
func (c *Cloth) Weave() *Weave {
	ends, picks := c.Repeat()
	if ends < 2 || picks < 2 || ends > mostNamed || picks > mostNamed {
		return nil
	}
	columns := make([][]bool, ends)
	for e := range columns {
		columns[e] = make([]bool, picks)
		for p := range columns[e] {
			columns[e][p] = c.Up(e+1, p+1)
		}
	}
	if w := twoSheds(columns); w != nil {
		return w
	}
	return stepped(columns)
}

// twoSheds names plain weave, ribs and hopsacks: weaves of two opposite sheds.
func twoSheds(columns [][]bool) *Weave {
	first := columns[0]
	same := make([]bool, len(columns)) // as the first end
	for e, column := range columns {
		same[e] = slices.Equal(column, first)
		for p := range column {
			if (column[p] == first[p]) != same[e] {
				return nil // neither like the first nor its opposite
			}
		}
	}
	ends, picks := runsAround(same), runsAround(first)
	if len(ends) != 2 || len(picks) != 2 {
		return nil
	}
	switch across, along := ends[0]+ends[1], picks[0]+picks[1]; {
	case across == 2 && along == 2:
		return &Weave{Name: "plain weave", Code: ptr("10-0101-01-00")}
	case across == 2:
		return &Weave{Name: fmt.Sprintf("%d/%d warp rib", picks[0], picks[1])}
	case along == 2:
		return &Weave{Name: fmt.Sprintf("%d/%d weft rib", max(ends[0], ends[1]), min(ends[0], ends[1]))}
	case ends[0] == ends[1] && picks[0] == picks[1] && ends[0] == picks[0]:
		return &Weave{Name: fmt.Sprintf("%d/%d hopsack", ends[0], ends[0])}
	}
	return nil
}

// stepped names twills and satins.
func stepped(columns [][]bool) *Weave {
	n := len(columns[0])
	step := slices.IndexFunc(countTo(n), func(by int32) bool { return movedBy(columns, int(by)) })
	if n < 3 || step < 1 || 2*step == n {
		return nil
	}
	runs := runsAround(columns[0])
	hand, up := "left", step
	if 2*step > n { // end 1 is at the right: ends that weave lower to the left rise to the right
		hand, up = "right", n-step
	}
	if len(runs) == 2 && min(runs[0], runs[1]) == 1 && up > 1 && len(columns) == n {
		face := "warp"
		if runs[0] == 1 {
			face = "weft"
		}
		return &Weave{Name: fmt.Sprintf("%d-end %s satin", n, face), Step: &up, Code: ptr(isoCode(30, runs, up))}
	}
	if up >= slices.Max(runs) {
		return nil // neighbouring floats don't overlap, so there is no line
	}
	return &Weave{Name: joinRuns(runs, "%d", "/") + " twill", Hand: &hand, Step: &up, Code: ptr(isoCode(20, runs, up))}
}

// movedBy reports whether each end weaves like the one before it, so many picks higher; the
// first like the last.
func movedBy(columns [][]bool, by int) bool {
	n := len(columns[0])
	for e, column := range columns {
		next := columns[(e+1)%len(columns)]
		for p := range column {
			if next[(p+by)%n] != column[p] {
				return false
			}
		}
	}
	return true
}

// runsAround returns the lengths of the runs of a list that goes round, up and down in
// turn, so that the longest run up comes first.
func runsAround(list []bool) []int {
	n := len(list)
	start := slices.IndexFunc(countTo(n), func(i int32) bool { return list[i] && !list[(int(i)+n-1)%n] })
	if start < 0 {
		return []int{n}
	}
	var runs []int
	for i := range n {
		at := (start + i) % n
		if i == 0 || list[at] != list[(at+n-1)%n] {
			runs = append(runs, 0)
		}
		runs[len(runs)-1]++
	}
	best := runs
	for i := 2; i < len(runs); i += 2 {
		if turned := slices.Concat(runs[i:], runs[:i]); slices.Compare(turned, best) > 0 {
			best = turned
		}
	}
	return best
}

func joinRuns(runs []int, format, between string) string {
	words := make([]string, len(runs))
	for i, n := range runs {
		words[i] = fmt.Sprintf(format, n)
	}
	return strings.Join(words, between)
}

// isoCode returns the code of a weave by ISO 9354, from memory: its class, the floats up and
// down, the threads alike, and the step.
func isoCode(class int, runs []int, step int) string {
	return fmt.Sprintf("%d-%s-01-%02d", class, joinRuns(runs, "%02d", ""), step)
}

func ptr[T any](v T) *T { return &v }

// balanceOf returns ends per centimetre ÷ picks per centimetre by the draft's own spacings,
// or nil if one of them is unknown or not believable.
func balanceOf(d *schema.Draft) *float64 {
	warp, _ := d.Warp.MeanSpacing(d.Ends())
	weft, _ := d.Weft.MeanSpacing(d.Picks())
	if !schema.BelievableSpacing(warp) || !schema.BelievableSpacing(weft) {
		return nil
	}
	return ptr(weft / warp)
}
