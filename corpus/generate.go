package corpus

import (
	"math/rand/v2"

	"fettle/schema"
)

// GenOptions describes the draft to generate. The zero value is a draft of 240 ends, 120
// picks, 8 shafts, 10 treadles and 4 colors.
type GenOptions struct {
	Ends, Picks, Shafts, Treadles int
	Colors                        int  // entries of the palette
	LiftPlan                      bool // a lift plan instead of tie-up and treadling
	Sinking                       bool
}

// The smallest counts in a generated draft.
const (
	fewestThreads = 1
	fewestShafts  = 2
	tabbies       = 2 // treadles for plain weave
)

// Generate returns a plausible draft: a threading of straight runs, points and blocks, a
// twill tie-up with plain weave on the last two treadles, a treadling in runs, and color
// stripes. With at least as many picks as treadles, no shaft with ends stays up or down
// all the time. The same seed and options give the same draft.
func Generate(seed uint64, o GenOptions) *schema.Draft {
	o = o.filled()
	g := generator{rand: rand.New(rand.NewPCG(seed, 0x666574746c65))}
	d := &schema.Draft{
		Texts:     schema.Texts{Title: "Generated draft"},
		Shafts:    o.Shafts,
		Shed:      schema.Rising,
		Palette:   g.palette(o.Colors),
		Threading: schema.Singles(g.runs(o.Ends, o.Shafts)...),
	}
	if o.Sinking {
		d.Shed = schema.Sinking
	}
	sheds, order := g.sheds(o.Shafts, o.Treadles), g.runs(o.Picks, o.Treadles)
	if o.LiftPlan {
		for _, n := range order {
			d.LiftPlan.Append(sheds[n-1]...)
		}
	} else {
		d.Treadles, d.Tieup, d.Treadling = o.Treadles, schema.RowsOf(sheds...), schema.Singles(order...)
	}
	d.Warp, d.Weft = g.system(o.Ends, o.Colors), g.system(o.Picks, o.Colors)
	return d
}

func (o GenOptions) filled() GenOptions {
	or := func(n, usual, fewest int) int {
		if n == 0 {
			return usual
		}
		return max(n, fewest)
	}
	o.Ends, o.Picks = or(o.Ends, 240, fewestThreads), or(o.Picks, 120, fewestThreads)
	o.Shafts = or(o.Shafts, 8, fewestShafts)
	o.Treadles = or(o.Treadles, o.Shafts+tabbies, 1+tabbies)
	o.Colors = or(o.Colors, 4, 1)
	return o
}

type generator struct{ rand *rand.Rand }

// runs threads ends on shafts, or picks on treadles: first a straight run through all of
// them, then random motifs, each repeated several times.
func (g *generator) runs(threads, over int) []int32 {
	out := straight(nil, 1, over, over)
	for len(out) < threads {
		motif := g.motif(over)
		for range 1 + g.rand.IntN(4) {
			out = append(out, motif...)
		}
	}
	return out[:threads]
}

// motif returns a straight run up or down, a point, or a block on two shafts.
func (g *generator) motif(over int) []int32 {
	first := 1 + g.rand.IntN(over)
	length := 2 + g.rand.IntN(over)
	switch g.rand.IntN(4) {
	case 0:
		return straight(nil, first, length, over)
	case 1:
		return straight(nil, first, -length, over)
	case 2:
		up := straight(nil, first, length, over)
		return straight(up, first+length-2, -length+1, over)
	}
	block := straight(nil, first, 2, over)
	return append(block, block...)
}

// straight appends a run from a first shaft up or, for a negative length, down. After the
// last shaft it goes on at the other side.
func straight(to []int32, first, length, over int) []int32 {
	step := 1
	if length < 0 {
		step = -1
	}
	for n := range length * step {
		shaft := ((first-1+n*step)%over + over) % over
		to = append(to, int32(shaft+1))
	}
	return to
}

// sheds returns the shafts of each treadle: a twill that moves on by one shaft for each
// treadle, and plain weave on the last two.
func (g *generator) sheds(shafts, treadles int) [][]int32 {
	up := g.twill(shafts)
	sheds := make([][]int32, treadles)
	for t := range sheds {
		for s := range shafts {
			lifted := up[((s-t)%shafts+shafts)%shafts]
			if odd := t - (treadles - tabbies); odd >= 0 {
				lifted = s%2 == odd
			}
			if lifted {
				sheds[t] = append(sheds[t], int32(s+1))
			}
		}
	}
	return sheds
}

// twill returns one pick of a regular twill: runs of one to three shafts, alternately up
// and down, with the last shaft down.
func (g *generator) twill(shafts int) []bool {
	up := make([]bool, shafts)
	lifted := true
	for s := 0; s < shafts-1; lifted = !lifted {
		for range 1 + g.rand.IntN(3) {
			if s < shafts-1 {
				up[s] = lifted
				s++
			}
		}
	}
	return up
}

func (g *generator) palette(colors int) []schema.Color {
	out := make([]schema.Color, colors)
	for i := range out {
		channel := func() uint8 { return uint8(g.rand.IntN(256)) }
		out[i] = schema.RGB(channel(), channel(), channel())
	}
	return out
}

// system returns threads in color stripes, 10 to 30 to the inch.
func (g *generator) system(threads, colors int) schema.System {
	s := schema.System{
		Threads: threads, Color: 1, Unit: schema.Decipoints,
		Spacing: float64(24 + 4*g.rand.IntN(13)),
	}
	for colors > 1 && len(s.Colors) < threads {
		c := int32(1 + g.rand.IntN(colors))
		for range min(2+g.rand.IntN(24), threads-len(s.Colors)) {
			s.Colors = append(s.Colors, c)
		}
	}
	return s
}
