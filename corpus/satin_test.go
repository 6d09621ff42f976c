package corpus

import (
	"testing"

	"fettle/schema"
)

func satins() []composed { return []composed{satin5(), satin8(), damask()} }

func satin5() composed {
	return composed{
		file: "feast-napkin", structure: "5-end satin", textile: "napkin", loom: "table16",
		floats: [4]int{4, 1, 1, 4}, repeat: [2]int{5, 5}, holds: scattered,
		plan: plan{
			title: "Feast-day napkin",
			notes: []string{
				"16/2 cotton, 35 ends an inch: 3-4 in a 10 reed.",
				"Warp satin with a move of two. Four raised, one down at each pick.",
			},
			threading: tile(490, 1, 2, 3, 4, 5), shafts: 5,
			tieup: satin(5, 2), treadling: tile(80, 1, 2, 3, 4, 5),
			warp: []band{{fineNatural, 1}}, weft: []band{{fineWeld, 1}},
			unit: schema.Decipoints, sett: 20.571, beat: 24,
		},
	}
}

func satin8() composed {
	return composed{
		file: "schoolhouse-curtain", structure: "8-end satin", textile: "curtain", loom: "jack8",
		settings: onLoom("jack8", "finished length = 1.5 m", "items = 2", "hem = 12 cm"),
		floats:   [4]int{7, 1, 1, 7}, repeat: [2]int{8, 8}, holds: scattered,
		plan: plan{
			title: "Schoolhouse curtain",
			notes: []string{
				"16/2 linen, 10 ends a centimetre, two a dent in the 50 reed.",
				"Satin with a move of three. Keep the warp damp.",
			},
			threading: tile(480, run(1, 8)...), shafts: 8,
			tieup: satin(8, 3), treadling: tile(96, run(1, 8)...),
			warp: []band{{bleached, 64}, {grey, 16}}, weft: []band{{bleached, 1}},
			unit: schema.Centimetres, sett: 0.1, beat: 0.1,
		},
	}
}

// scattered checks satin: the ends that stay down in two successive picks aren't
// neighbours.
func scattered(t *testing.T, _ *schema.Draft, w weave) {
	for p := 1; p < len(w); p++ {
		for e := 1; e+1 < len(w[p]); e++ {
			if !w[p][e] && (!w[p-1][e-1] || !w[p-1][e+1]) {
				t.Fatalf("pick %d, end %d: binding points touch", p+1, e+1)
			}
		}
	}
}

// damask returns a turned twill with two blocks: one shows its warp where the other shows
// its weft.
func damask() composed {
	var tieup [][]int32
	for k := 1; k <= 4; k++ {
		tieup = append(tieup, turn(k, 9-k))
	}
	for k := 4; k >= 1; k-- {
		tieup = append(tieup, turn(9-k, k))
	}
	return composed{
		file: "lighthouse-towel", structure: "turned twill blocks, 1/3 and 3/1", textile: "towel", loom: "jack8",
		settings: onLoom("jack8", "finished length = 70 cm", "items = 3", "hem = 6 cm"),
		floats:   [4]int{3, 3, 3, 3}, repeat: [2]int{48, 48}, holds: cutsClean(24),
		plan: plan{
			title: "Lighthouse towel",
			notes: []string{
				"8/2 cotton, 10 ends a centimetre, two a dent in the 50 reed; 9 picks a centimetre.",
				"Block A on shafts 1 to 4, block B on 5 to 8. The edges of the blocks cut clean.",
			},
			threading: tile(480, join(times(6, run(1, 4)...), times(6, run(5, 8)...))...), shafts: 8,
			tieup: tieup, treadling: tile(144, join(times(6, run(1, 4)...), times(6, run(5, 8)...))...),
			warp: []band{{natural, 1}}, weft: []band{{indigo, 1}},
			unit: schema.Centimetres, sett: 0.1, beat: 0.11111,
		},
	}
}

// turn lifts one shaft of a block of four, and all but one shaft of the other block.
func turn(single, down int) []int32 {
	lift := []int32{int32(single)}
	first := 1
	if down > 4 {
		first = 5
	}
	for s := first; s < first+4; s++ {
		if s != down {
			lift = append(lift, int32(s))
		}
	}
	return lift
}
