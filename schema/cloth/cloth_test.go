package cloth

import (
	"crypto/sha256"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"fettle/schema"
)

// TestAgreesWithGrid holds every figure against the grid written out.
func TestAgreesWithGrid(t *testing.T) {
	seen := map[string]int{}
	for seed := range uint64(10_000) {
		r := rand.New(rand.NewPCG(seed, 1))
		d := randomDraft(r)
		if !agrees(t, d, r, seen) {
			t.Fatalf("seed %d: %+v", seed, d)
		}
	}
	// The drafts must reach what they are meant to try.
	for _, what := range []string{"fell apart", "two layers", "loose", "conflict", "too long", "uneven", "sinking", "joined"} {
		if seen[what] < 50 {
			t.Errorf("only %d of the drafts: %s", seen[what], what)
		}
	}
	t.Log(seen)
}

// TestAgreesWithGridRapid does the same from seeds that rapid can make small.
func TestAgreesWithGridRapid(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		seed := rapid.Uint64().Draw(rt, "seed")
		r := rand.New(rand.NewPCG(seed, 2))
		if d := randomDraft(r); !agrees(t, d, r, map[string]int{}) {
			rt.Fatalf("%+v", d)
		}
	})
}

func agrees(t *testing.T, d *schema.Draft, r *rand.Rand, seen map[string]int) bool {
	t.Helper()
	c := Of(d)
	g, ends := gridOf(d)
	good := true
	check := func(name string, got, want any) {
		t.Helper()
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
			good = false
		}
	}
	note := func(what string, yes bool) {
		if yes {
			seen[what]++
		}
	}
	check("ends", c.Ends(), ends)
	check("picks", c.Picks(), len(g))
	check("identity", c.Identity(), g.identity())
	up := 0
	for p, row := range g {
		for e, over := range row {
			if c.Up(e+1, p+1) != over {
				check("up", [3]int{e + 1, p + 1, 1}, [3]int{e + 1, p + 1, 0})
			}
			if over {
				up++
			}
		}
	}
	share := 0.0
	if n := ends * len(g); n > 0 {
		share = float64(up) / float64(n)
	}
	check("warp up", c.WarpUp(), share)

	columns, rows := g.lines(true, ends), g.lines(false, ends)
	re, rp := c.Repeat()
	check("repeat", [2]int{re, rp}, [2]int{naivePeriod(columns), naivePeriod(rows)})
	check("warp intersections", c.Intersections(schema.Warp), naiveIntersections(columns, re, rp))
	weft := naiveIntersections(rows, rp, re)
	check("weft intersections", c.Intersections(schema.Weft), weft)
	value := 0.0
	for _, n := range weft {
		if re > 0 {
			value += float64(re) / float64(re+n) / float64(rp)
		}
	}
	if math.Abs(c.WeaveValue()-value) > 1e-12 {
		check("weave value", c.WeaveValue(), value)
	}

	for range 2 {
		q := FloatQuery{Warp: randomMeasure(r, len(g)), Weft: randomMeasure(r, ends), Wrap: r.IntN(2) == 0}
		want := Floats{
			Warp: Sides{naiveFloat(columns, true, q.Warp, q.Wrap), naiveFloat(columns, false, q.Warp, q.Wrap)},
			Weft: Sides{naiveFloat(rows, false, q.Weft, q.Wrap), naiveFloat(rows, true, q.Weft, q.Wrap)},
		}
		got := c.Floats(q)
		if diff := cmp.Diff(want, got, cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 1e-9 })); diff != "" {
			t.Errorf("floats by %+v (-want +got):\n%s", q, diff)
			good = false
		}
		note("too long", want.Warp.Face.Over > 0)
		note("uneven", q.Warp.Spacings != nil && q.Warp.LimitMM > 0)
	}
	check("loose ends", c.Loose(schema.Warp), naiveLoose(columns))
	check("loose picks", c.Loose(schema.Weft), naiveLoose(rows))

	layers, parts := naiveParts(g, ends)
	check("layers", c.Layers(), layers)
	check("hangs together", c.HangsTogether(), parts <= 1)
	if ends > 0 && len(g) > 0 {
		p := c.fallApart()
		check("parts", [2]int{p.layers, p.all}, [2]int{layers, parts})
	}
	check("selvedge", c.Selvedge(), naiveSelvedge(g, ends))

	distinct := map[string]bool{}
	var conflicts []int
	both := d.LiftPlan.Len() > 0 && d.Treadling.Count() > 0 && d.Tieup.Count() > 0
	for p := 1; p <= d.Picks(); p++ {
		lift := naiveLift(d, p)
		if !slices.Equal(c.LiftOf(p), lift) {
			check("lift", c.LiftOf(p), lift)
		}
		if len(lift) > 0 {
			var key []byte
			for _, s := range lift {
				key = append(key, byte(s), byte(s>>8), byte(s>>16), byte(s>>24))
			}
			distinct[string(key)] = true
		}
		if both && !slices.Equal(lift, naiveTrodden(d, p)) {
			conflicts = append(conflicts, p)
		}
	}
	check("distinct lifts", c.DistinctLifts(), len(distinct))
	check("lift conflicts", c.LiftConflicts(), conflicts)

	keys := c.Keys()
	for v := range View(len(keys)) {
		check("key "+v.String(), keys[v], Of(draftOf(g.seen(v), ends)).Keys()[0])
	}
	note("fell apart", parts > 1 && layers > 0)
	note("two layers", layers > 1)
	note("loose", len(naiveLoose(columns)) > 0)
	note("conflict", len(conflicts) > 0)
	note("sinking", d.Shed == schema.Sinking)
	note("joined", len(c.lifts) > len(c.weft.first))
	return good
}

