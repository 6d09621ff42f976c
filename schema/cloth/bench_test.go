package cloth

import (
	"math/rand/v2"
	"testing"

	"fettle/schema"
)

// benchDrafts returns an ordinary draft, a dobby draft in which no pick recurs, and very
// large ones.
func benchDrafts() []struct {
	name  string
	draft *schema.Draft
} {
	r := rand.New(rand.NewPCG(1, 1))
	twill := straight(8, 400, 0, nil)
	for t := range 8 {
		twill.Tieup.Append(int32(t+1), int32((t+1)%8+1), int32((t+2)%8+1), int32((t+5)%8+1))
	}
	for p := range 400 {
		twill.Treadling.Append(int32(p%8) + 1)
	}
	wild := straight(8, 0, 0, nil)
	for range 400 {
		wild.Threading.Append(int32(r.IntN(8)) + 1)
		wild.LiftPlan.Append(randomLift(r, 8)...)
	}
	dobby := &schema.Draft{}
	for range 600 {
		dobby.Threading.Append(int32(r.IntN(20)) + 1)
		dobby.LiftPlan.Append(randomLift(r, 20)...)
	}
	large := &schema.Draft{}
	for range 16_000 {
		large.Threading.Append(int32(r.IntN(24))+1, int32(r.IntN(24))+1, int32(r.IntN(24))+1, int32(r.IntN(24))+1)
	}
	for range 20_000 {
		large.LiftPlan.Append(int32(r.IntN(24))+1, int32(r.IntN(24))+1, int32(r.IntN(24))+1, int32(r.IntN(24))+1)
	}
	thread := &schema.Draft{}
	for e := range 16_000 {
		thread.Threading.Append(int32(e%3000) + 1)
	}
	for range 20_000 {
		thread.LiftPlan.Append(randomLift(r, 300)...)
	}
	return []struct {
		name  string
		draft *schema.Draft
	}{
		{"400x400on8", twill}, {"400x400on8lifts256", wild}, {"600x600on20", dobby},
		{"16000x20000", large}, {"16000x20000on3000", thread},
	}
}

func randomLift(r *rand.Rand, shafts int) []int32 {
	var lift []int32
	for s := range shafts {
		if r.IntN(2) == 0 {
			lift = append(lift, int32(s+1))
		}
	}
	return lift
}

// BenchmarkAll computes everything that linting needs.
func BenchmarkAll(b *testing.B) {
	bench(b, func(d *schema.Draft, _ *Cloth) { lint(Of(d)) })
}

func BenchmarkOf(b *testing.B) { bench(b, func(d *schema.Draft, _ *Cloth) { Of(d) }) }
func BenchmarkFloats(b *testing.B) {
	bench(b, func(_ *schema.Draft, c *Cloth) { c.Floats(FloatQuery{Warp: Measure{LimitThreads: 2}}) })
}
func BenchmarkLayers(b *testing.B) {
	bench(b, func(_ *schema.Draft, c *Cloth) {
		c.parts, c.warp.up, c.weft.up = partCounts{}, nil, nil
		c.Layers()
	})
}
func BenchmarkRepeat(b *testing.B) {
	bench(b, func(_ *schema.Draft, c *Cloth) { c.repeat = [2]int{}; c.Repeat() })
}
func BenchmarkKeys(b *testing.B) { bench(b, func(_ *schema.Draft, c *Cloth) { c.Keys() }) }
func BenchmarkWeaveValue(b *testing.B) {
	bench(b, func(_ *schema.Draft, c *Cloth) { c.WeftWeaveValue() })
}
func BenchmarkDistinctLifts(b *testing.B) {
	bench(b, func(_ *schema.Draft, c *Cloth) { c.DistinctLifts() })
}
func BenchmarkIdentity(b *testing.B) { bench(b, func(_ *schema.Draft, c *Cloth) { c.Identity() }) }

func bench(b *testing.B, work func(*schema.Draft, *Cloth)) {
	for _, x := range benchDrafts() {
		b.Run(x.name, func(b *testing.B) {
			c := Of(x.draft)
			b.ReportAllocs()
			for b.Loop() {
				work(x.draft, c)
			}
		})
	}
}
