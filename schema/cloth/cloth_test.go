package cloth

import (
	"crypto/sha256"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"fettle/schema"
)

var long = flag.Bool("long", false, "try more drafts, and every grid of 5 by 4")

// TestAgreesWithGrid compares all figures with those of the expanded grid.
func TestAgreesWithGrid(t *testing.T) {
	seen := map[string]int{}
	drafts := 1_500
	if *long {
		drafts = 20_000
	}
	for seed := range uint64(drafts) {
		r := rand.New(rand.NewPCG(seed, 1))
		d := randomDraft(r)
		if !agrees(t, d, r, seen) {
			t.Fatalf("seed %d: %+v", seed, d)
		}
	}
	// The drafts must cover all kinds of cloth.
	for _, what := range []string{"falls apart", "two layers", "loose", "conflict", "too long", "uneven", "shortened by a cut", "sinking", "joined"} {
		if seen[what] < drafts/100 {
			t.Errorf("only %d of the drafts: %s", seen[what], what)
		}
	}
	t.Log(seen)
}

// TestAgreesWithGridRapid does the same with seeds that rapid can shrink.
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
	g, ends := gridOf(d)
	c := &comparison{t: t, draft: d, cloth: Of(d), grid: g, ends: ends, columns: g.lines(true, ends), rows: g.lines(false, ends), seen: seen, good: true}
	c.crossings()
	c.repeats()
	c.floats(r)
	c.repeatedFloats(r)
	c.parts()
	c.lifts()
	c.keys()
	c.note("sinking", d.Shed == schema.Sinking)
	c.note("joined", len(c.cloth.lifts) > len(c.cloth.weft.first))
	return c.good
}

// comparison compares a cloth with its grid.
type comparison struct {
	t             *testing.T
	draft         *schema.Draft
	cloth         *Cloth
	grid          grid
	ends          int
	columns, rows [][]bool
	seen          map[string]int // the number of cloths of each kind
	good          bool
}

func (c *comparison) check(name string, got, want any) {
	c.t.Helper()
	if diff := cmp.Diff(want, got); diff != "" {
		c.t.Errorf("%s (-want +got):\n%s", name, diff)
		c.good = false
	}
}

func (c *comparison) note(what string, yes bool) {
	if yes {
		c.seen[what]++
	}
}

func (c *comparison) crossings() {
	c.check("ends", c.cloth.Ends(), c.ends)
	c.check("picks", c.cloth.Picks(), len(c.grid))
	c.check("identity", c.cloth.Identity(), c.grid.identity())
	up := 0
	for p, row := range c.grid {
		for e, over := range row {
			if c.cloth.Up(e+1, p+1) != over {
				c.check("up", [3]int{e + 1, p + 1, 1}, [3]int{e + 1, p + 1, 0})
			}
			if over {
				up++
			}
		}
	}
	share := 0.0
	if n := c.ends * len(c.grid); n > 0 {
		share = float64(up) / float64(n)
	}
	c.check("warp up", c.cloth.warpUp(), share)
}

// repeats compares the repeat and what is counted in it.
func (c *comparison) repeats() {
	ends, picks := c.cloth.Repeat()
	c.check("repeat", [2]int{ends, picks}, [2]int{naivePeriod(c.columns), naivePeriod(c.rows)})
	warp := naiveIntersections(c.columns, ends, picks)
	c.check("warp intersections", c.cloth.intersections(schema.Warp), warp)
	c.check("weft intersections", c.cloth.intersections(schema.Weft), naiveIntersections(c.rows, picks, ends))
	value := 0.0
	for _, n := range warp {
		if picks > 0 {
			value += float64(picks) / float64(picks+n) / float64(ends)
		}
	}
	if math.Abs(c.cloth.WeftWeaveValue()-value) > 1e-12 {
		c.check("weave value", c.cloth.WeftWeaveValue(), value)
	}
}

// repeatedFloats compares floats of a draft that is repeated in part with those of the
// whole cloth thread by thread.
func (c *comparison) repeatedFloats(r *rand.Rand) {
	if c.ends == 0 || len(c.grid) == 0 {
		return
	}
	q := FloatQuery{Warp: Measure{LimitThreads: 2}, Weft: Measure{LimitThreads: 2}, Ends: c.ends + r.IntN(c.ends), Picks: len(c.grid) + r.IntN(len(c.grid))}
	rows, columns := extended(c.rows, q.Ends), extended(c.columns, q.Picks)
	want := Floats{
		Warp: Sides{naiveFloat(columns, true, q.Warp, false), naiveFloat(columns, false, q.Warp, false)},
		Weft: Sides{naiveFloat(rows, false, q.Weft, false), naiveFloat(rows, true, q.Weft, false)},
	}
	for _, f := range []struct {
		float  *Float
		across int
	}{{&want.Warp.Face, len(c.grid)}, {&want.Warp.Back, len(c.grid)}, {&want.Weft.Face, c.ends}, {&want.Weft.Back, c.ends}} {
		if f.float.Threads > 0 {
			f.float.From = (f.float.From-1)%f.across + 1
		}
	}
	if diff := cmp.Diff(want, c.cloth.Floats(q)); diff != "" {
		c.t.Errorf("floats by %+v (-want +got):\n%s", q, diff)
		c.good = false
	}
	c.note("goes on into the next repeat", c.cloth.Floats(FloatQuery{}).Weft.Face.Threads < want.Weft.Face.Threads)
}

// extended repeats lines to a length.
func extended(lines [][]bool, length int) [][]bool {
	var list [][]bool
	for _, line := range lines {
		list = append(list, slices.Concat(line, line[:length-len(line)]))
	}
	return list
}

