package corpus

import (
	"testing"

	"fettle/schema"
)

func blocks() []composed { return []composed{overshot(), summerAndWinter(), crackle()} }

// overshot threads each block on two neighbouring shafts; adjacent blocks share one. Odd
// and even shafts alternate throughout, so 1-3 against 2-4 is plain weave.
func overshot() composed {
	threading := join(times(3, 1, 2), times(3, 3, 2), times(3, 3, 4), times(3, 1, 4))
	pattern := func(treadle int32) []int32 { return times(2, treadle, 1, treadle, 2) }
	return composed{
		file: "marriage-coverlet", structure: "overshot", textile: "coverlet", loom: "table16",
		floats: [4]int{3, 3, 8, 8}, repeat: [2]int{24, 32}, holds: tabbyIsPlain(1, 2),
		plan: plan{
			title: "Marriage coverlet, Quarrow wheel",
			notes: []string{
				"8/2 cotton ground, 20 ends an inch; pattern weft of lichen-dyed worsted.",
				"A tabby pick follows every pattern pick. The longest skips go over eight ends, 10 mm.",
			},
			threading: tile(312, threading...), shafts: 4,
			tieup:     ties("13", "24", "34", "14", "12", "23"),
			treadling: tile(160, join(pattern(3), pattern(4), pattern(5), pattern(6))...),
			warp:      []band{{natural, 1}}, weft: []band{{lichen, 1}, {natural, 1}},
			unit: schema.Decipoints, sett: 36, beat: 28.8,
		},
	}
}

// tabbyIsPlain checks that the picks on two treadles interlace as plain weave.
func tabbyIsPlain(a, b int32) func(*testing.T, *schema.Draft, weave) {
	return func(t *testing.T, d *schema.Draft, w weave) {
		for p, row := range w {
			if treadle := d.Treadling.Row(p + 1)[0]; treadle != a && treadle != b {
				continue
			}
			for e := 1; e < len(row); e++ {
				if row[e] == row[e-1] {
					t.Fatalf("pick %d: ends %d and %d are on the same side in the tabby", p+1, e, e+1)
				}
			}
		}
	}
}

// summerAndWinter threads the tie-down ends alternately on shafts 1 and 2, and the ends
// between them on the shaft of the block.
func summerAndWinter() composed {
	return composed{
		file: "winter-coverlet", structure: "summer and winter", textile: "coverlet", loom: "table16",
		floats: [4]int{3, 3, 3, 3}, repeat: [2]int{64, 64}, holds: tieDownTabby,
		plan: plan{
			title: "Winter coverlet",
			notes: []string{
				"8/2 cotton ground at 20 ends an inch, indigo pattern weft.",
				"One tabby between pattern picks; the two tie-downs take turns, singly.",
			},
			threading: tile(384, join(times(8, 1, 3, 2, 3), times(8, 1, 4, 2, 4))...), shafts: 4,
			tieup:     ties("12", "34", "14", "24", "13", "23"),
			treadling: tile(128, join(times(8, 1, 3, 2, 4), times(8, 1, 5, 2, 6))...),
			warp:      []band{{natural, 1}}, weft: []band{{natural, 1}, {indigo, 1}},
			unit: schema.Decipoints, sett: 36, beat: 28.8,
		},
	}
}

// tieDownTabby checks two properties of summer and winter: tie-down shafts against pattern
// shafts weave plain weave, and every fourth end holds the pattern weft.
func tieDownTabby(t *testing.T, d *schema.Draft, w weave) {
	tabbyIsPlain(1, 2)(t, d, w)
	for e := 1; e <= d.Ends(); e += 4 {
		if d.Threading.Row(e)[0] != 1 || d.Threading.Row(e + 2)[0] != 2 {
			t.Fatalf("end %d: no pair of tie-downs", e)
		}
	}
}

// crackle threads its blocks as points on three shafts. Each ends with another thread on
// its first shaft, so that no weft float is longer than three ends.
func crackle() composed {
	var threading []int32
	for s := range int32(4) {
		at := func(n int32) int32 { return (s+n)%4 + 1 }
		threading = append(threading, times(4, at(0), at(1), at(2), at(1))...)
		threading = append(threading, at(0))
	}
	pattern := func(treadle int32) []int32 { return times(4, treadle, 1, treadle, 2) }
	return composed{
		file: "crackle-runner", structure: "crackle", textile: "table runner", loom: "table16",
		floats: [4]int{3, 3, 3, 3}, repeat: [2]int{68, 64}, holds: tabbyIsPlain(1, 2),
		plan: plan{
			title: "Crackle runner, marée haute",
			notes: []string{
				"8/2 cotton, 20 ends an inch; tabby in natural.",
				"Four blocks; a thread on the first shaft closes each.",
			},
			threading: tile(272, threading...), shafts: 4,
			tieup:     ties("13", "24", "12", "23", "34", "14"),
			treadling: tile(128, join(pattern(3), pattern(4), pattern(5), pattern(6))...),
			warp:      []band{{natural, 1}}, weft: []band{{madder, 1}, {natural, 1}},
			unit: schema.Decipoints, sett: 36, beat: 28.8,
		},
	}
}
