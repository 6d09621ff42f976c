package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var shedMismatch = lint.Rule{
	ID:    "loom/shed-mismatch",
	Title: "the draft and the loom have different sheds",
	Why: "A loom with a rising shed lifts what a sinking-shed draft pulls down, so the cloth is woven face down. " +
		"The cloth is sound, but you see its pattern only from below, and a light lift becomes a heavy one.",
	Counts:  "fettle compares the draft's shed with the loom's. It skips balanced looms and drafts that don't state a shed.",
	Remedy:  "Change the draft with fettle convert --shed.",
	Default: schema.Error,
	Faulty:  lint.Example{Settings: "[loom]\nshafts = 4\nshed = sinking\n"},
	Fixed:   lint.Example{Settings: "[loom]\nshafts = 4\nshed = rising\n"},
	SafeOff: "if you weave face down on purpose, or both sides are alike",
	Source:  "rule of thumb",
	Data:    []lint.Field{{Key: "draft", Text: "the draft's shed, rising or sinking"}, {Key: "loom", Text: "the loom's shed"}},
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