// floats compares floats by random measures, with and without cuts.
func (c *comparison) floats(r *rand.Rand) {
	for range 2 {
		q := FloatQuery{Warp: randomMeasure(r, len(c.grid)), Weft: randomMeasure(r, c.ends), Wrap: r.IntN(2) == 0}
		if r.IntN(2) == 0 {
			q.Cuts = randomCuts(r, len(c.grid))
		}
		wrap := q.Wrap && len(q.Cuts) == 0
		want := Floats{
			Warp: Sides{naiveFloat(c.columns, true, q.Warp, wrap, q.Cuts...), naiveFloat(c.columns, false, q.Warp, wrap, q.Cuts...)},
			Weft: Sides{naiveFloat(c.rows, false, q.Weft, q.Wrap), naiveFloat(c.rows, true, q.Weft, q.Wrap)},
		}
		near := cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 1e-9 })
		if diff := cmp.Diff(want, c.cloth.Floats(q), near); diff != "" {
			c.t.Errorf("floats by %+v (-want +got):\n%s", q, diff)
			c.good = false
		}
		c.note("too long", want.Warp.Face.Over > 0)
		c.note("shortened by a cut", want.Warp.Face.Threads < c.cloth.Floats(FloatQuery{Warp: q.Warp}).Warp.Face.Threads)
		c.note("uneven", q.Warp.Spacings != nil && q.Warp.LimitMM > 0)
	}
}

func randomCuts(r *rand.Rand, picks int) (cuts []int) {
	for pick := 1; pick < picks; pick++ {
		if r.IntN(3) == 0 {
			cuts = append(cuts, pick)
		}
	}
	return cuts
}

// parts compares loose threads and parts.
func (c *comparison) parts() {
	loose := naiveLoose(c.columns)
	c.check("loose ends", c.cloth.Loose(schema.Warp), loose)
	c.check("loose picks", c.cloth.Loose(schema.Weft), naiveLoose(c.rows))
	layerEnds, parts := naiveLayers(c.grid, c.ends)
	layers := len(layerEnds)
	c.check("ends of layers", c.cloth.LayerEnds(), layerEnds)
	c.check("layers", c.cloth.Layers(), layers)
	c.check("hangs together", c.cloth.hangsTogether(), parts <= 1)
	if c.ends > 0 && len(c.grid) > 0 {
		p := c.cloth.countParts()
		c.check("parts", [2]int{p.layers, p.all}, [2]int{layers, parts})
	}
	c.check("selvedge", c.cloth.Selvedge(), naiveSelvedge(c.grid, c.ends))
	c.note("falls apart", parts > 1 && layers > 0)
	c.note("two layers", layers > 1)
	c.note("loose", len(loose) > 0)
}

func (c *comparison) lifts() {
	d := c.draft
	distinct := map[string]bool{}
	var conflicts []int
	both := d.LiftPlan.Len() > 0 && d.Treadling.Count() > 0 && d.Tieup.Count() > 0
	for p := 1; p <= d.Picks(); p++ {
		lift := naiveLift(d, p)
		if !slices.Equal(c.cloth.LiftOf(p), lift) {
			c.check("lift", c.cloth.LiftOf(p), lift)
		}
		if len(lift) > 0 {
			distinct[fmt.Sprint(lift)] = true
		}
		if both && !slices.Equal(lift, naiveTrodden(d, p)) {
			conflicts = append(conflicts, p)
		}
	}
	c.check("distinct lifts", c.cloth.DistinctLifts(), len(distinct))
	c.check("lift conflicts", c.cloth.LiftConflicts(), conflicts)
	c.note("conflict", len(conflicts) > 0)
}

// keys compares the key of each view with that of a draft of the view.
func (c *comparison) keys() {
	keys := c.cloth.Keys()
	for v := range View(len(keys)) {
		c.check("key "+v.String(), keys[v], Of(draftOf(c.grid.seen(v), c.ends)).Keys()[0])
	}
}

// TestKeysTellApart checks that only different cloths have different keys.
func TestKeysTellApart(t *testing.T) {
	byKey := map[Key][32]byte{}
	byCloth := map[[32]byte]Key{}
	for seed := range uint64(4000) {
		c := Of(randomDraft(rand.New(rand.NewPCG(seed, 3))))
		if c.Ends() == 0 {
			continue // without picks, the identity doesn't depend on the ends
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

// TestSameEveryRun checks that keys don't depend on the random seed.
func TestSameEveryRun(t *testing.T) {
	d := straight(4, 8, 8, []int{0, 1})
	a, b := Of(d), Of(d)
	if a.seed == b.seed {
		t.Fatal("two cloths have the same seed")
	}
	if a.Keys() != b.Keys() {
		t.Error("keys depend on the seed")
	}
}

// TestRowsBeyondKept expands more recurring rows than are kept.
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
	if len(c.weft.first)*ends < maxKept {
		t.Fatalf("only %d rows: they are all kept", len(c.weft.first))
	}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	got := c.Identity()
	runtime.ReadMemStats(&after)
	if !slices.Equal(hash.Sum(nil), got[:]) {
		t.Error("the rows are not those of the cloth")
	}
	if took := after.TotalAlloc - before.TotalAlloc; took > maxKept+maxKept/8 {
		t.Errorf("took %d bytes to keep %d", took, maxKept)
	}
	for pick := range c.Rows() { // the loop may end early
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
			t.Errorf("end %d is up at pick %d, outside the cloth", at[0], at[1])
		}
	}
	if !c.Up(1, 1) {
		t.Error("end 1 is down, although the sinking shed names none of its shafts")
	}
}

// straight returns a draft on a straight draw: pick p lifts the shafts in up, counted from
// 0 and moved on by p.
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
