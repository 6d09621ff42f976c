package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var shedMismatch = lint.Rule{
	ID:    "loom/shed-mismatch",
	Title: "the draft is for a rising shed and the loom sinks its shafts, or the reverse",
	Why: "What a draft for a sinking shed pulls down, a loom with a rising shed lifts, so the cloth is woven face down. " +
		"The cloth is sound, but a pattern in the weft is seen only from below while weaving, and a light pull becomes a heavy one.",
	Default: schema.Error,
	Faulty:  lint.Example{Settings: "[loom]\nshafts = 4\nshed = sinking\n"},
	Mended:  lint.Example{Settings: "[loom]\nshafts = 4\nshed = rising\n"},
	SafeOff: "where weaving face down is meant, or both sides are alike",
	Source:  "common practice, no source",
	Data:    []lint.Field{{Key: "draft", Text: "the draft's shed, rising or sinking"}, {Key: "loom", Text: "the loom's"}},
	Check:   checkShedMismatch,

	Keys:     []string{"draft", "loom"},
	Measures: []lint.Measure{},
}

func checkShedMismatch(p *lint.Pass) {
	if shed, ok := p.Figures.WrongShed(); ok {
		p.Report(schema.Place{Part: schema.PartWeaving, Field: schema.FieldShed},
			schema.Data{{Key: "draft", Value: shed.Draft.String()}, {Key: "loom", Value: shed.Loom.String()}}, "%s", Words(shed, p.Units()))
	}
}
