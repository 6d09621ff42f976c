package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/wording"
)

var missingHeddles = lint.Rule{
	ID:    "loom/missing-heddles",
	Title: "a shaft has fewer heddles than ends",
	Why: "Each end goes through a heddle on its shaft. " +
		"If the heddles run out halfway through the threading, you must take out everything after that place or tie in repair heddles one by one.",
	Counts:  "fettle counts heddles for the whole warp: the draft's ends for every repeat, and the balance.",
	Remedy:  "Add heddles or move some from other shafts before you start, or move ends to another shaft.",
	Default: schema.Error,
	Faulty: lint.Example{
		Settings: "[heddles]\neach = 2\n3 = 1\n",
	},
	Fixed: lint.Example{
		Settings: "[heddles]\neach = 2\n3 = 2\n",
	},
	SafeOff: "if your heddles slide on freely from a stock, so their present number doesn't matter",
	Source:  "Brooks, for a point draft; a straight draw of 400 ends on 8 shafts takes 50 on each",
	Data: []lint.Field{{Key: "shaft", Text: "the shaft"}, {Key: "needed", Text: "heddles that the warp takes"},
		{Key: "available", Text: "heddles on the shaft"}, {Key: "short", Text: "heddles short"}},
	Check: checkMissingHeddles,

	Keys:     []string{"shaft"},
	Measures: []lint.Measure{{Key: "short"}},
}

func checkMissingHeddles(p *lint.Pass) {
	if !p.Setup.Heddles.Known {
		return
	}
	todo := ""
	for _, h := range p.Figures.Heddles() {
		if h.Short <= 0 {
			continue
		}
		if todo == "" {
			todo = findHeddles(p.Figures)
		}
		p.Report(schema.EndPlace(h.DraftEnd),
			schema.Data{{Key: "shaft", Value: h.Shaft}, {Key: "needed", Value: h.Needed},
				{Key: "available", Value: h.Available}, {Key: "short", Value: h.Short}},
			"shaft %d needs %s but has %d, %d short, and runs out at end %d; %s",
			h.Shaft, wording.Counted(h.Needed, "heddle"), h.Available, h.Short, h.RunsOut, todo)
		p.Mark(schema.Warp, h.DraftEnd)
	}
}

// findHeddles says where the missing heddles can come from.
func findHeddles(f *dressing.Figures) string {
	switch {
	case f.MovingHeddlesSuffices():
		return "move heddles from the shafts that have some to spare"
	case f.SpreadingSuffices():
		return "add heddles, or spread the ends with fettle fit"
	}
	return "add heddles, or move ends to another shaft"
}
