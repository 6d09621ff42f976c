package cloth

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"fettle/schema"
)

// published runs the checks of figures in print, each with the name of its source. Checks
// named computed/ follow from definitions instead.
func published(t *testing.T, checks map[string]func(*testing.T)) {
	t.Helper()
	names := make([]string, 0, len(checks))
	for name := range checks {
		names = append(names, name)
	}
	slices.Sort(names)
	passed, all := 0, 0
	for _, name := range names {
		if strings.HasPrefix(name, "computed/") {
			t.Run(name, checks[name])
			continue
		}
		all++
		if t.Run("published/"+name, checks[name]) {
			passed++
		}
	}
	t.Logf("%d of %d published checks pass", passed, all)
}

// twill returns a twill with these floats on an end: up, down, up, down.
func twill(floats ...int) *schema.Draft {
	var up []int
	n := 0
	for i, f := range floats {
		for range f {
			if i%2 == 0 {
				up = append(up, n)
			}
			n++
		}
	}
	return straight(n, n, n, up)
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.Abs(got-want) > within {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// TestWeaveValue checks R and I, and the setts by Ashenhurst's rule: D = 0.9·√(yd/lb)
// times the weave value.
func TestWeaveValue(t *testing.T) {
	weaves := []struct {
		name  string
		draft *schema.Draft
		r, i  int
		setts [5]float64 // for 1260, 2100, 3360, 4200, 8400 yd/lb, computed
	}{
		{"plain", twill(1, 1), 2, 2, [5]float64{15.97, 20.62, 26.08, 29.16, 41.24}},
		{"2/1 twill", twill(2, 1), 3, 2, [5]float64{19.17, 24.75, 31.30, 35.00, 49.49}},
		{"2/2 twill", twill(2, 2), 4, 2, [5]float64{21.30, 27.50, 34.78, 38.88, 54.99}},
		{"3/1 twill", twill(3, 1), 4, 2, [5]float64{21.30, 27.50, 34.78, 38.88, 54.99}},
		{"3/3 twill", twill(3, 3), 6, 2, [5]float64{23.96, 30.93, 39.13, 43.74, 61.86}},
		{"5-end satin", satin(5, 2), 5, 2, [5]float64{22.82, 29.46, 37.26, 41.66, 58.92}},
		{"8-end satin", satin(8, 3), 8, 2, [5]float64{25.56, 32.99, 41.74, 46.66, 65.99}},
	}
	for _, w := range weaves {
		t.Run("computed/"+w.name, func(t *testing.T) {
			c := Of(w.draft)
			if r, _ := c.Repeat(); r != w.r {
				t.Errorf("R = %d, want %d", r, w.r)
			}
			for _, name := range []schema.SystemName{schema.Warp, schema.Weft} {
				for _, i := range c.intersections(name) {
					if i != w.i {
						t.Errorf("%s: I = %d, want %d", name, i, w.i)
					}
				}
			}
			for k, yards := range []float64{1260, 2100, 3360, 4200, 8400} {
				near(t, fmt.Sprint(yards, " yd/lb"), 0.9*math.Sqrt(yards)*c.WeftWeaveValue(), w.setts[k], 0.0051)
			}
		})
	}
	value := func(d *schema.Draft) float64 { return Of(d).WeftWeaveValue() }
	plain, two := value(twill(1, 1)), value(twill(2, 2))
	published(t, map[string]func(*testing.T){
		"FAENA 1999, 8-2 cotton plain 26":                 func(t *testing.T) { near(t, "sett", 52*plain, 26, 1e-9) },
		"FAENA 1999, 8-2 cotton 2-2 twill 34 (truncated)": func(t *testing.T) { near(t, "sett", math.Floor(52.169*two), 34, 1e-9) },
		"TAYLOR 436, 32s plain 78":                        func(t *testing.T) { near(t, "sett", 156*plain, 78, 1e-9) },
		"TAYLOR 464, plain 103 to 2-2 twill":              func(t *testing.T) { near(t, "sett", 103/plain*two, 137+1.0/3, 1e-9) },
		"computed/2-2 twill 137 to 5-2-1-2, as TAYLOR 464": func(t *testing.T) {
			near(t, "sett", 137/two*value(twill(5, 2, 1, 2)), 146.79, 0.005)
		},
		"TAYLOR 427, 5-satin of 180 picks has 72": func(t *testing.T) {
			near(t, "intersections", 180*float64(Of(satin(5, 2)).intersections(schema.Warp)[0])/5, 72, 1e-9)
		},
		"TAYLOR 427, plain of 120 picks, 6 6-7 %": func(t *testing.T) {
			n := 120 * float64(Of(twill(1, 1)).intersections(schema.Warp)[0]) / 2
			near(t, "percent", n*4/70, 6+6.0/7, 1e-9)
		},
		"TAYLOR 427, plain of 60 picks, 4 1-2 %": func(t *testing.T) {
			n := 60 * float64(Of(twill(1, 1)).intersections(schema.Warp)[0]) / 2
			near(t, "percent", n*3/40, 4.5, 1e-9)
		},
	})
}

// TestWeaveValueLoose checks that a loose end takes no room.
func TestWeaveValueLoose(t *testing.T) {
	g, ends := drawn("#.", "..")
	near(t, "value", Of(draftOf(g, ends)).WeftWeaveValue(), (0.5+1)/2, 1e-12)
	near(t, "empty draft", Of(&schema.Draft{}).WeftWeaveValue(), 0, 0)
}

func TestFloatLengths(t *testing.T) {
	five := twill(5, 1)
	longest := func(perCM float64) float64 {
		return Of(five).Floats(FloatQuery{Wrap: true, Weft: Measure{Spacing: 10 / perCM}}).Weft.Back.Length
	}
	checks := map[string]func(*testing.T){
		"5 ends at 6 a cm are 0.83 cm":     func(t *testing.T) { near(t, "mm", longest(6), 8.3, 0.05) },
		"5 ends at 20 a cm are 2.5 mm":     func(t *testing.T) { near(t, "mm", longest(20), 2.5, 1e-9) },
		"point 2-2 twill floats at most 3": pointTwill,
	}
	published(t, checks)
}

func pointTwill(t *testing.T) {
	d := twill(2, 2)
	d.Threading = schema.Singles(1, 2, 3, 4, 3, 2, 1, 2, 3, 4, 3, 2)
	for _, reversal := range []bool{false, true} {
		if reversal {
			d.LiftPlan = schema.RowsOf([]int32{1, 2}, []int32{2, 3}, []int32{3, 4}, []int32{1, 4}, []int32{3, 4}, []int32{2, 3})
		}
		f := Of(d).Floats(FloatQuery{Wrap: true})
		most := max(f.Warp.Face.Threads, f.Warp.Back.Threads, f.Weft.Face.Threads, f.Weft.Back.Threads)
		if most != 3 {
			t.Errorf("longest float %d, want 3", most)
		}
	}
}

// TestLimits checks that a float equal to the limit isn't too long.
func TestLimits(t *testing.T) {
	eleven := Measure{Spacing: 25.4 / 11, LimitMM: 25.4}
	uneven := Measure{Spacings: slices.Repeat([]float64{25.4 / 11}, 24), LimitMM: 25.4}
	uneven.Spacings[23] = 1
	for _, x := range []struct {
		name  string
		draft *schema.Draft
		m     Measure
		over  int
	}{
		{"11 threads in an inch", twill(11, 1), eleven, 0},
		{"12 threads in an inch and more", twill(12, 1), eleven, 13},
		{"unevenly spaced", straight(24, 24, 24, []int{2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}), uneven, 0},
		{"3 of 0.1 mm are 0.3 mm", twill(3, 1), Measure{Spacing: 0.1, LimitMM: 0.3}, 0},
		{"threads before millimetres", twill(11, 1), Measure{Spacing: 1, LimitMM: 1, LimitThreads: 11}, 0},
		{"millimetres without spacing", twill(11, 1), Measure{LimitMM: 1}, 0},
		{"one thread is never too long", twill(1, 1), Measure{Spacing: 4, LimitMM: 3}, 0},
		{"one thread among finer ones", twill(1, 1), Measure{Spacings: []float64{4, 1}, LimitMM: 3}, 0},
		{"two threads", twill(2, 1), Measure{Spacing: 4, LimitMM: 3}, 3},
		{"NaN", twill(11, 1), Measure{Spacing: math.NaN(), LimitMM: 3}, 0},
		{"endless", twill(11, 1), Measure{Spacing: math.Inf(1), LimitMM: 3}, 12},
		{"negative spacing", twill(11, 1), Measure{Spacings: slices.Repeat([]float64{-1}, 12), LimitMM: 3}, 0},
		{"infinite spacing", twill(1, 1), Measure{Spacings: []float64{math.Inf(1), 1e300}, LimitMM: 3}, 0},
		{"infinite limit", twill(1, 1), Measure{Spacing: 1, LimitMM: math.Inf(1)}, 0},
	} {
		t.Run(x.name, func(t *testing.T) {
			f := Of(x.draft).Floats(FloatQuery{Weft: x.m, Wrap: true})
			if l := f.Weft.Back.Length; math.IsNaN(l) || math.IsInf(l, 0) {
				t.Errorf("length %v", l)
			}
			if f.Weft.Back.Over != x.over {
				t.Errorf("%d over, want %d: %+v", f.Weft.Back.Over, x.over, f.Weft.Back)
			}
		})
	}
}

func TestSpaced(t *testing.T) {
	s := &schema.System{Unit: schema.Centimetres, Spacing: 0.2, Spacings: []float64{0, 0.1}}
	if m := Spaced(s, 3); !slices.Equal(m.Spacings, []float64{2, 1, 2}) {
		t.Errorf("%+v", m)
	}
	s.Spacings = nil
	if m := Spaced(s, 3); m.Spacing != 2 || m.Spacings != nil {
		t.Errorf("%+v", m)
	}
	s = &schema.System{Spacings: []float64{0.1}}
	if m := Spaced(s, 3); m.Spacing != 0 || m.Spacings != nil {
		t.Errorf("thread 2 has no spacing: %+v", m)
	}
}

// TestSelvedge follows the definition: with shaft 1 at the right edge and shaft 4 at the
// left, a first pick from left to right catches every turn.
func TestSelvedge(t *testing.T) {
	d := straight(4, 8, 0, nil)
	d.LiftPlan = schema.RowsOf([]int32{1, 2}, []int32{2, 3}, []int32{3, 4}, []int32{1, 4})
	got := Of(d).Selvedge()
	if want := (Selvedge{Turns: 3, MissesFromLeft: 0, MissesFromRight: 3}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	if got.BestStart() != "left" {
		t.Errorf("best start %s", got.BestStart())
	}
	d.Threading = schema.Singles(4, 3, 2, 1, 4, 3, 2, 1)
	if got := Of(d).Selvedge(); got.BestStart() != "right" || got.MissesFromRight != 0 {
		t.Errorf("threaded in reverse: %+v", got)
	}
}

// TestSelvedgeFromOtherPicks compares every first pick of random treadlings with a draft
// that is treadled so.
func TestSelvedgeFromOtherPicks(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		d := straight(4, 8, 0, nil)
		picks := 2 + r.IntN(9)
		lifts := make([][]int32, picks)
		for i := range lifts {
			lifts[i] = [][]int32{{1, 2}, {2, 3}, {3, 4}, {1, 4}, {1, 3}}[r.IntN(5)]
		}
		d.LiftPlan = schema.RowsOf(lifts...)
		right, left := 1+r.IntN(8), 1+r.IntN(8)
		best, fewest := 0, picks
		for first := 1; first <= picks; first++ {
			turned := straight(4, 8, 0, nil)
			turned.LiftPlan = schema.RowsOf(slices.Concat(lifts[first-1:], lifts[:first-1])...)
			want := Of(turned).SelvedgeAt(right, left, 1)
			if got := Of(d).SelvedgeAt(right, left, first); got != want {
				t.Fatalf("%v from pick %d: %+v, want %+v", lifts, first, got, want)
			}
			if n := min(want.MissesFromLeft, want.MissesFromRight); n < fewest {
				best, fewest = first, n
			}
		}
		if got := Of(d).BestFirstPick(right, left); got != max(best, 1) {
			t.Errorf("%v, ends %d and %d: best first pick %d, want %d", lifts, right, left, got, best)
		}
	}
}

// TestAllSheds checks that four shafts have 14 sheds.
func TestAllSheds(t *testing.T) {
	d := straight(4, 4, 0, nil)
	for twice := 0; twice < 2; twice++ {
		for n := 1; n < 15; n++ {
			var lift []int32
			for s := range 4 {
				if n>>s&1 != 0 {
					lift = append(lift, int32(s+1))
				}
			}
			d.LiftPlan.Append(lift...)
		}
		d.LiftPlan.Append()
	}
	if n := Of(d).DistinctLifts(); n != 14 {
		t.Errorf("%d lifts, want 14", n)
	}
}
