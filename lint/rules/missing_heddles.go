package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

var missingHeddles = lint.Rule{
	ID:    "loom/missing-heddles",
	Title: "a shaft has fewer heddles than the ends threaded on it",
	Why: "Each end goes through the eye of a heddle on its shaft. Where a shaft runs out of heddles half-way through the threading, " +
		"everything already threaded beyond that place has to come out again, or repair heddles be tied in one by one. " +
		"Heddles are counted for the whole warp: the draft's ends as often as it is repeated, and the ends that balance it.",
	Default: schema.Error,
	Faulty: lint.Example{
		Draft:    "[THREADING]\n1=1\n2=2\n3=1\n4=3\n5=1\n6=4\n7=1\n8=2\n",
		Settings: "[heddles]\neach = 3\n",
	},
	Mended: lint.Example{
		Draft:    "[THREADING]\n1=1\n2=2\n3=1\n4=3\n5=1\n6=4\n7=1\n8=2\n",
		Settings: "[heddles]\neach = 3\n1 = 4\n",
	},
	SafeOff: "where heddles slide on freely from a stock, so that the count on the shafts now means nothing",
	Source: "counting heddles a shaft from the threading: a straight draw of 400 ends on 8 shafts takes 50 on each; " +
		"C. P. Brooks, Cotton Manufacturing, counts a point draft the same way",
	Data: []lint.Field{{Key: "shaft", Text: "the shaft"}, {Key: "needed", Text: "heddles the warp takes on it"},
		{Key: "available", Text: "heddles it has"}, {Key: "short", Text: "heddles it lacks"}},
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
		if h.Short > 0 {
			if todo == "" {
				todo = "add heddles, or move ends to another shaft"
				if p.Figures.SpreadingSuffices() {
					todo = "add heddles, or spread the ends with fettle fit"
				}
			}
			p.Report(schema.EndPlace(h.DraftEnd),
				schema.Data{{Key: "shaft", Value: h.Shaft}, {Key: "needed", Value: h.Needed},
					{Key: "available", Value: h.Available}, {Key: "short", Value: h.Short}},
				"shaft %d needs %s and has %d, %d short; they run out at end %d: %s",
				h.Shaft, wording.Counted(h.Needed, "heddle"), h.Available, h.Short, h.RunsOut, todo)
		}
	}
}
