package fitting

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"fettle/corpus"
	"fettle/schema"
	"fettle/schema/cloth"
)

// checkFit checks that a result fits its loom and weaves the same cloth, or gives a valid
// reason.
func checkFit(t rapid.TB, d *schema.Draft, loom Loom, r *Result) {
	t.Helper()
	if r.Fits != (len(r.Why) == 0) || r.Fits != (r.Draft != nil) {
		t.Fatalf("fits %v, why %v", r.Fits, r.Why)
	}
	if r.Treadles.AtLeast > r.Treadles.Fewest || r.Treadles.Proved != (r.Treadles.AtLeast == r.Treadles.Fewest) {
		t.Fatalf("treadles %+v", r.Treadles)
	}
	if !r.Fits {
		if r.Threading != nil || r.Tieup != nil {
			t.Fatalf("changes of a draft that doesn't fit: %+v, %+v", r.Threading, r.Tieup)
		}
		checkWhy(t, d, loom, r)
		return
	}
	out := r.Draft
	if cloth.Of(out).Identity() != cloth.Of(d).Identity() {
		t.Fatal("a different cloth")
	}
	if len(r.Changed) == 0 && (!out.Threading.Equal(d.Threading) || !out.Tieup.Equal(d.Tieup) || !out.Treadling.Equal(d.Treadling) || !out.LiftPlan.Equal(d.LiftPlan)) {
		t.Fatal("Changed lacks a change")
	}
	if loom.Shafts > 0 && out.HighestShaft() > loom.Shafts {
		t.Fatalf("shaft %d of %d; %v", out.HighestShaft(), loom.Shafts, r.Changed)
	}
	if got := len(out.Treadling.Different()); out.LiftPlan.Len() == 0 && r.Treadles.Result != got && got > 0 {
		t.Fatalf("%d treadles are pressed, but Result is %d", got, r.Treadles.Result)
	}
	if loom.TreadlesKnown {
		if loom.Treadles == 0 && out.LiftPlan.Len() == 0 && out.Treadling.Count() > 0 || loom.Treadles > 0 && out.HighestTreadle() > loom.Treadles {
			t.Fatalf("treadle %d of %d", out.HighestTreadle(), loom.Treadles)
		}
		for pick := 1; loom.Treadles > 0 && pick <= out.Picks(); pick++ {
			movesAnEnd := slices.ContainsFunc(cloth.Of(out).LiftOf(pick), func(s int32) bool { return slices.Contains(out.Threading.Different(), s) })
			if len(out.Treadling.Row(pick)) > max(loom.AtOnce, 1) && movesAnEnd {
				t.Fatalf("pick %d presses %v", pick, out.Treadling.Row(pick))
			}
		}
	}
	if loom.Shed == schema.Rising && out.Shed == schema.Sinking || loom.Shed == schema.Sinking && out.Shed != schema.Sinking {
		t.Fatalf("shed %v on a loom %v", out.Shed, loom.Shed)
	}
	checkShown(t, d, r)
	for _, h := range r.Heddles {
		if h.short() {
			t.Fatalf("shaft %d needs %d of %d heddles", h.Shaft, h.Needed, *h.Available)
		}
	}
}

// checkShown checks that the listed changes lead from the old threading and tie-up to the
// new ones.
func checkShown(t rapid.TB, d *schema.Draft, r *Result) {
	t.Helper()
	moved := map[string]int{}
	for end := 1; end <= d.Threading.Len(); end++ {
		if from, to := d.Threading.Row(end), r.Draft.Threading.Row(end); !slices.Equal(from, to) {
			moved[fmt.Sprint(from, to)]++
		}
	}
	if (r.Threading == nil) != (len(moved) == 0) {
		t.Fatalf("%+v for the moves %v", r.Threading, moved)
	}
	if r.Threading != nil {
		if r.Threading.Groups != len(moved) || len(r.Threading.Moves) != len(moved) {
			t.Fatalf("%+v for the moves %v", r.Threading, moved)
		}
		for _, m := range r.Threading.Moves {
			if moved[fmt.Sprint(m.From, m.To)] != m.Ends || !slices.Equal(d.Threading.Row(m.First), m.From) || !slices.Equal(r.Draft.Threading.Row(m.First), m.To) {
				t.Fatalf("%+v for the moves %v", m, moved)
			}
		}
	}
	if (r.Tieup == nil) != d.Tieup.Equal(r.Draft.Tieup) {
		t.Fatalf("the tie-up %+v", r.Tieup)
	}
	if r.Tieup == nil {
		return
	}
	for _, side := range []struct {
		rows schema.Rows
		ties Ties
	}{{d.Tieup, r.Tieup.Before}, {r.Draft.Tieup, r.Tieup.After}} {
		if side.rows.Count() == 0 {
			side.rows = schema.Rows{}
		}
		if got := schema.RowsOf(side.ties.Shafts...); side.ties.Treadles != side.rows.Len() || !got.Equal(side.rows) {
			t.Fatalf("the ties %+v of %v", side.ties, side.rows)
		}
		for i, down := range side.ties.Down {
			if slices.ContainsFunc(down, func(s int32) bool { return slices.Contains(side.ties.Shafts[i], s) }) {
				t.Fatalf("treadle %d ties a shaft up and down: %+v", i+1, side.ties)
			}
		}
	}
}

