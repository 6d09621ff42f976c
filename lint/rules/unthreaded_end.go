package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/dressing"
)

var unthreadedEnd = lint.Rule{
	ID:    "draft/unthreaded-end",
	Title: "an end is on no shaft",
	Why: "An end that goes through no heddle never rises: every pick passes over it and it hangs loose below the cloth. " +
		"Floating selvedges are threaded so on purpose, one at each edge; write floating selvedges = yes under [project] and they are left out of this.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=0\n5=1\n6=2\n7=3\n8=4\n"},
	Mended:  lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	SafeOff: "for drafts with supplementary ends that are lifted by hand",
	Source:  "P. Osterkamp, weaving tips (2004–2023), for floating selvedges: sleyed, in no heddle",
	Data:    []lint.Field{{Key: "ends", Text: "the ends on no shaft"}, {Key: "count", Text: "how many they are"}},
	Weave:   true,
	Check:   checkUnthreadedEnd,
}

func checkUnthreadedEnd(p *lint.Pass) {
	d := p.Draft
	var ends []int
	for end := 1; end <= d.Ends(); end++ {
		if len(d.Threading.Row(end)) == 0 && !floatingSelvedge(p, end) {
			ends = append(ends, end)
		}
	}
	if len(ends) == 0 {
		return
	}
	todo := "thread " + plural(len(ends), "it, or take it out", "them, or take them out")
	if dressing.Outermost(d, ends) {
		todo = "if floating selvedges are meant, write floating selvedges = yes under [project]"
	}
	p.Report(schema.EndPlace(ends[0]), schema.Data{{Key: "ends", Value: ends}, {Key: "count", Value: len(ends)}},
		"%s %s on no shaft and %s loose under every pick; %s", numbered("end", ends),
		plural(len(ends), "is", "are"), plural(len(ends), "lies", "lie"), todo)
}

// floatingSelvedge says whether an end is meant to be on no shaft: the
// outermost ends where the project has floating selvedges.
func floatingSelvedge(p *lint.Pass, end int) bool {
	return dressing.FloatingSelvedge(p.Draft, p.Setup, end)
}