// TestKeysTellApart: different cloths have different keys, and the same cloth
// drafted otherwise has the same one.
func TestKeysTellApart(t *testing.T) {
	byKey := map[Key][32]byte{}
	byCloth := map[[32]byte]Key{}
	for seed := range uint64(4000) {
		c := Of(randomDraft(rand.New(rand.NewPCG(seed, 3))))
		if c.Ends() == 0 {
			continue // the identity does not tell the ends of a cloth without picks
		}
		key, id := c.Keys()[0], c.Identity()
		if c.Picks() == 0 {
			continue
		}
		if was, ok := byKey[key]; ok && was != id {
			t.Fatalf("seed %d: one key for two cloths", seed)
		}
		if was, ok := byCloth[id]; ok && was != key {
			t.Fatalf("seed %d: two keys for one cloth", seed)
		}
		byKey[key], byCloth[id] = id, key
	}
	if len(byKey) < 1000 {
		t.Errorf("only %d different cloths", len(byKey))
	}
}

// TestSameEveryRun: keys do not hang on the hash drawn for a cloth.
func TestSameEveryRun(t *testing.T) {
	d := straight(4, 8, 8, []int{0, 1})
	a, b := Of(d), Of(d)
	if a.seed == b.seed {
		t.Fatal("two cloths drew the same hash key")
	}
	if a.Keys() != b.Keys() {
		t.Error("keys depend on the hash key")
	}
}

// TestRowsBeyondKept writes out more rows that come again than are held.
func TestRowsBeyondKept(t *testing.T) {
	const lifts, ends = 700, 8000
	d := straight(60, ends, 0, nil)
	d.Shed = schema.Sinking
	for p := range 2 * lifts {
		d.LiftPlan.Append(int32(p%lifts%30+1), int32(p%lifts/30+31))
	}
	c := Of(d)
	hash := sha256.New()
	row := make([]byte, ends+1)
	row[ends] = '\n'
	for pick := 1; pick <= c.Picks(); pick++ {
		for end := 1; end <= ends; end++ {
			row[end-1] = '0'
			if c.Up(end, pick) {
				row[end-1] = '1'
			}
		}
		hash.Write(row)
	}
	if len(c.weft.first)*ends < kept {
		t.Fatalf("only %d rows: they are all held", len(c.weft.first))
	}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	got := c.Identity()
	runtime.ReadMemStats(&after)
	if !slices.Equal(hash.Sum(nil), got[:]) {
		t.Error("the rows are not those of the cloth")
	}
	if took := after.TotalAlloc - before.TotalAlloc; took > kept+kept/8 {
		t.Errorf("took %d bytes to hold %d", took, kept)
	}
	for pick := range c.Rows() { // may be left early
		if pick == 2 {
			break
		}
	}
}

func TestViewString(t *testing.T) {
	want := []string{
		"as drawn", "mirrored", "picks reversed", "mirrored, picks reversed",
		"turned over", "face and back exchanged", "turned over, picks reversed",
		"face and back exchanged, picks reversed",
	}
	for v, word := range want {
		if got := View(v).String(); got != word {
			t.Errorf("view %d is %q, want %q", v, got, word)
		}
	}
}

func TestOutside(t *testing.T) {
	c := Of(&schema.Draft{Shed: schema.Sinking, Threading: schema.Singles(1, 2), Treadling: schema.Singles(1)})
	for _, at := range [][2]int{{0, 1}, {3, 1}, {1, 0}, {1, 2}, {-1, -1}} {
		if c.Up(at[0], at[1]) {
			t.Errorf("end %d is up at pick %d, which is no crossing of this cloth", at[0], at[1])
		}
	}
	if !c.Up(1, 1) {
		t.Error("end 1 is down, though a sinking shed names none of its shafts")
	}
}

// straight is a draft on a straight draw: pick p lifts each of the shafts
// named by up, from 0, moved on by p.
func straight(shafts, ends, picks int, up []int) *schema.Draft {
	d := &schema.Draft{Shafts: shafts}
	for e := range ends {
		d.Threading.Append(int32(e%shafts) + 1)
	}
	for p := range picks {
		var lift []int32
		for _, s := range up {
			lift = append(lift, int32((s+p)%shafts)+1)
		}
		d.LiftPlan.Append(lift...)
	}
	return d
}

func TestIntersectionRate(t *testing.T) {
	satin := &schema.Draft{Threading: schema.Singles(1, 2, 3, 4, 5), LiftPlan: schema.Singles(1, 3, 5, 2, 4)}
	plain := &schema.Draft{Threading: schema.Singles(1, 2), LiftPlan: schema.Singles(1, 2)}
	for name, test := range map[string]struct {
		draft *schema.Draft
		want  float64
	}{"plain weave": {plain, 1}, "5-end satin": {satin, 0.4}, "no cloth": {&schema.Draft{}, 0}} {
		for _, system := range []schema.SystemName{schema.Warp, schema.Weft} {
			if got := Of(test.draft).IntersectionRate(system); got != test.want {
				t.Errorf("%s, %s: %v, want %v", name, system, got, test.want)
			}
		}
	}
}