// TestFitListsFew bounds what a result lists of a draft with thousands of shafts and
// treadles.
func TestFitListsFew(t *testing.T) {
	const many = 3_000
	d := &schema.Draft{}
	for n := int32(1); n <= many; n++ {
		d.Threading.Append(many + n)
		d.Tieup.Append(many+n, many+n%many+1)
		d.Treadling.Append(n)
	}
	r, err := Fit(d, Loom{Shafts: many, Treadles: many, TreadlesKnown: true})
	if err != nil || !r.Fits {
		t.Fatal(r, err)
	}
	if r.Threading.Groups != many || len(r.Threading.Moves) != mostRows {
		t.Errorf("%d groups, %d listed", r.Threading.Groups, len(r.Threading.Moves))
	}
	if after := r.Tieup.After; after.Treadles != many || len(after.Shafts) != mostRows {
		t.Errorf("%d treadles, %d listed", after.Treadles, len(after.Shafts))
	}
	var wide schema.Rows
	for range 20 {
		wide.Append(numbers32(many)...)
	}
	if ties := tiesOf(&wide, nil); ties.Treadles != 20 || len(ties.Shafts) != mostNumbers/many {
		t.Errorf("%d treadles, %d listed", ties.Treadles, len(ties.Shafts))
	}
}

func numbers32(n int) []int32 {
	list := make([]int32, n)
	for i := range list {
		list[i] = int32(i + 1)
	}
	return list
}

// checkWhy checks that the named ends and lifts differ.
func checkWhy(t rapid.TB, d *schema.Draft, loom Loom, r *Result) {
	t.Helper()
	c := cloth.Of(d)
	for _, why := range r.Why {
		if why.Needed <= why.Available {
			t.Fatalf("%+v", why)
		}
		if why.Rule == "loom/too-many-shafts" {
			columns := map[string]bool{}
			for _, end := range why.Ends {
				var column []byte
				for pick := 1; pick <= d.Picks(); pick++ {
					column = fmt.Append(column, c.Up(end, pick))
				}
				columns[string(column)] = true
			}
			if len(columns) != why.Needed || len(why.Ends) != why.Needed {
				t.Fatalf("%d different ends: %+v", len(columns), why)
			}
		}
		if why.Rule == "loom/too-many-treadles" && len(why.Lifts) == 0 {
			t.Fatalf("%+v", why)
		}
	}
}

// anyDraft draws a draft with ends on no shaft or several, either shed, and treadles, a
// lift plan or both.
func anyDraft(t *rapid.T) *schema.Draft {
	shafts, treadles := rapid.IntRange(1, 9).Draw(t, "shafts"), rapid.IntRange(1, 9).Draw(t, "treadles")
	rows := func(name string, n, most, highest int) (out schema.Rows) {
		for range n {
			out.Append(rapid.SliceOfN(rapid.Int32Range(0, int32(highest)), min(1, most-1), most).Draw(t, name)...)
		}
		return out
	}
	ends, picks := rapid.IntRange(1, 30).Draw(t, "ends"), rapid.IntRange(1, 20).Draw(t, "picks")
	d := &schema.Draft{Shed: rapid.SampledFrom([]schema.Shed{schema.ShedUnstated, schema.Rising, schema.Sinking}).Draw(t, "shed")}
	d.Threading = rows("threading", ends, rapid.IntRange(1, 2).Draw(t, "most shafts"), shafts)
	switch rapid.IntRange(0, 2).Draw(t, "lifts") {
	case 0:
		d.LiftPlan = rows("lift plan", picks, shafts, shafts)
	case 1:
		d.LiftPlan = rows("lift plan", picks, shafts, shafts)
		fallthrough
	default:
		d.Tieup = rows("tie-up", treadles, shafts, shafts)
		d.Treadling = rows("treadling", picks, rapid.IntRange(1, 3).Draw(t, "at once"), treadles)
	}
	d.Warp.Threads, d.Weft.Threads = ends, picks
	return d
}

