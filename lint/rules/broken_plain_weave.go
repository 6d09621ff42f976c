package rules

import (
	"iter"
	"slices"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/wording"
)

var brokenPlainWeave = lint.Rule{
	ID:    "draft/broken-plain-weave",
	Title: "one or two ends spoil the plain weave of two treadles",
	Why: "If two treadles share all shafts between them, and ends are on the shafts of one and the other by turns, the two weave plain weave, such as the tabby of overshot. " +
		"An end out of turn lies together with its neighbour in every pick of it.",
	Counts:  "fettle reports it if at most two ends are out of turn, of at least 16 between the outer four at each edge, and if no other shafts give plain weave on all ends.",
	Remedy:  "Put the end on a shaft of the other treadle, or add or delete an end.",
	Default: schema.Warning,
	Faulty: lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=2\nRising Shed=true\n[TIEUP]\n1=1,3\n2=2,4\n" +
		"[WARP]\nThreads=26\nColor=1\nUnits=Centimeters\nSpacing=0.1\n" +
		"[THREADING]\n1=1\n2=2\n3=1\n4=2\n5=1\n6=2\n7=3\n8=2\n9=3\n10=2\n11=3\n12=1\n13=4\n14=1\n15=4\n16=1\n17=4\n18=3\n19=4\n20=3\n21=4\n22=1\n23=2\n24=1\n25=2\n26=1\n" +
		"[TREADLING]\n1=1\n2=2\n3=1\n4=2\n5=1\n6=2\n7=1\n8=2\n"},
	Fixed: lint.Example{Draft: "[WEAVING]\nShafts=4\nTreadles=2\nRising Shed=true\n[TIEUP]\n1=1,3\n2=2,4\n" +
		"[WARP]\nThreads=25\nColor=1\nUnits=Centimeters\nSpacing=0.1\n" +
		"[THREADING]\n1=1\n2=2\n3=1\n4=2\n5=1\n6=2\n7=3\n8=2\n9=3\n10=2\n11=3\n12=4\n13=1\n14=4\n15=1\n16=4\n17=3\n18=4\n19=3\n20=4\n21=1\n22=2\n23=1\n24=2\n25=1\n" +
		"[TREADLING]\n1=1\n2=2\n3=1\n4=2\n5=1\n6=2\n7=1\n8=2\n"},
	SafeOff: "if you never weave plain weave on these treadles",
	Source:  "computed from threading and tie-up",
	Data: []lint.Field{{Key: "treadles", Text: "the two treadles"}, {Key: "ends", Text: "the ends out of turn"},
		{Key: "count", Text: "number of these ends"}},
	Weave: true,
	Check: checkBrokenPlainWeave,

	Keys:     []string{"treadles"},
	Measures: []lint.Measure{{Key: "count"}},
}

const (
	fewestPlain = 16 // ends between the edges
	mostOut     = 2  // ends out of turn
)

func checkBrokenPlainWeave(p *lint.Pass) {
	d := p.Draft
	if d.LiftPlan.Len() > 0 || d.Threading.Len() < fewestPlain+2*selvedge {
		return
	}
	shafts := d.HighestShaft()
	up := make([]bool, shafts+1)
	for one, other := range complements(&d.Tieup, shafts) {
		ends := outOfTurn(&d.Threading, d.Tieup.Row(one), up)
		if len(ends) == 0 {
			continue
		}
		for _, s := range slipsOf(p, threading(d)) {
			ends = slices.DeleteFunc(ends, func(end int) bool { return end == s.at+1 || end == s.at || end == s.at+2 })
		}
		if len(ends) == 0 {
			continue
		}
		if cloth.PlainWeaveOf(d).Possible {
			return // on other shafts, so these two treadles are for something else
		}
		p.Report(schema.EndPlace(ends[0]), schema.Data{{Key: "treadles", Value: []int{one, other}}, {Key: "ends", Value: ends}, {Key: "count", Value: len(ends)}},
			"%s the plain weave of treadles %d and %d, rising with %s; put %s on another shaft, or add or delete an end",
			wording.Numbered("end", ends)+wording.Plural(len(ends), " spoils", " spoil"), one, other,
			wording.Plural(len(ends), "a neighbour", "neighbours"), wording.Plural(len(ends), "it", "them"))
		p.Mark(schema.Warp, ends...)
		return
	}
}

// mostTreadles is how many treadles are paired with each other. No loom has as many.
const mostTreadles = 64

// complements returns the pairs of treadles that tie all shafts between them, each shaft
// to one of the two.
func complements(tieup *schema.Rows, shafts int) iter.Seq2[int, int] {
	return func(yield func(int, int) bool) {
		treadles := min(tieup.Len(), mostTreadles)
		for a := 1; a <= treadles; a++ {
			one := tieup.Row(a)
			for b := a + 1; b <= treadles && len(one) > 0; b++ {
				other := tieup.Row(b)
				if len(other) > 0 && len(one)+len(other) == shafts && disjoint(one, other) && !yield(a, b) {
					return
				}
			}
		}
	}
}

// disjoint reports whether two ascending rows have no number in common.
func disjoint(a, b []int32) bool {
	for len(a) > 0 && len(b) > 0 {
		switch {
		case a[0] == b[0]:
			return false
		case a[0] < b[0]:
			a = a[1:]
		default:
			b = b[1:]
		}
	}
	return true
}

// outOfTurn returns the ends that keep the rest from being lifted by turns by a treadle and
// its complement. It returns none if there are more than two, or if an end is not on one
// shaft. up has room for each shaft.
func outOfTurn(threading *schema.Rows, lifted []int32, up []bool) (ends []int) {
	clear(up)
	for _, shaft := range lifted {
		up[shaft] = true
	}
	var out [mostOut]int
	count, last := 0, threading.Len()-selvedge
	for end := selvedge + 2; end <= last; end++ {
		before, row := threading.Row(end-1), threading.Row(end)
		if len(before) != 1 || len(row) != 1 {
			return nil
		}
		if up[before[0]] != up[row[0]] {
			continue
		}
		if count == mostOut {
			return nil
		}
		out[count] = end
		count++
		if next := threading.Row(end + 1); end < last && len(next) == 1 && up[next[0]] == up[row[0]] {
			end++ // this one is out of turn with both neighbours
		}
	}
	return append(ends, out[:count]...)
}
