package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

var severalShafts = lint.Rule{
	ID:    "draft/several-shafts",
	Title: "an end is on several shafts",
	Why: "An end through the heddles of two shafts rises with either of them, which some pattern weaves and some looms with a second set of shafts want. " +
		"On an ordinary loom it strains the end between the two heddles, and in a typed draft it is mostly a slip of the comma.",
	Default: schema.Note,
	Faulty:  lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1,2\n6=2\n7=3\n8=4\n"},
	Mended:  lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	SafeOff: "for drafts of compound harnesses, where each end is on a ground and on a pattern shaft",
	Source:  "common practice, no source",
	Data:    []lint.Field{{Key: "ends", Text: "the ends on several shafts"}, {Key: "count", Text: "how many they are"}},
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
		"%s %s threaded on several shafts at once and %s with each of them; if that is not meant, give one shaft an end",
		wording.Numbered("end", ends), wording.Plural(len(ends), "is", "are"), wording.Plural(len(ends), "rises", "rise"))
}
