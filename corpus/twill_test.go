package corpus

import (
	"slices"
	"testing"

	"fettle/schema"
)

func twills() []composed {
	return []composed{straightTwill(), houndstooth(), denim(), gooseEye(), brokenTwill(), herringbone()}
}

func straightTwill() composed {
	return composed{
		file: "ferry-scarf", structure: "2/2 twill", textile: "scarf", loom: "table16",
		floats: [4]int{2, 2, 2, 2}, repeat: [2]int{4, 4}, holds: stepsByOne,
		plan: plan{
			title: "Ferry scarf",
			notes: []string{
				"2/24 worsted, 30 ends an inch, three a dent in a 10 reed.",
				"Beat softly: the cloth comes together in the wash.",
			},
			threading: tile(380, 1, 2, 3, 4), shafts: 4,
			tieup: twill(2, 2), treadling: tile(80, 1, 2, 3, 4),
			warp: []band{{fineSilver, 20}, {fineIndigo, 8}, {fineMadder, 4}, {fineIndigo, 8}}, weft: []band{{fineSilver, 1}},
			unit: schema.Decipoints, sett: 24, beat: 25.714,
		},
	}
}

// stepsByOne checks the twill line: each pick lifts the same pattern, moved by one end.
func stepsByOne(t *testing.T, _ *schema.Draft, w weave) {
	for p := 1; p < len(w); p++ {
		if !slices.Equal(w[p][1:], w[p-1][:len(w[p])-1]) {
			t.Fatalf("pick %d doesn't move on by one end", p+1)
		}
	}
}

func houndstooth() composed {
	return composed{
		file: "four-and-four-shawl", structure: "color-and-weave, 2/2 twill four and four", textile: "shawl", loom: "table16",
		floats: [4]int{2, 2, 2, 2}, repeat: [2]int{4, 4}, holds: stepsByOne,
		plan: plan{
			title: "Four-and-four shawl",
			notes: []string{
				"2/10 worsted, 15 ends and picks an inch: 1-2 in a 10 reed.",
				"Four dark, four light, both ways. Begin each color with the first treadle.",
			},
			threading: tile(392, 1, 2, 3, 4), shafts: 4,
			tieup: twill(2, 2), treadling: tile(96, 1, 2, 3, 4),
			warp: []band{{dark, 4}, {fleece, 4}}, weft: []band{{dark, 4}, {fleece, 4}},
			unit: schema.Decipoints, sett: 48, beat: 48,
		},
	}
}

func denim() composed {
	return composed{
		file: "net-mender-apron", structure: "3/1 twill", textile: "apron cloth", loom: "table16",
		floats: [4]int{3, 1, 1, 3}, repeat: [2]int{4, 4}, holds: stepsByOne,
		plan: plan{
			title: "Net mender's apron",
			notes: []string{
				"8/2 cotton, indigo on natural, 25 ends an inch: 2-3 in a 10 reed.",
				"Three up, one down. Weave face up and look under the cloth every hand's breadth.",
			},
			threading: tile(400, 1, 2, 3, 4), shafts: 4,
			tieup: twill(3, 1), treadling: tile(40, 1, 2, 3, 4),
			warp: []band{{indigo, 1}}, weft: []band{{natural, 1}},
			unit: schema.Inches, sett: 0.04, beat: 0.05,
		},
	}
}

func gooseEye() composed {
	return composed{
		file: "goose-eye-towel", structure: "goose-eye (point twill)", textile: "towel", loom: "counterbalance4",
		settings: onLoom("counterbalance4", "finished length = 70 cm", "items = 4", "hem = 6 cm"),
		floats:   [4]int{3, 3, 3, 3}, repeat: [2]int{6, 6},
		plan: plan{
			title: "Goose-eye hand towel",
			notes: []string{
				"8/2 cotton, 24 ends an inch, three a dent in an 8 reed. Beat 22 picks an inch.",
				"Point draw, treadled as drawn in. Add an end on shaft 1 to close on the point.",
			},
			threading: tile(480, point(4)...), shafts: 4,
			tieup: twill(2, 2), treadling: tile(120, point(4)...),
			warp: []band{
				{natural, 60}, {madder, 12}, {walnut, 18}, {madder, 12}, {natural, 276},
				{madder, 12}, {walnut, 18}, {madder, 12}, {natural, 60},
			}, weft: []band{{natural, 1}},
			unit: schema.Decipoints, sett: 30, beat: 32.727,
		},
	}
}

func brokenTwill() composed {
	return composed{
		file: "sailroom-cloth", structure: "broken twill 3/1", textile: "work cloth", loom: "table16",
		floats: [4]int{3, 1, 1, 3}, repeat: [2]int{4, 4}, holds: breaksTheLine,
		plan: plan{
			title: "Sailroom work cloth",
			notes: []string{
				"8/2 cotton at 25 an inch. The treadles go 1, 2, 4, 3: no line, so the cloth does not skew.",
			},
			threading: tile(320, 1, 2, 3, 4), shafts: 4,
			tieup: twill(3, 1), treadling: tile(60, 1, 2, 4, 3),
			warp: []band{{natural, 1}}, weft: []band{{walnut, 1}},
			unit: schema.Decipoints, sett: 28.8, beat: 36,
		},
	}
}

// breaksTheLine checks broken twill: the end that stays down moves by one, then by two, and
// never forms a line of three.
func breaksTheLine(t *testing.T, _ *schema.Draft, w weave) {
	var down []int
	for p := range 4 {
		down = append(down, slices.Index(w[p], false))
	}
	for i := range down {
		a, b := down[(i+1)%4]-down[i], down[(i+2)%4]-down[(i+1)%4]
		if (a-b)%4 == 0 && a%2 != 0 {
			t.Errorf("ends down %v make a line at pick %d", down, i+1)
		}
	}
}

func herringbone() composed {
	return composed{
		file: "herringbone-throw", structure: "herringbone, sinking shed", textile: "throw", loom: "counterbalance4",
		settings: onLoom("counterbalance4", "finished length = 1.6 m", "fringe = 12 cm"),
		floats:   [4]int{2, 2, 2, 2}, repeat: [2]int{32, 4}, holds: cutsClean(16),
		plan: plan{
			title: "Herringbone throw",
			notes: []string{
				"2/10 worsted at 16 ends an inch, two a dent in an 8 reed.",
				"The tie-up names the shafts that sink. Two go down and two go up at every pick.",
			},
			threading: tile(384, join(times(4, 1, 2, 3, 4), times(4, 2, 1, 4, 3))...), shafts: 4, sinking: true,
			tieup: twill(2, 2), treadling: tile(64, 1, 2, 3, 4),
			warp: []band{{fleece, 1}}, weft: []band{{weldWool, 1}},
			unit: schema.Decipoints, sett: 45, beat: 45,
		},
	}
}

// cutsClean checks that the two ends at each border between stripes are always on opposite
// sides.
func cutsClean(stripe int) func(*testing.T, *schema.Draft, weave) {
	return func(t *testing.T, _ *schema.Draft, w weave) {
		for p, row := range w {
			for e := stripe; e < len(row); e += stripe {
				if row[e] == row[e-1] {
					t.Fatalf("pick %d: ends %d and %d are on the same side", p+1, e, e+1)
				}
			}
		}
	}
}
