package cloth

import (
	"runtime"
	"slices"
	"testing"

	"fettle/schema"
)

// TestHostile checks that small drafts with large numbers take little memory.
func TestHostile(t *testing.T) {
	const n = 20_000
	for _, x := range []struct {
		name  string
		draft func() *schema.Draft
		most  uint64 // bytes
		lifts int
	}{
		{"a treadle tied to every shaft in every pick", func() *schema.Draft {
			d := straight(n, n, 0, nil)
			d.Tieup.Append(upward(n)...)
			for k := range n - 1 {
				d.Tieup.Append(int32(k + 1))
				d.Treadling.Append(1, int32(k+2))
			}
			return d
		}, 16 << 20, 1},
		{"a lift plan beside such a tie-up", func() *schema.Draft {
			d := &schema.Draft{Threading: schema.Singles(1)}
			d.Tieup.Append(upward(n)...)
			for k := range n {
				d.Tieup.Append(int32(k + 1))
				d.Treadling.Append(1, int32(k+2))
				d.LiftPlan.Append(int32(k + 1))
			}
			return d
		}, 16 << 20, n},
		{"a shaft an end", func() *schema.Draft { return straight(10*n, 10*n, 2, []int{0, 5}) }, 64 << 20, 2},
		{"a treadle a pick", func() *schema.Draft {
			d := straight(2, 2, 0, nil)
			for k := range n {
				d.Tieup.Append(int32(k%2) + 1)
				d.Treadling.Append(int32(k) + 1)
			}
			return d
		}, 16 << 20, 2},
		{"hardly any rows", func() *schema.Draft {
			d := straight(2, 2, 2, []int{0})
			d.Warp.Threads, d.Weft.Threads = 50*n, 50*n
			return d
		}, 256 << 20, 2},
		{"the highest numbers", func() *schema.Draft {
			d := &schema.Draft{Threading: schema.RowsOf([]int32{1<<31 - 1}, []int32{-1 << 31}, []int32{-5, 7})}
			d.Tieup = schema.RowsOf([]int32{1<<31 - 1, -5})
			d.Treadling = schema.RowsOf([]int32{1, 1<<31 - 1, -7}, []int32{-1 << 31})
			return d
		}, 1 << 20, 1},
		{"negative numbers", func() *schema.Draft {
			return &schema.Draft{
				Threading: schema.Singles(1, -5), Tieup: schema.Singles(1, -5), Treadling: schema.Singles(1, 2, -9),
			}
		}, 1 << 20, 2},
	} {
		t.Run(x.name, func(t *testing.T) {
			d := x.draft()
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			c := Of(d)
			lint(c)
			runtime.ReadMemStats(&after)
			if took := after.TotalAlloc - before.TotalAlloc; took > x.most && !testing.Short() { // the race detector allocates too
				t.Errorf("took %d bytes, more than %d", took, x.most)
			}
			if n := c.DistinctLifts(); n != x.lifts {
				t.Errorf("%d lifts, want %d", n, x.lifts)
			}
		})
	}
}

// lint computes everything that linting needs.
func lint(c *Cloth) {
	c.warpUp()
	c.Repeat()
	c.Floats(FloatQuery{Warp: Measure{LimitThreads: 2}, Weft: Measure{Spacing: 1.27, LimitMM: 3}})
	c.Loose(schema.Warp)
	c.Loose(schema.Weft)
	c.Layers()
	c.hangsTogether()
	c.Selvedge()
	c.WeftWeaveValue()
	c.LiftConflicts()
	c.DistinctLifts()
	c.Keys()
}

// upward returns 1 to n.
func upward(n int) []int32 {
	list := slices.Clone(countTo(n))
	for i := range list {
		list[i]++
	}
	return list
}
