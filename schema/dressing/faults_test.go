package dressing

import (
	"slices"
	"testing"

	"fettle/schema"
	"fettle/schema/cloth"
)

func TestFaults(t *testing.T) {
	plain := schema.RowsOf([]int32{1}, []int32{2})
	feet := schema.Singles(1, 2)
	const (
		noLifts = "weave: nothing says what to lift: the draft has neither treadling nor lift plan"
		noTieup = "weave: no treadle is tied to a shaft: the draft has no tie-up"
		nothing = "weave: no pick lifts a shaft; look at the tie-up and the treadling, or at the lift plan"
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
			want: []string{"thread: no end is on a shaft: the draft has no threading"}},
		{name: "a block profile, of which nothing else is said", draft: schema.Draft{Profile: schema.Yes, Threading: schema.Singles(1, 0)},
			want: []string{"thread: it says that it is a block profile: each of its ends stands for a block of threads; draw it out thread by thread first, or write Profile=false"}},
		{name: "no picks", draft: schema.Draft{Threading: schema.Singles(1, 2)}, want: []string{noLifts}},
		{name: "picks are only counted", draft: schema.Draft{Threading: schema.Singles(1, 2), Weft: schema.System{Threads: 9}}, want: []string{noLifts}},
		{name: "no tie-up", draft: schema.Draft{Threading: schema.Singles(1, 2), Treadling: feet}, want: []string{noTieup}},
		{name: "treadles that are not tied", draft: schema.Draft{Threading: schema.Singles(1, 2), Tieup: plain, Treadling: schema.Singles(3, 4)},
			want: []string{nothing}},
		{name: "an empty lift plan beside a treadling", draft: schema.Draft{Threading: schema.Singles(1, 2), LiftPlan: schema.RowsOf([]int32{}, []int32{}), Treadling: feet},
			want: []string{nothing}},
		{name: "ends on no shaft", draft: schema.Draft{Threading: schema.Singles(1, 0, 0, 2), LiftPlan: plain},
			want: []string{"thread: ends 2 and 3 are on no shaft; thread them, or take them out"}},
		{name: "an edge end on no shaft", draft: schema.Draft{Threading: schema.Singles(0, 1, 2), LiftPlan: plain},
			want: []string{"thread: end 1 is on no shaft; if floating selvedges are meant, write floating selvedges = yes under [project]"}},
		{name: "floating selvedges", draft: schema.Draft{Threading: schema.Singles(0, 1, 2, 0), LiftPlan: plain},
			setup: schema.Setup{Project: schema.Project{FloatingSelvedge: true}}},
		{name: "both", draft: schema.Draft{Threading: schema.Singles(1, 0, 2)},
			want: []string{"thread: end 2 is on no shaft; thread it, or take it out", noLifts}},
		{name: "an end that is never lifted", draft: schema.Draft{Threading: schema.Singles(1, 2, 3), LiftPlan: plain},
			want: []string{"thread: end 3 stays on one side of every pick and would not be woven in; look what lifts the shafts there"}},
		{name: "a pick that lifts all", draft: schema.Draft{Threading: schema.Singles(1, 2), LiftPlan: schema.RowsOf([]int32{1}, []int32{2}, []int32{1, 2})},
			want: []string{"weave: pick 3 stays on one side of every end and would not be woven in; look what lifts the shafts there"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			var got []string
			for _, f := range Faults(&row.draft, &row.setup, cloth.Of(&row.draft)) {
				got = append(got, f.Step+": "+f.Text)
			}
			if !slices.Equal(got, row.want) {
				t.Errorf("%q, want %q", got, row.want)
			}
		})
	}
}

func TestUnstated(t *testing.T) {
	s := &schema.Setup{Given: map[string]schema.Origin{"project.take-up": {}, "project.shrinkage weft": {}, "project.loom waste": {}}}
	want := []string{"[project] shrinkage warp", "[project] weft take-up", "[project] draw-in"}
	if got := Unstated(s); !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// A cloth of which so many ends and picks differ that going through it would
// take hours is planned all the same.
func TestPlanOfTooLargeCloth(t *testing.T) {
	const n = 100_000 // each end on a shaft of its own, each pick lifting another
	d := &schema.Draft{}
	for i := range n {
		d.Threading.AppendOne(int32(i + 1))
		d.LiftPlan.AppendOne(int32(i + 1))
	}
	p, err := For(d, &schema.Setup{}, Options{})
	if err != nil || len(p.Faults) != 0 || p.Selvedge == nil || p.Selvedge.Turns != n-1 {
		t.Errorf("%v: %+v %+v", err, p.Faults, p.Selvedge)
	}
}
