package rules

import (
	"fmt"

	"fettle/lint"
	"fettle/schema"
)

var tooManyShafts = lint.Rule{
	ID:    "loom/too-many-shafts",
	Title: "the draft needs more shafts than the loom has",
	Why: "A draft that names a shaft the loom has not got cannot be threaded on it. " +
		"Where some shafts carry no end, numbering the others anew may make it fit, and the finding says so.",
	Default: schema.Error,
	Faulty:  lint.Example{Settings: "[loom]\nshafts = 3\n"},
	Mended:  lint.Example{Settings: "[loom]\nshafts = 4\n"},
	SafeOff: "for a collection that is looked through without a loom in mind",
	Source:  "common practice, no source",
	Data:    []lint.Field{{Key: "needed", Text: "the highest shaft the draft names"}, {Key: "available", Text: "shafts of the loom"}},
	Check:   checkTooManyShafts,
}

func checkTooManyShafts(p *lint.Pass) {
	have := p.Setup.Loom.Shafts
	if have == 0 || p.Draft.HighestShaft() <= have {
		return
	}
	needed, used := p.Draft.HighestShaft(), len(p.Draft.Threading.Different())
	todo := "find a draft for fewer, or another loom"
	if used > 0 && used <= have {
		todo = fmt.Sprintf("only %d of them %s ends, so numbered anew it fits: fettle clean --risky numbers them", used, schema.Plural(used, "carries", "carry"))
	}
	p.Report(schema.Place{Part: schema.PartWeaving, Field: schema.FieldShafts},
		schema.Data{{Key: "needed", Value: needed}, {Key: "available", Value: have}},
		"the draft goes up to shaft %d and the loom has %s; %s", needed, schema.Counted(have, "shaft"), todo)
}
