package cloth

import (
	"testing"

	"fettle/schema"
)

// TestFloatingSelvedges checks that outermost ends on no shaft float only if the weft
// doesn't go round them.
func TestFloatingSelvedges(t *testing.T) {
	for _, c := range []struct {
		name      string
		threading []int32
		want      int // the longest float of the warp on the back
	}{
		{"at both edges", []int32{0, 1, 2, 1, 2, 0}, 1},
		{"at one edge", []int32{1, 2, 1, 2, 0}, 1},
		{"none", []int32{1, 2, 1, 2}, 1},
		{"one inside too", []int32{0, 1, 0, 2, 0}, 6},
	} {
		for _, shed := range []schema.Shed{schema.Rising, schema.Sinking} {
			d := &schema.Draft{Shed: shed, Threading: schema.Singles(c.threading...)}
			for pick := range 6 {
				d.LiftPlan.AppendOne(int32(pick%2) + 1)
			}
			if got := Of(d).Floats(FloatQuery{FloatingSelvedge: true}).Warp.Back.Threads; got != c.want {
				t.Errorf("%s, %v: %d, want %d", c.name, shed, got, c.want)
			}
			if got := Of(d).Floats(FloatQuery{}).Warp.Back.Threads; c.name != "none" && got != 6 {
				t.Errorf("%s, %v, without floating selvedges: %d, want 6", c.name, shed, got)
			}
		}
	}
}
