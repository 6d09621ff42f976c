package rules

import (
	"slices"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/wording"
)

var doubledThread = lint.Rule{
	ID:    "draft/doubled-thread",
	Title: "two neighbours are threaded or lifted alike",
	Why: "Two ends side by side on the same shafts, or two picks in the same shed and color, lie together as one thick thread. " +
		"In a draft where neighbours differ, that is often a row typed twice.",
	Counts: "fettle reports it if fewer than 5 % of all neighbours are alike, in at most four places. " +
		"It leaves out the four threads at each edge, where doubled selvedges are, the centre of a mirrored draft, and drafts that double threads in each repeat.",
	Remedy:  "Delete one of the two, or ignore the finding if you want the thick line.",
	Default: schema.Note,
	Faulty: lint.Example{Draft: "[WARP]\nThreads=25\nColor=1\nUnits=Centimeters\nSpacing=0.1\n" +
		"[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=3\n7=2\n8=4\n9=1\n10=2\n11=2\n12=3\n13=4\n14=1\n15=3\n16=2\n17=4\n18=3\n19=1\n20=2\n21=4\n22=3\n23=1\n24=4\n25=2\n"},
	Fixed: lint.Example{Draft: "[WARP]\nThreads=24\nColor=1\nUnits=Centimeters\nSpacing=0.1\n" +
		"[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=3\n7=2\n8=4\n9=1\n10=2\n11=3\n12=4\n13=1\n14=3\n15=2\n16=4\n17=3\n18=1\n19=2\n20=4\n21=3\n22=1\n23=4\n24=2\n"},
	SafeOff: "if you double threads for lines in the cloth",
	Source:  "rule of thumb",
	Data: []lint.Field{{Key: "system", Text: "warp or weft"}, {Key: "threads", Text: "the first of each pair"},
		{Key: "count", Text: "number of pairs"}},
	Weave: true,
	Check: checkDoubledThreads,

	Keys:     []string{"system"},
	Measures: []lint.Measure{{Key: "count"}},
}

const (
	shareDoubled = 0.05 // of neighbours, that are alike by mistake
	mostDoubled  = 4    // pairs that are; more are meant
)

func checkDoubledThreads(p *lint.Pass) {
	if p.Draft.IsWholeWork() {
		return // fettle wrote it out, so nobody mistyped it
	}
	d := p.Draft
	ends, picks := threading(d), treadling(d)
	reportDoubled(p, ends, doubled(ends.entries, func(_, _ int) bool { return true }))
	if tied := sameShed(p); tied != nil {
		picks.entries = tied
	}
	sameColor := func(a, b int) bool { return d.Weft.ColorOf(a) == d.Weft.ColorOf(b) }
	reportDoubled(p, picks, doubled(picks.entries, sameColor))
}

// sameShed returns a number for each pick, the same for picks that press different treadles
// but lift the same shafts. It returns nil if no two treadles are tied alike.
func sameShed(p *lint.Pass) []int32 {
	d := p.Draft
	if d.LiftPlan.Len() > 0 || len(likeTreadlesOf(d)) == 0 || p.Figures.Cloth().TooLarge() {
		return nil
	}
	number, _ := p.Figures.Cloth().Alike(schema.Weft)
	return number[:min(len(number), d.Treadling.Len())]
}

// doubled returns the first thread, from 1, of each pair of like neighbours that look like a
// mistake. also must hold for a pair too.
func doubled(list []int32, also func(a, b int) bool) (pairs []int) {
	var first [mostDoubled]int
	n, all, count := len(list), 0, 0
	for i := 1; i < n; i++ {
		if list[i] != list[i-1] || !also(i, i+1) {
			continue
		}
		if all++; float64(all) >= shareDoubled*float64(n-1) {
			return nil
		}
		if i > selvedge && i+1 <= n-selvedge {
			if count == mostDoubled {
				return nil
			}
			first[count] = i
			count++
		}
	}
	if count == 0 || 2*cloth.Period(list) <= n {
		return nil // none, or each repeat has them
	}
	centre := 0
	if n%2 == 0 && cloth.Symmetric(list) {
		centre = n / 2
	}
	for _, i := range first[:count] {
		if i != centre {
			pairs = append(pairs, i)
		}
	}
	return pairs
}

func reportDoubled(p *lint.Pass, l threadList, pairs []int) {
	if len(pairs) == 0 {
		return
	}
	for _, s := range slipsOf(p, l) {
		pairs = slices.DeleteFunc(pairs, func(first int) bool { return first == s.at || first == s.at+1 })
	}
	if len(pairs) == 0 {
		return
	}
	p.Report(p.Draft.ThreadPlace(l.system, pairs[0]),
		schema.Data{{Key: "system", Value: string(l.system)}, {Key: "threads", Value: pairs}, {Key: "count", Value: len(pairs)}},
		"%s %s like the next %s; delete one of the two, unless you want a thick line",
		wording.Numbered(l.noun(), pairs), wording.Plural(len(pairs), "is", "are each")+map[schema.SystemName]string{schema.Warp: " threaded", schema.Weft: " lifted"}[l.system], l.noun())
	p.Mark(l.system, pairs...)
}
