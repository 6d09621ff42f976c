package dressing

import (
	"errors"
	"slices"
	"testing"

	"fettle/schema"
	"fettle/schema/cloth"
)

// Every pick of the sheet's stretches is written out, and weaves what the draft's pick
// weaves, across the whole warp.
func TestWholeWork(t *testing.T) {
	d := straight(6, 4)
	d.Tieup = schema.RowsOf([]int32{1, 2}, []int32{2, 3}, []int32{3, 4}, []int32{1, 4})
	d.Treadling = schema.Singles(1, 2, 3, 4, 3)
	d.Warp.Colors, d.Weft.Colors = []int32{1, 2, 1, 1, 2, 2}, []int32{2, 1, 2, 2, 1}
	s := &schema.Setup{Project: schema.Project{Sett: 8, Picks: 5, FinishedLength: 300, Items: 3, Hem: 40, Sample: 50, Fringe: 60, Repeats: 4, Balance: 3}}
	f := Of(d, s)
	work, err := f.WholeWork()
	if err != nil {
		t.Fatal(err)
	}
	list := f.Stretches()
	if want := wholePicks(list[len(list)-1].UpToPick.Value); work.Picks() != want || work.LiftPlan.Len() != want {
		t.Fatalf("%d picks, want %d", work.Picks(), want)
	}
	if work.Ends() != 27 {
		t.Fatalf("%d ends", work.Ends())
	}
	woven, drawn := cloth.Of(work), cloth.Of(d)
	pick := 0
	for _, x := range list {
		for i := range wholePicks(x.Picks.Value) {
			pick++
			from := (int(x.FromDraftPick.Value)-1+i)%5 + 1
			if work.Weft.ColorOf(pick) != d.Weft.ColorOf(from) {
				t.Fatalf("pick %d has another color than pick %d of the draft", pick, from)
			}
			for end := 1; end <= 27; end++ {
				if woven.Up(end, pick) != drawn.Up((end-1)%6+1, from) || work.Warp.ColorOf(end) != d.Warp.ColorOf((end-1)%6+1) {
					t.Fatalf("end %d, pick %d", end, pick)
				}
			}
		}
		if x.Part != FringePart && pick != wholePicks(x.UpToPick.Value) {
			t.Fatalf("%d picks up to %+v", pick, x)
		}
	}
}

func TestWholeWorkSaysWhyNot(t *testing.T) {
	for name, p := range map[string]schema.Project{
		"no length":      {Sett: 8, Picks: 5},
		"no picks":       {Sett: 8, FinishedLength: 300},
		"too many items": {Sett: 8, Picks: 5, FinishedLength: 300, Items: mostItems + 1},
		"too long":       {Sett: 8, Picks: 50, FinishedLength: 1e9},
	} {
		d := straight(4, 4)
		d.LiftPlan = schema.RowsOf(slices.Repeat([][]int32{{1, 3}, {2, 4}}, 2)...)
		if _, err := Of(d, &schema.Setup{Project: p}).WholeWork(); !errors.As(err, new(Unwritten)) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
