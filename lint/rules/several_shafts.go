package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

var severalShafts = lint.Rule{
	ID:    "draft/several-shafts",
	Title: "an end is on several shafts",
	Why: "An end through the heddles of two shafts rises with either of them. " +
		"Some pattern weaves need that, but on an ordinary loom it strains the end between the heddles. " +
		"In a typed draft it is usually a misplaced comma.",
	Remedy:  "Put the end on one shaft.",
	Default: schema.Note,
	Faulty:  lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1,2\n6=2\n7=3\n8=4\n"},
	Fixed:   lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	SafeOff: "for compound harnesses, where each end is on a ground shaft and a pattern shaft",
	Source:  "rule of thumb",
	Data:    []lint.Field{{Key: "ends", Text: "the ends on several shafts"}, {Key: "count", Text: "number of ends on several shafts"}},
	Check:   checkSeveralShafts,

	Keys:     []string{},
	Measures: []lint.Measure{{Key: "count"}},
}

func checkSeveralShafts(p *lint.Pass) {
	var ends []int
	for end := 1; end <= p.Draft.Threading.Len(); end++ {
		if len(p.Draft.Threading.Row(end)) > 1 {
			ends = append(ends, end)
		}
	}
	if len(ends) == 0 {
		return
	}
	p.Report(schema.EndPlace(ends[0]), schema.Data{{Key: "ends", Value: ends}, {Key: "count", Value: len(ends)}},
		"%s on several shafts and %s with each of them; put %s on one shaft, unless you mean this",
		wording.Numbered("end", ends)+wording.Plural(len(ends), " is", " are each"), wording.Plural(len(ends), "rises", "rise"), wording.Plural(len(ends), "it", "each"))
	p.Mark(schema.Warp, ends...)
}
