package rules

import (
	"slices"
	"strings"
	"testing"

	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/measure"
)

// TestWords checks that each message has its numbers and says what to do.
func TestWords(t *testing.T) {
	manyShort := dressing.HeddlesShort{Shafts: slices.Repeat([]dressing.ShaftHeddles{{Shaft: 1, Short: 1}}, 20)}
	twoShort := []dressing.ShaftHeddles{{Shaft: 2, Short: 10}, {Shaft: 4, Short: 1}}
	end := schema.Place{Part: schema.PartThreading, Row: 59}
	metre := dressing.Figure{Value: 1000, Known: true}
	for _, row := range []struct {
		kind any
		want []string
	}{
		{dressing.Typo{At: end, What: "shaft", Number: 33, Declared: 4, Meant: 3}, []string{"end 59 names shaft 33", "4 shafts", "means shaft 3"}},
		{dressing.Typo{At: end, What: "shaft", Number: 12, Declared: 4}, []string{"end 59", "shaft 12", "declare 12"}},
		{dressing.Typo{At: schema.Place{Part: schema.PartTieup, Row: 7}, What: "treadle", Number: 7, Declared: 4}, []string{"only the tie-up names treadle 7"}},
		{dressing.Typo{At: schema.Place{Part: schema.PartTieup, Row: 2}, What: "shaft", Number: 7, Declared: 4}, []string{"only treadle 2 names shaft 7"}},
		{dressing.Typo{At: schema.Place{Part: schema.PartLiftPlan, Row: 2}, What: "shaft", Number: 7, Declared: 4}, []string{"only pick 2 names shaft 7"}},
		{dressing.BlockProfile, []string{"block profile", "thread by thread"}},
		{dressing.NoThreading, []string{"no threading"}},
		{dressing.NoLifts, []string{"neither treadling nor lift plan"}},
		{dressing.NoTieup, []string{"no tie-up"}},
		{dressing.NothingLifted, []string{"no pick lifts a shaft"}},
		{dressing.UnthreadedEnds{Ends: []int{2, 3}}, []string{"ends 2 and 3 are", "thread them"}},
		{dressing.UnthreadedEnds{Ends: []int{1}, Edge: true}, []string{"end 1 is", "floating selvedges = yes"}},
		{dressing.LooseThreads{System: schema.Warp, Threads: []int{3}}, []string{"end 3 stays", "every pick"}},
		{dressing.LooseThreads{System: schema.Weft, Threads: []int{3, 5}}, []string{"picks 3 and 5 stay", "every end"}},
		{dressing.TooManyShafts{Needed: 12, Available: 8, Used: 12}, []string{"shaft 12", "8 shafts", "another loom"}},
		{dressing.TooManyShafts{Needed: 12, Available: 8, Used: 6}, []string{"only 6 of them carry", "clean --risky"}},
		{dressing.TooManyTreadles{Needed: 12, Available: 8, Used: 6}, []string{"treadle 12", "8 treadles", "only 6 of them are", "clean --risky"}},
		{dressing.TooManyTreadles{Needed: 12, Available: 8, Used: 12, Lifts: 7, LiftsCounted: true}, []string{"7 different lifts", "--treadles 8"}},
		{dressing.TooManyTreadles{Needed: 12, Available: 8, Used: 12, Lifts: 9, LiftsCounted: true}, []string{"--lifts plan"}},
		{dressing.TooManyTreadles{Needed: 12, Available: 8, Used: 12}, []string{"--lifts plan"}},
		{dressing.TooManyTreadles{Needed: 12, Available: 8, Lifts: 12, LiftsCounted: true, LiftPlan: true}, []string{"lift plan has 12", "8 treadles"}},
		{dressing.WrongShed{Draft: schema.Sinking, Loom: schema.Rising}, []string{"sinking", "--shed rising"}},
		{dressing.TooWide{Width: 500, Limit: 400}, []string{"50 cm", "40 cm", "10 cm"}},
		{dressing.ReedTooShort{Ends: 400, Needed: 200, Dents: 160}, []string{"400 ends", "200 dents", "160", "40 short"}},
		{dressing.HeddlesShort{Shafts: twoShort}, []string{"10 on shaft 2 and 1 on shaft 4", "add them, or move ends"}},
		{dressing.HeddlesShort{Shafts: twoShort, MovingIsEnough: true}, []string{"10 on shaft 2 and 1 on shaft 4; move them from the shafts"}},
		{manyShort, []string{"1 on shaft 1 and some on 12 more shafts"}},
		{dressing.YarnShort{YarnUse: dressing.YarnUse{Metres: metre, EachMetres: []float64{metre.Value}}, Name: "red", Items: 1}, []string{"1000 m of yarn 'red'", "get more yarn, or"}},
		{dressing.YarnShort{YarnUse: dressing.YarnUse{Metres: metre, EachMetres: []float64{metre.Value}}, Name: "red", Items: 2}, []string{"weave fewer items"}},
		{dressing.YarnShort{YarnUse: dressing.YarnUse{Metres: metre, EachMetres: []float64{metre.Value}, Shorten: metre}, Items: 2}, []string{"each item by 100 cm"}},
		{dressing.YarnShort{YarnUse: dressing.YarnUse{Metres: metre, EachMetres: []float64{metre.Value}, Shorten: metre}, Items: 1}, []string{"the item by 100 cm"}},
		{dressing.KeptByUse{Color: 3, System: schema.Weft, Yarn: "red"}, []string{"color 3 in the weft", "yarn 'red'", "for the warp", "use = weft"}},
		{dressing.KeptByUse{System: schema.Warp, Yarn: "red"}, []string{"warp threads without a color", "for the weft", "use = warp"}},
		{dressing.UnstatedLoss{Loss: "take-up"}, []string{"counts as 0", "10 to 15 %"}},
		{dressing.UnstatedLoss{Loss: "take-up", Medium: dressing.Figure{Value: 0.045, Known: true}, Heavy: dressing.Figure{Value: 0.06, Known: true}}, []string{"4.5 %", "6 %"}},
		{dressing.OddSpacing{System: schema.Weft, Meant: []dressing.Reading{{Text: "8 mm"}}}, []string{"weft spacing", "may mean 8 mm"}},
		{dressing.UnevenSpacing{System: schema.Warp, Mean: 5}, []string{"its ends unevenly", "5/cm"}},
		{dressing.RepeatsByWidth{Repeats: 102, Asked: 500, Gets: 510}, []string{"102 times", "50 cm: 51 cm"}},
		{dressing.SelvedgesRepeated{}, []string{"inside the cloth"}},
		{dressing.TooManyEnds{Ends: 2_000_000, Cause: "[project] repeats"}, []string{"2000000 ends", "lower [project] repeats"}},
	} {
		got := Words(row.kind, measure.Metric)
		for _, want := range row.want {
			if !strings.Contains(got, want) {
				t.Errorf("%T %+[1]v: no %q in %q", row.kind, want, got)
			}
		}
	}
}
