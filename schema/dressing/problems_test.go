package dressing

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fettle/schema"
	"fettle/schema/measure"
)

func TestFaults(t *testing.T) {
	plain := schema.RowsOf([]int32{1}, []int32{2})
	feet := schema.Singles(1, 2)
	const (
		noLifts = "weave: dressing.Gap 2"
		noTieup = "weave: dressing.Gap 3"
		nothing = "weave: dressing.Gap 4"
	)
	for _, row := range []struct {
		name  string
		draft schema.Draft
		setup schema.Setup
		want  []string
	}{
		{name: "sound", draft: schema.Draft{Threading: schema.Singles(1, 2, 1), Tieup: plain, Treadling: feet}},
		{name: "sound by lift plan", draft: schema.Draft{Threading: schema.Singles(1, 2, 1), LiftPlan: plain}},
		{name: "no ends", draft: schema.Draft{LiftPlan: plain}},
		{name: "no threading", draft: schema.Draft{Warp: schema.System{Threads: 9}, LiftPlan: plain},
			want: []string{"thread: dressing.Gap 1"}},
		{name: "a block profile, of which nothing else is said", draft: schema.Draft{Profile: schema.Yes, Threading: schema.Singles(1, 0)},
			want: []string{"thread: dressing.Gap 0"}},
		{name: "no picks", draft: schema.Draft{Threading: schema.Singles(1, 2)}, want: []string{noLifts}},
		{name: "picks are only counted", draft: schema.Draft{Threading: schema.Singles(1, 2), Weft: schema.System{Threads: 9}}, want: []string{noLifts}},
		{name: "no tie-up", draft: schema.Draft{Threading: schema.Singles(1, 2), Treadling: feet}, want: []string{noTieup}},
		{name: "treadles that are not tied", draft: schema.Draft{Threading: schema.Singles(1, 2), Tieup: plain, Treadling: schema.Singles(3, 4)},
			want: []string{nothing}},
		{name: "an empty lift plan beside a treadling", draft: schema.Draft{Threading: schema.Singles(1, 2), LiftPlan: schema.RowsOf([]int32{}, []int32{}), Treadling: feet},
			want: []string{nothing}},
		{name: "ends on no shaft", draft: schema.Draft{Threading: schema.Singles(1, 0, 0, 2), LiftPlan: plain},
			want: []string{"thread: dressing.UnthreadedEnds {Ends:[2 3] Edge:false}"}},
		{name: "an edge end on no shaft", draft: schema.Draft{Threading: schema.Singles(0, 1, 2), LiftPlan: plain},
			want: []string{"thread: dressing.UnthreadedEnds {Ends:[1] Edge:true}"}},
		{name: "floating selvedges", draft: schema.Draft{Threading: schema.Singles(0, 1, 2, 0), LiftPlan: plain},
			setup: schema.Setup{Project: schema.Project{FloatingSelvedge: true}}},
		{name: "both", draft: schema.Draft{Threading: schema.Singles(1, 0, 2)},
			want: []string{"thread: dressing.UnthreadedEnds {Ends:[2] Edge:false}", noLifts}},
		{name: "an end that is never lifted", draft: schema.Draft{Threading: schema.Singles(1, 2, 3), LiftPlan: plain},
			want: []string{"thread: dressing.LooseThreads {System:warp Threads:[3]}"}},
		{name: "a pick that lifts all", draft: schema.Draft{Threading: schema.Singles(1, 2), LiftPlan: schema.RowsOf([]int32{1}, []int32{2}, []int32{1, 2})},
			want: []string{"weave: dressing.LooseThreads {System:weft Threads:[3]}"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			var got []string
			for _, p := range Of(&row.draft, &row.setup).Faults() {
				got = append(got, fmt.Sprintf("%s: %T %+[2]v", p.Step, p.Kind))
			}
			if !slices.Equal(got, row.want) {
				t.Errorf("%q, want %q", got, row.want)
			}
		})
	}
}

func TestUnstated(t *testing.T) {
	s := &schema.Setup{Given: map[string]schema.Origin{"project.take-up": {}, "project.shrinkage weft": {}, "project.loom waste": {}}}
	want := []string{"shrinkage warp", "weft take-up", "draw-in"}
	if got := Of(&schema.Draft{}, s).unstated(); !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	none, warp := []string{}, []string{"shrinkage warp"}
	by := Without{Warp: warp, WovenLength: warp, Weft: []string{"weft take-up", "shrinkage warp"}, Width: []string{"draw-in"}}
	if diff := cmp.Diff(by, Of(&schema.Draft{}, s).without()); diff != "" {
		t.Error(diff)
	}
	s.Given = map[string]schema.Origin{"project.weft take-up": {}, "project.draw-in": {}, "project.loom waste": {}, "project.take-up": {}}
	both := []string{"shrinkage"}
	if diff := cmp.Diff(Without{both, both, both, both}, Of(&schema.Draft{}, s).without()); diff != "" {
		t.Error(diff)
	}
	s.Given["project.shrinkage warp"] = schema.Origin{}
	if diff := cmp.Diff(Without{none, none, none, []string{"shrinkage weft"}}, Of(&schema.Draft{}, s).without()); diff != "" {
		t.Error(diff)
	}
}

