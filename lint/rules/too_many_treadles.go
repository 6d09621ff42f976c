package rules

import (
	"fmt"

	"fettle/lint"
	"fettle/schema"
)

var tooManyTreadles = lint.Rule{
	ID:    "loom/too-many-treadles",
	Title: "the draft needs more treadles than the loom has",
	Why: "Each treadle that the treadling presses has to be there and be tied. " +
		"A draft with only a lift plan needs a treadle for each different lift when it is woven with one foot. " +
		"Nothing is said for a loom without treadles: its lifts come from a lift plan.",
	Default: schema.Error,
	Faulty:  lint.Example{Settings: "[loom]\nshafts = 4\ntreadles = 3\n"},
	Mended:  lint.Example{Settings: "[loom]\nshafts = 4\ntreadles = 4\n"},
	SafeOff: "where sheds are made with several treadles at once and the tie-up is worked out at the loom",
	Source:  "common practice, no source",
	Data: []lint.Field{{Key: "needed", Text: "the highest treadle the draft names, or the different lifts of its lift plan"},
		{Key: "available", Text: "treadles of the loom"}},
	Check: checkTooManyTreadles,
}

func checkTooManyTreadles(p *lint.Pass) {
	d, have := p.Draft, p.Setup.Loom.Treadles
	switch {
	case have == 0:
	case d.LiftPlan.Len() > 0 && (d.Tieup.Count() == 0 || d.Treadling.Count() == 0):
		if needed := p.Cloth().DistinctLifts(); needed > have {
			reportTreadles(p, needed, fmt.Sprintf("the lift plan has %d different lifts, a treadle each,", needed),
				"weave it on a dobby, or find a draft with fewer lifts")
		}
	case d.HighestTreadle() > have:
		reportTreadles(p, d.HighestTreadle(), fmt.Sprintf("the draft goes up to treadle %d", d.HighestTreadle()), fewerTreadles(p, have))
	}
}

// fewerTreadles is what can be done where the draft names more treadles than
// the loom has.
func fewerTreadles(p *lint.Pass, have int) string {
	if used := len(p.Draft.Treadling.Different()); used > 0 && used <= have {
		return fmt.Sprintf("only %d of them %s pressed, so numbered anew it fits: fettle clean --risky numbers them", used, schema.Plural(used, "is", "are"))
	}
	if lifts := p.Cloth().DistinctLifts(); lifts <= have {
		return fmt.Sprintf("it has only %d different %s, so some treadles are tied alike: fettle convert --lifts tieup --treadles %d writes it so",
			lifts, schema.Plural(lifts, "lift", "lifts"), have)
	}
	return "find a loom with more, or weave it on a dobby by a lift plan: fettle convert --lifts plan"
}

func reportTreadles(p *lint.Pass, needed int, what, todo string) {
	have := p.Setup.Loom.Treadles
	p.Report(schema.Place{Part: schema.PartWeaving, Field: schema.FieldTreadles},
		schema.Data{{Key: "needed", Value: needed}, {Key: "available", Value: have}},
		"%s and the loom has %s; %s", what, schema.Counted(have, "treadle"), todo)
}
