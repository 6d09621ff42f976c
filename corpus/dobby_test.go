package corpus

import (
	"testing"

	"fettle/schema"
)

func manyShafts() []composed { return []composed{advancing(), network()} }

// advancing threads runs of five shafts, each starting one shaft further on. Runs of up or
// down have at most three shafts and can continue across one step back, so no float is
// longer than six.
func advancing() composed {
	var threading, order []int32
	for first := range int32(16) {
		for n := range int32(5) {
			threading = append(threading, (first+n)%16+1)
			order = append(order, (first+n)%16)
		}
	}
	sheds := twill(3, 3, 2, 2, 3, 3)
	var lifts [][]int32
	for _, n := range order {
		lifts = append(lifts, sheds[n])
	}
	return composed{
		file: "tideline-blanket", structure: "advancing twill", textile: "blanket", loom: "table16",
		within: 6, repeat: [2]int{80, 80}, holds: advances,
		plan: plan{
			title: "Tideline blanket",
			notes: []string{
				"2/24 worsted, 25 ends an inch: 2-3 in a 10 reed.",
				"Sixteen runs of five, each a shaft further on; lifted as drawn in.",
			},
			threading: tile(560, threading...), shafts: 16, lifts: append(lifts, lifts...),
			warp: []band{{fineSilver, 40}, {fineIndigo, 40}}, weft: []band{{fineMadder, 1}},
			unit: schema.Decipoints, sett: 28.8, beat: 28.8,
		},
	}
}

func advances(t *testing.T, d *schema.Draft, _ weave) {
	for e := 1; e+5 <= d.Ends(); e++ {
		if a, b := d.Threading.Row(e)[0], d.Threading.Row(e + 5)[0]; b != a%16+1 {
			t.Fatalf("end %d is on shaft %d, end %d on shaft %d, not the next one", e, a, e+5, b)
		}
	}
}

// network threads a curve over twenty shafts on a network with a straight draw of four as
// its initial: each end takes the first shaft at or above the curve that its place in the
// initial allows. End n is only on shafts 4k+n, so a lift of 1/3 and 3/1 twill has no
// float over more than three threads.
func network() composed {
	lifts := networkLifts(120)
	return composed{
		file: "aurora-coverlet", structure: "network-drafted twill, 20 shafts", textile: "coverlet", loom: "table16",
		floats: [4]int{3, 3, 3, 3}, repeat: [2]int{300, 120}, holds: onNetwork,
		expects: "loom/too-many-shafts",
		plan: plan{
			title: "Aurora coverlet",
			notes: []string{
				"16/2 cotton, 30 ends an inch, three a dent in a 10 reed.",
				"Twenty shafts on a four-end initial, the curve twice across. Wants a bigger dobby than the guild's.",
			},
			threading: tile(600, networkThreading(300)...), shafts: 20, lifts: append(lifts, lifts...),
			warp: []band{{fineIndigoCotton, 1}}, weft: []band{{fineNatural, 1}},
			unit: schema.Decipoints, sett: 24, beat: 24,
		},
	}
}

// networkThreading takes the curve up to 17 at the middle end. On each side of it,
// complete initials are on the highest four shafts.
func networkThreading(ends int) []int32 {
	out := make([]int32, ends)
	for e := range out {
		line := arch(e, ends, 17)
		out[e] = int32(line + mod(e-line, 4) + 1)
	}
	return out
}

func networkLifts(picks int) [][]int32 {
	out := make([][]int32, picks)
	for p := range out {
		line := arch(p, picks, 20)
		for s := range 20 {
			warpFaced := mod(s-line, 20) < 10
			step := mod(s-p, 4)
			if step == 0 || warpFaced && step < 3 {
				out[p] = append(out[p], int32(s+1))
			}
		}
	}
	return out
}

// arch returns a parabola in whole numbers that rises from 0 to height in the middle of the
// width.
func arch(at, width, height int) int { return 4 * height * at * (width - at) / (width * width) }

func mod(a, n int) int { return (a%n + n) % n }

func onNetwork(t *testing.T, d *schema.Draft, _ weave) {
	for e := 1; e <= d.Ends(); e++ {
		if s := int(d.Threading.Row(e)[0]); (s-e)%4 != 0 {
			t.Fatalf("end %d on shaft %d is off the network", e, s)
		}
	}
}
