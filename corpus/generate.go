package corpus

import (
	"math/rand/v2"

	"fettle/schema"
)

// GenOptions says what to generate. A zero value is a draft of middling size:
// 240 ends, 120 picks, 8 shafts, two treadles more than shafts, 4 colors.
type GenOptions struct {
	Ends, Picks, Shafts, Treadles int
	Colors                        int  // entries of the palette
	LiftPlan                      bool // a lift plan instead of tie-up and treadling
	Sinking                       bool
}

// Fewest that a generated draft can have of anything.
const (
	fewestThreads = 1
	fewestShafts  = 2
	tabbies       = 2 // treadles set aside for plain weave
)

// Generate makes a plausible draft: a threading of straight runs, points and
// blocks, a twill tie-up with a plain weave on the last two treadles, treadled
// in runs, in stripes of a few colors. Every shaft that carries an end goes up
// at some pick and stays down at another when there are as many picks as
// treadles. The same seed and options give the same draft.
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

// runs orders that many threads over shafts, or over treadles, from 1: first
// once straight through them all, then as a weaver would draw in, motif by
// motif, each several times.
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

// motif is a straight run up or down, a point, or a block of two shafts.
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

// straight appends a run that begins at a shaft and goes round over so many,
// upward, or downward for a negative length.
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

// sheds is what each treadle lifts: a twill that steps on by one shaft a
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

// twill is one pick of a regular twill: runs of one to three shafts, up and
// down by turns, the last one down.
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

// system is threads in stripes, at 10 to 30 an inch.
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