func anyLoom(t *rapid.T) Loom {
	loom := Loom{
		steps:  200,
		Shafts: rapid.IntRange(0, 10).Draw(t, "loom shafts"), TreadlesKnown: rapid.Bool().Draw(t, "known"),
		AtOnce: rapid.IntRange(0, 3).Draw(t, "loom at once"),
		Shed:   rapid.SampledFrom([]schema.Shed{schema.ShedUnstated, schema.Rising, schema.Sinking, schema.Balanced, schema.Countermarch}).Draw(t, "loom shed"),
	}
	if loom.TreadlesKnown {
		loom.Treadles = rapid.IntRange(0, 9).Draw(t, "loom treadles")
	}
	if rapid.Bool().Draw(t, "heddles") {
		loom.Heddles = schema.Heddles{Known: true, Each: rapid.IntRange(1, 12).Draw(t, "each"), ByShaft: map[int]int{2: rapid.IntRange(0, 20).Draw(t, "on 2")}}
	}
	return loom
}

// TestFitKeepsCloth fits random drafts to random looms.
func TestFitKeepsCloth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, loom := anyDraft(t), anyLoom(t)
		loom.WarpEnds = d.Ends() * rapid.IntRange(0, 2).Draw(t, "repeats")
		r, err := Fit(d, loom)
		if err != nil {
			t.Fatal(err)
		}
		checkFit(t, d, loom, r)
		if !r.Fits {
			return
		}
		checkFitAgain(t, r.Draft, loom)
	})
}

// checkFitAgain checks that fitting a fitted draft changes nothing.
func checkFitAgain(t rapid.TB, fitted *schema.Draft, loom Loom) {
	t.Helper()
	again, err := Fit(fitted, loom)
	if err != nil {
		t.Fatal(err)
	}
	if len(again.Changed) > 0 || !again.Fits {
		t.Fatalf("the second fit changed %v, why %v", again.Changed, again.Why)
	}
}

// TestFitAgainCountermarch fits two blocks with three lifts each to a countermarch. Nine
// lifts need six treadles, one for each foot. Fitting again keeps the tie-up.
func TestFitAgainCountermarch(t *testing.T) {
	d := &schema.Draft{Threading: schema.Singles(1, 2, 3, 4, 1, 2, 3, 4)}
	for _, left := range [][]int32{{1}, {2}, {1, 2}} {
		for _, right := range [][]int32{{3}, {4}, {3, 4}} {
			d.LiftPlan.Append(slices.Concat(left, right)...)
		}
	}
	loom := Loom{Shafts: 4, Treadles: 6, TreadlesKnown: true, AtOnce: 2, Shed: schema.Countermarch}
	r, err := Fit(d, loom)
	if err != nil || !r.Fits || r.Draft.Treadling.Count() != 2*d.Picks() {
		t.Fatalf("%+v, %v", r, err)
	}
	checkFitAgain(t, r.Draft, loom)

	stuck := *r.Draft // treadle 1 ties down nothing if pressed with 2, and all if pressed alone
	stuck.Tieup = schema.RowsOf([]int32{1}, []int32{2, 3, 4})
	stuck.Treadling = schema.RowsOf([]int32{1, 2}, []int32{1}, []int32{2})
	stuck.Weft.Threads = 3
	if r, err = Fit(&stuck, loom); err != nil || !r.Fits || !slices.Equal(r.Changed, []Change{Treadles}) {
		t.Fatalf("%+v, %v", r, err)
	}
}