// A plan is made even for a cloth with so many different ends and picks that a pass over
// it would take hours.
func TestPlanOfTooLargeCloth(t *testing.T) {
	const n = 100_000 // each end on a shaft of its own, each pick lifting another
	d := &schema.Draft{}
	for i := range n {
		d.Threading.AppendOne(int32(i + 1))
		d.LiftPlan.AppendOne(int32(i + 1))
	}
	p, err := Of(d, &schema.Setup{}).Plan(Options{}, kindNames)
	if err != nil || len(p.Faults) != 0 || p.Selvedge == nil || p.Selvedge.Turns != n-1 {
		t.Errorf("%v: %+v %+v", err, p.Faults, p.Selvedge)
	}
}

func TestLacks(t *testing.T) {
	loom := func(l schema.Loom) func(*schema.Draft, *schema.Setup) {
		return func(d *schema.Draft, s *schema.Setup) { d.Shed, s.Loom = schema.Sinking, l }
	}
	const (
		shafts   = "thread: dressing.TooManyShafts {Needed:4 Available:3 Used:4 Fewest:4}"
		treadles = "tie up: dressing.TooManyTreadles {Needed:4 Available:3 Used:4 Lifts:4 LiftsCounted:true AtOnce:2 Fewest:4 AtLeast:4 LiftPlan:false Together:false}"
		shed     = "dressing.WrongShed {Draft:sinking Loom:rising}"
		wide     = "sley: dressing.TooWide {Width:500 Limit:400}"
		short    = "sley: dressing.ReedTooShort {Ends:400 Needed:200 Dents:160}"
	)
	for _, row := range []struct {
		name   string
		change func(*schema.Draft, *schema.Setup)
		want   []string
	}{
		{"nothing", func(*schema.Draft, *schema.Setup) {}, nil},
		{"shafts", loom(schema.Loom{Shafts: 3}), []string{shafts}},
		{"enough of all", loom(schema.Loom{Shafts: 4, Treadles: 4, Shed: schema.Sinking, WeavingWidth: 500}), nil},
		{"a balanced shed", loom(schema.Loom{Shed: schema.Balanced}), nil},
		{"treadles", loom(schema.Loom{Treadles: 3}), []string{treadles}},
		{"shed", loom(schema.Loom{Shed: schema.Rising}), []string{"tie up: " + shed}},
		{"shed, by lift plan", func(d *schema.Draft, s *schema.Setup) {
			loom(schema.Loom{Shed: schema.Rising})(d, s)
			d.LiftPlan = schema.Singles(1, 2, 3, 4)
		}, []string{"weave: " + shed}},
		{"shed, on a loom without treadles", func(d *schema.Draft, s *schema.Setup) {
			loom(schema.Loom{Shed: schema.Rising})(d, s)
			s.Given = map[string]schema.Origin{"loom.treadles": {}}
		}, []string{"weave: " + shed}},
		{"a treadle for each lift", func(d *schema.Draft, s *schema.Setup) {
			d.Treadling, d.LiftPlan, s.Loom.Treadles = schema.Rows{}, schema.Singles(1, 2, 3, 1), 2
		}, []string{"tie up: dressing.TooManyTreadles {Needed:3 Available:2 Used:0 Lifts:3 LiftsCounted:true AtOnce:2 Fewest:3 AtLeast:3 LiftPlan:true Together:false}"}},
		{"all at once, in the order of the work", func(d *schema.Draft, s *schema.Setup) {
			loom(schema.Loom{Shafts: 3, Treadles: 3, Shed: schema.Rising, WeavingWidth: 400})(d, s)
			s.Heddles.ByShaft = map[int]int{2: 90, 4: 99}
			s.Reeds[0].Width = 400
			s.Yarns[1].Stock = measure.Stock{Packages: 1, Metres: 1000}
			s.Yarns[0].Stock = measure.Stock{Packages: 1, Metres: 300}
		}, []string{
			"yarn: natural short by 900",
			wide, short, shafts, "thread: 10 on 2, 1 on 4",
			treadles, "tie up: " + shed}},
		{"too many shafts, and heddles that only need moving", func(d *schema.Draft, s *schema.Setup) {
			loom(schema.Loom{Shafts: 3})(d, s)
			s.Heddles = schema.Heddles{Known: true, Each: 120, ByShaft: map[int]int{2: 90}}
		}, []string{shafts, "thread: 10 on 2, by moving"}},
		{"a block profile", func(d *schema.Draft, s *schema.Setup) {
			loom(schema.Loom{Shafts: 3})(d, s)
			d.Profile = schema.Yes
		}, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, s := towel()
			s.Heddles, s.Yarns[0].Stock = schema.Heddles{Known: true, Each: 100}, measure.Stock{}
			row.change(d, s)
			var got []string
			for _, p := range Of(d, s).lacks() {
				what := fmt.Sprintf("%T %+[1]v", p.Kind)
				switch k := p.Kind.(type) {
				case YarnShort:
					what = fmt.Sprintf("%s short by %v", k.Name, k.Short.Value)
				case HeddlesShort:
					var words []string
					for _, h := range k.Shafts {
						words = append(words, fmt.Sprintf("%d on %d", h.Short, h.Shaft))
					}
					what = strings.Join(words, ", ")
					if k.MovingIsEnough {
						what += ", by moving"
					}
				}
				got = append(got, p.Step+": "+what)
			}
			if !slices.Equal(got, row.want) {
				t.Errorf("%q, want %q", got, row.want)
			}
		})
	}
}
