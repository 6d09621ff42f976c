package rules

import (
	"fmt"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

var unthreadedEnd = lint.Rule{
	ID:      "draft/unthreaded-end",
	Title:   "an end is on no shaft",
	Why:     "An end without a heddle never rises: every pick passes over it, and it hangs loose under the cloth.",
	Counts:  "Floating selvedges are an exception: write floating selvedges = yes under [project], and fettle skips the first and last end.",
	Remedy:  "Thread the end, or delete it.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=0\n5=1\n6=2\n7=3\n8=4\n"},
	Fixed:   lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n"},
	SafeOff: "for drafts with extra ends that you lift by hand",
	Source:  "Osterkamp, for floating selvedges: sleyed, but in no heddle",
	Data:    []lint.Field{{Key: "ends", Text: "the ends on no shaft"}, {Key: "count", Text: "number of ends on no shaft"}},
	Weave:   true,
	Blocks:  blockedByGap,
	Check:   checkUnthreadedEnd,

	Keys:     []string{},
	Measures: []lint.Measure{{Key: "count"}},
}

func checkUnthreadedEnd(p *lint.Pass) {
	unthreaded, ok := p.Figures.UnthreadedEnds()
	if !ok {
		return
	}
	ends, todo := unthreaded.Ends, threadThem(unthreaded)
	if rows := p.Draft.Threading.Len(); rows > 0 && ends[0] > rows {
		todo = fmt.Sprintf("the threading stops at end %d: thread the rest, or declare %d", rows, rows)
	}
	p.Report(schema.EndPlace(ends[0]), schema.Data{{Key: "ends", Value: ends}, {Key: "count", Value: len(ends)}},
		"%s %s on no shaft and %s loose under the cloth; %s", wording.Numbered("end", ends),
		wording.Plural(len(ends), "is", "are"), wording.Plural(len(ends), "hangs", "hang"), todo)
	p.Mark(schema.Warp, ends...)
}
