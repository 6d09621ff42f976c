package dressing

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"fettle/schema"
	"fettle/schema/cloth"
)

// The tie-ups are worked out by hand.
func TestTieup(t *testing.T) {
	treadled := func(tieup schema.Rows, treadling ...[]int32) *schema.Draft {
		d := straight(4, 4)
		d.Tieup, d.Treadling = tieup, schema.RowsOf(treadling...)
		return d
	}
	twill := schema.RowsOf([]int32{1, 2}, []int32{2, 3}, []int32{3, 4}, []int32{1, 4})
	sinking := treadled(twill, []int32{1}, []int32{2})
	sinking.Shed = schema.Sinking
	planned := straight(4, 4)
	planned.LiftPlan = schema.RowsOf([]int32{1, 2}, []int32{3}, []int32{1, 2}, []int32{4})
	pairs := straight(5, 5)
	pairs.Tieup = schema.RowsOf([]int32{1}, []int32{2}, []int32{3}, []int32{4}, []int32{5})
	pairs.Treadling = schema.RowsOf([]int32{1, 3}, []int32{2, 4}, []int32{1, 5}, []int32{2, 3}, []int32{1, 4}, []int32{2, 5})
	for _, row := range []struct {
		name            string
		draft           *schema.Draft
		loom            schema.Loom
		noTreadles      bool // stated
		up, down        [][]int32
		first           []int32 // the treadles or shafts of pick 1
		tooManyTreadles int     // the treadles needed, if too many
	}{
		{name: "a lift plan on ten treadles", draft: planned, loom: schema.Loom{Treadles: 10},
			up: [][]int32{{1, 2}, {3}, {4}}, first: []int32{1}},
		{name: "a lift plan on too few treadles", draft: planned, loom: schema.Loom{Treadles: 2},
			first: []int32{1, 2}, tooManyTreadles: 3},
		{name: "treadles on a dobby", draft: treadled(twill, []int32{4}, []int32{1, 2}), noTreadles: true, first: []int32{1, 4}},
		{name: "countermarch", draft: treadled(twill, []int32{1}, []int32{2}, []int32{3}, []int32{4}), loom: schema.Loom{Treadles: 6, Shed: schema.Countermarch},
			up: [][]int32{{1, 2}, {2, 3}, {3, 4}, {1, 4}}, down: [][]int32{{3, 4}, {1, 4}, {1, 2}, {2, 3}}, first: []int32{1}},
		{name: "countermarch, sinking: the draft's ties go down", draft: sinking, loom: schema.Loom{Treadles: 6, Shed: schema.Countermarch},
			up: [][]int32{{3, 4}, {1, 4}, {1, 2}, {2, 3}}, down: [][]int32{{1, 2}, {2, 3}, {3, 4}, {1, 4}}, first: []int32{1}},
		{name: "countermarch, pressed together", draft: treadled(twill, []int32{1, 2}, []int32{4}, []int32{1, 2}), loom: schema.Loom{Treadles: 6, Shed: schema.Countermarch},
			up: [][]int32{{1, 2, 3}, {1, 4}}, down: [][]int32{{4}, {2, 3}}, first: []int32{1}},
		{name: "countermarch, a pick without a treadle", draft: treadled(twill, []int32{}, []int32{1}), loom: schema.Loom{Treadles: 6, Shed: schema.Countermarch},
			up: [][]int32{{1, 2}, {}}, down: [][]int32{{3, 4}, {1, 2, 3, 4}}, first: []int32{2}},
		{name: "countermarch with too few treadles", draft: treadled(twill, []int32{1, 2}, []int32{}), loom: schema.Loom{Treadles: 1, Shed: schema.Countermarch},
			first: []int32{1, 2, 3}, tooManyTreadles: 2},
		// Treadles 1 and 2 move shafts 1 and 2, treadles 3 to 5 shafts 3 to 5: six lifts.
		{name: "countermarch, two at once, each with its own shafts", draft: pairs, loom: schema.Loom{Treadles: 5, AtOnce: 2, Shed: schema.Countermarch},
			up: [][]int32{{1}, {2}, {3}, {4}, {5}}, down: [][]int32{{2}, {1}, {4, 5}, {3, 5}, {3, 4}}, first: []int32{1, 3}},
		{name: "countermarch, each with its own shafts, one at once", draft: pairs, loom: schema.Loom{Treadles: 5, AtOnce: 1, Shed: schema.Countermarch},
			first: []int32{1, 3}, tooManyTreadles: 6},
		{name: "countermarch, two at once, six treadles are enough for one at once", draft: pairs, loom: schema.Loom{Treadles: 6, AtOnce: 2, Shed: schema.Countermarch},
			up: [][]int32{{1, 3}, {2, 4}, {1, 5}, {2, 3}, {1, 4}, {2, 5}}, down: [][]int32{{2, 4, 5}, {1, 3, 5}, {2, 3, 4}, {1, 4, 5}, {2, 3, 5}, {1, 3, 4}}, first: []int32{1}},
		// Every treadle is pressed with every other, so none can tie a shaft down.
		{name: "countermarch, two at once, a shaft nothing ties down", draft: treadled(schema.RowsOf([]int32{1}, []int32{2}, []int32{3}, []int32{4}), []int32{1, 2}, []int32{1, 3}, []int32{1, 4}, []int32{2, 3}, []int32{2, 4}, []int32{3, 4}),
			loom: schema.Loom{Treadles: 4, AtOnce: 2, Shed: schema.Countermarch}, first: []int32{1, 2}, tooManyTreadles: 6},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := &schema.Setup{Loom: row.loom, Given: map[string]schema.Origin{}}
			if row.noTreadles {
				s.Given["loom.treadles"] = schema.Origin{}
			}
			f := Of(row.draft, s)
			if diff := cmp.Diff(row.up, f.tieup()); diff != "" {
				t.Errorf("up: %s", diff)
			}
			if diff := cmp.Diff(row.down, f.tieupDown()); diff != "" {
				t.Errorf("down: %s", diff)
			}
			if diff := cmp.Diff(row.first, f.PickRow(1)); diff != "" {
				t.Errorf("pick 1: %s", diff)
			}
			if many, over := f.TooManyTreadles(); over != (row.tooManyTreadles > 0) || over && many.Needed != row.tooManyTreadles {
				t.Errorf("%+v %v", many, over)
			}
			if wrong, faceDown := f.WrongShed(); faceDown {
				t.Errorf("%+v", wrong)
			}
			if !cloth.Same(row.draft, f.OnLoom()) {
				t.Error("the cloth is another")
			}
		})
	}
}

func TestUnusedShafts(t *testing.T) {
	f := Of(straight(6, 3), &schema.Setup{Loom: schema.Loom{Shafts: 5}})
	if diff := cmp.Diff([]int{4, 5}, f.UnusedShafts()); diff != "" {
		t.Error(diff)
	}
}