// TestFitGenerated fits 200 plausible drafts, and 2,000 with -long.
func TestFitGenerated(t *testing.T) {
	drafts := uint64(200)
	if *long {
		drafts = 2000
	}
	for seed := range drafts {
		d := corpus.Generate(seed, corpus.GenOptions{Ends: 60, Picks: 40, Shafts: 4 + int(seed%9), LiftPlan: seed%3 == 0, Sinking: seed%5 == 0})
		loom := Loom{Shafts: 4 + int(seed%7), Treadles: int(seed % 12), TreadlesKnown: true, AtOnce: 1 + int(seed%2), Shed: schema.Rising, steps: 50,
			Heddles: schema.Heddles{Known: seed%2 == 0, Each: 12}}
		r, err := Fit(d, loom)
		if err != nil {
			t.Fatal(err)
		}
		checkFit(t, d, loom, r)
	}
}

// TestFitChanges checks each change that Fit makes, the smallest first.
func TestFitChanges(t *testing.T) {
	twill := func() *schema.Draft {
		return &schema.Draft{Threading: schema.Singles(1, 2, 3, 4, 1, 2, 3, 4), Tieup: schema.RowsOf([]int32{1, 2}, []int32{2, 3}, []int32{3, 4}, []int32{1, 4}, []int32{1, 3}, []int32{2, 4}),
			Treadling: schema.Singles(1, 2, 3, 4, 5, 6)}
	}
	doubled := twill()
	doubled.Threading = schema.Singles(1, 2, 3, 4, 5, 6, 7, 8)
	doubled.Tieup = schema.RowsOf([]int32{1, 2, 5, 6}, []int32{2, 3, 6, 7}, []int32{3, 4, 7, 8}, []int32{1, 4, 5, 8}, []int32{1, 3, 5, 7}, []int32{2, 4, 6, 8})
	each := func(n int) schema.Heddles { return schema.Heddles{Known: true, Each: n} }
	for _, c := range []struct {
		name      string
		draft     *schema.Draft
		loom      Loom
		changed   []Change
		threading []int32 // nil: as before
		treadles  int
	}{
		{"fits", twill(), Loom{Shafts: 4, Treadles: 6, TreadlesKnown: true}, nil, nil, 6},
		{"nothing is known", twill(), Loom{}, nil, nil, 6},
		{"a dobby", twill(), Loom{Shafts: 4, TreadlesKnown: true}, []Change{Lifts}, nil, 0},
		{"a sinking loom", twill(), Loom{Shafts: 4, Shed: schema.Sinking}, []Change{Shed}, nil, 6},
		{"fewer shafts", doubled, Loom{Shafts: 4}, []Change{Shafts}, []int32{1, 2, 3, 4, 1, 2, 3, 4}, 6},
		{"two feet", twill(), Loom{Shafts: 4, Treadles: 4, TreadlesKnown: true, AtOnce: 2}, []Change{Treadles}, nil, 4},
		{"heddles", twill(), Loom{Shafts: 8, Heddles: each(1)}, []Change{Heddles}, []int32{1, 2, 3, 4, 5, 6, 7, 8}, 6},
		{"all of it", doubled, Loom{Shafts: 5, Treadles: 4, TreadlesKnown: true, AtOnce: 2, Shed: schema.Sinking, Heddles: schema.Heddles{Known: true, Each: 2}}, []Change{Shed, Shafts, Treadles}, []int32{1, 2, 3, 4, 1, 2, 3, 4}, 4},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, err := Fit(c.draft, c.loom)
			if err != nil {
				t.Fatal(err)
			}
			checkFit(t, c.draft, c.loom, r)
			if !r.Fits || !slices.Equal(r.Changed, c.changed) || r.Treadles.Result != c.treadles {
				t.Fatalf("%+v", r)
			}
			want := c.draft.Threading
			if c.threading != nil {
				want = schema.Singles(c.threading...)
			}
			if !r.Draft.Threading.Equal(want) {
				t.Errorf("threading %v", r.Draft.Threading)
			}
		})
	}
}

