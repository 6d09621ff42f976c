package dressing

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
)

// Worked out by hand: half is lost in washing, so that all is woven twice as
// long, at 5 picks to the centimetre. The hem of 4 cm is 2 cm at either end, 4 cm
// on the loom; the fringe of 6 cm is not woven and does not shrink.
func TestStretches(t *testing.T) {
	d := straight(8, 4)
	d.Treadling = schema.Singles(1, 2, 3, 4)
	project := schema.Project{Picks: 5, FinishedLength: 500, ShrinkageWarp: 0.5}
	for _, row := range []struct {
		name   string
		change func(*schema.Project)
		want   []string
	}{
		{"one item", func(*schema.Project) {}, []string{"1 cloth 100 cm 500 = 100 cm 500"}},
		{"all of it", func(p *schema.Project) { p.Items, p.Hem, p.Fringe, p.Sample = 2, 40, 60, 100 }, []string{
			"0 sample 20 cm 100 = 20 cm 100",
			"1 fringe 3 cm 0 = 20 cm 100", "1 hem 4 cm 20 = 24 cm 120", "1 cloth 100 cm 500 = 124 cm 620", "1 hem 4 cm 20 = 128 cm 640", "1 fringe 3 cm 0 = 128 cm 640",
			"2 fringe 3 cm 0 = 128 cm 640", "2 hem 4 cm 20 = 132 cm 660", "2 cloth 100 cm 500 = 232 cm 1160", "2 hem 4 cm 20 = 236 cm 1180", "2 fringe 3 cm 0 = 236 cm 1180"}},
		{"picks that do not come out", func(p *schema.Project) { p.Items, p.FinishedLength, p.Picks = 3, 5, 1.1 },
			// 3 cm at 1.1 are 3.3 picks, so 4: up to 1⅓, 2⅔ and 4.
			[]string{"1 cloth 1 cm 1 = 1 cm 1", "2 cloth 1 cm 2 = 2 cm 3", "3 cloth 1 cm 1 = 3 cm 4"}},
		{"picks unknown", func(p *schema.Project) { p.Picks = 0 }, []string{"1 cloth 100 cm 0 = 100 cm 0"}},
		{"length unknown", func(p *schema.Project) { p.FinishedLength = 0 }, nil},
		{"too many to list", func(p *schema.Project) { p.Items = mostItems + 1 }, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := &schema.Setup{Project: project}
			row.change(&s.Project)
			var got []string
			for _, x := range Of(d, s).Stretches() {
				got = append(got, fmt.Sprintf("%d %s %g cm %g = %g cm %g", x.Item, x.Part, x.LengthCm.Value, x.Picks.Value, x.WovenCm.Value, x.UpToPick.Value))
			}
			if !slices.Equal(got, row.want) {
				t.Errorf("%q, want %q", got, row.want)
			}
		})
	}
}

// 120 picks, gone through from the sample on: worked out by hand from the picks
// that have been woven before each stretch.
func TestStretchesFromDraftPick(t *testing.T) {
	d := straight(8, 4)
	d.Weft.Threads = 120
	s := &schema.Setup{Project: schema.Project{Picks: 8, FinishedLength: 500, Items: 3, Sample: 100, Fringe: 20}}
	// 80 of the sample, and 400 of each item.
	want := []float64{1, 0, 81, 0, 0, 1, 0, 0, 41, 0}
	var got []float64
	for _, x := range Of(d, s).Stretches() {
		got = append(got, x.FromDraftPick.Value)
	}
	if !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

func TestPickRepeat(t *testing.T) {
	for _, row := range []struct {
		name  string
		picks []int32
		color []int32
		want  int
	}{
		{"none", nil, nil, 0},
		{"none of its own", []int32{1, 2, 3, 4}, nil, 4},
		{"two", []int32{1, 2, 1, 2}, nil, 2},
		{"one that does not go into the draft", []int32{1, 2, 1, 2, 1}, nil, 5},
		{"another by color", []int32{1, 2, 1, 2}, []int32{1, 1, 1, 2}, 4},
	} {
		t.Run(row.name, func(t *testing.T) {
			d := straight(4, 4)
			d.Treadling, d.Weft.Colors = schema.Singles(row.picks...), row.color
			if got := Of(d, &schema.Setup{}).PickRepeat(); got != row.want {
				t.Errorf("%d, want %d", got, row.want)
			}
		})
	}
}

// Whatever is asked for, the stretches add up to the plan's woven length and
// picks, and none is a pick or more from what its length comes to.
func TestStretchesAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s := anyDraft(t), anySetup(t)
		length, picks := 0.0, 0.0
		list := Of(d, s).Stretches()
		each := Of(d, s).Lengths().PicksWoven.Value / wovenLength(&s.Project).Value
		for _, x := range list {
			if x.Part != FringePart {
				length += x.LengthCm.Value
				if exact := x.LengthCm.Value * 10 * each; math.Abs(x.Picks.Value-exact) > 1+1e-6 {
					t.Fatalf("%+v, where its length is %v picks", x, exact)
				}
			}
			picks += x.Picks.Value
			if !near(x.WovenCm.Value, length, 1e-9) || x.UpToPick.Value != picks {
				t.Fatalf("%+v after %v cm and %v picks", x, length, picks)
			}
		}
		if l := Of(d, s).Lengths(); picks != l.PicksWoven.Value || !near(length*10, l.Woven.Value, 1e-9) {
			t.Fatalf("%v picks and %v cm in all, want %+v", picks, length, l)
		}
	})
}