// TestFitRefuses checks the reasons for drafts that can't be fitted.
func TestFitRefuses(t *testing.T) {
	d := &schema.Draft{Threading: schema.Singles(1, 2, 3, 4, 1, 2, 3, 4), LiftPlan: schema.RowsOf([]int32{1, 2}, []int32{2, 3}, []int32{3, 4}, []int32{1, 4})}
	for _, c := range []struct {
		name string
		loom Loom
		want Reason
	}{
		{"shafts", Loom{Shafts: 3}, Reason{Rule: "loom/too-many-shafts", Needed: 4, Available: 3, Ends: []int{1, 2, 3, 4}}},
		{"treadles", Loom{Shafts: 4, Treadles: 3, TreadlesKnown: true}, Reason{Rule: "loom/too-many-treadles", Needed: 4, Available: 3, Lifts: []int{1, 2, 3, 4}, MoreAtOnce: true}},
		{"treadles with two feet", Loom{Shafts: 4, Treadles: 3, TreadlesKnown: true, AtOnce: 2}, Reason{Rule: "loom/too-many-treadles", Needed: 4, Available: 3, Lifts: []int{1, 2, 3, 4}}},
		{"heddles", Loom{Shafts: 4, Heddles: schema.Heddles{Known: true, Each: 2, ByShaft: map[int]int{3: 1}}}, Reason{Rule: "loom/missing-heddles", Needed: 2, Available: 1, Shaft: 3}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, err := Fit(d, c.loom)
			if err != nil {
				t.Fatal(err)
			}
			checkFit(t, d, c.loom, r)
			if len(r.Why) != 1 || fmt.Sprint(r.Why[0]) != fmt.Sprint(c.want) {
				t.Errorf("why %+v", r.Why)
			}
		})
	}
}

// TestHeddlesOnMissingShafts checks that shafts that the loom lacks have no heddles, although
// a setting for each shaft would give them some.
func TestHeddlesOnMissingShafts(t *testing.T) {
	d := &schema.Draft{Threading: schema.Singles(1, 2, 3, 4), LiftPlan: schema.RowsOf([]int32{1, 2}, []int32{2, 3}, []int32{3, 4}, []int32{1, 4})}
	r, err := Fit(d, Loom{Shafts: 3, Heddles: schema.Heddles{Known: true, Each: 20}})
	if err != nil || r.Fits || len(r.Heddles) < 4 {
		t.Fatalf("%+v, %v", r, err)
	}
	for _, h := range r.Heddles {
		if (h.Available != nil) != (h.Shaft <= 3) {
			t.Errorf("shaft %d: %v", h.Shaft, h.Available)
		}
	}
}

// TestFitHostile fits a draft far too large for any loom. Fit ends soon and claims no
// proof.
func TestFitHostile(t *testing.T) {
	d := &schema.Draft{}
	shafts, picks := 1_000, 3_000
	if *long {
		shafts, picks = 2_000, 100_000
	}
	for end := range 2 * shafts {
		d.Threading.AppendOne(int32(end%shafts + 1))
	}
	for pick := range picks {
		d.LiftPlan.Append(int32(pick%shafts+1), int32(pick*7%(shafts-1)+1), int32(pick/shafts+1), int32(pick*shafts/picks+1))
	}
	start := time.Now()
	r, err := Fit(d, Loom{Shafts: shafts, Treadles: shafts / 2, TreadlesKnown: true, AtOnce: 2, Heddles: schema.Heddles{Known: true, Each: 1, ByShaft: map[int]int{7: 5000}}})
	if err != nil {
		t.Fatal(err)
	}
	if r.Treadles.Proved || r.Fits {
		t.Errorf("%+v", r.Treadles)
	}
	if took := time.Since(start); took > time.Minute {
		t.Errorf("it took %v", took)
	}
}

func FuzzFit(f *testing.F) {
	f.Add([]byte{1, 2, 3, 4}, []byte{3, 6, 12, 9}, 4, 4, 2, uint8(1), 2)
	f.Add([]byte{1, 2, 3, 4, 5, 6, 7, 8}, []byte{255, 15}, 3, 0, 1, uint8(4), 1)
	f.Fuzz(func(t *testing.T, threading, lifts []byte, shafts, treadles, atOnce int, shed uint8, each int) {
		if len(threading) > 200 || len(lifts) > 200 || treadles < 0 || shafts < 0 || atOnce < 0 || each < 0 {
			return
		}
		d := &schema.Draft{}
		for _, s := range threading {
			d.Threading.AppendOne(int32(s % 9))
		}
		for _, lift := range lifts {
			d.LiftPlan.Append(rowOf(uint64(lift), []int32{1, 2, 3, 4, 5, 6, 7, 8})...)
		}
		loom := Loom{Shafts: shafts, Treadles: treadles, TreadlesKnown: true, AtOnce: atOnce % 4, Shed: schema.Shed(shed % 5), steps: 200,
			Heddles: schema.Heddles{Known: each > 0, Each: each}}
		r, err := Fit(d, loom)
		if err != nil {
			return
		}
		checkFit(t, d, loom, r)
		if r.Fits {
			checkFitAgain(t, r.Draft, loom)
		}
	})
}
