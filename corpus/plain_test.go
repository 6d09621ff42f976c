package corpus

import (
	"testing"

	"fettle/schema"
)

func plainCloths() []composed {
	return []composed{plainTowel(), basketBlanket(), logCabin(), shadowWeave(), ribbon()}
}

func plainTowel() composed {
	return composed{
		file: "harbour-tea-towel", structure: "plain weave", textile: "tea towel", loom: "table16",
		floats: [4]int{1, 1, 1, 1}, repeat: [2]int{2, 2},
		plan: plan{
			title: "Harbour tea towel",
			notes: []string{
				"8/2 cotton, 20 ends and 20 picks an inch, two ends a dent in a 10 reed.",
				"Plain weave spread over four shafts so that the heddles do not crowd.",
				"Hem two picks over the sewing-thread header. Wash hot before use.",
			},
			threading: tile(400, 1, 2, 3, 4), shafts: 4,
			tieup: ties("13", "24"), treadling: tile(160, 1, 2),
			warp: []band{{natural, 40}, {indigo, 4}, {natural, 4}, {indigo, 4}, {natural, 48}},
			weft: []band{{natural, 60}, {indigo, 4}, {natural, 4}, {indigo, 4}, {natural, 8}},
			unit: schema.Decipoints, sett: 36, beat: 36,
		},
	}
}

func basketBlanket() composed {
	return composed{
		file: "croft-blanket", structure: "basket weave 2/2", textile: "blanket", loom: "table16",
		floats: [4]int{2, 2, 2, 2}, repeat: [2]int{4, 4},
		plan: plan{
			title: "Croft blanket in basket weave",
			notes: []string{
				"2/10 worsted at 12.5 ends an inch: 1-1-1-2 in a 10 reed.",
				"Two picks in each shed: carry the shuttle round a floating selvedge.",
				"Full well, then brush lightly while damp.",
			},
			threading: tile(360, 1, 2, 3, 4), shafts: 4,
			tieup: ties("12", "34"), treadling: tile(96, 1, 1, 2, 2),
			warp: []band{{fleece, 60}, {dark, 12}, {lichen, 12}, {dark, 12}, {fleece, 24}},
			weft: []band{{fleece, 72}, {dark, 12}, {lichen, 12}},
			unit: schema.Inches, sett: 0.08, beat: 0.08,
		},
	}
}

func logCabin() composed {
	cabin := func(one, two dye) []band {
		var b []band
		for range 12 {
			b = append(b, band{one, 1}, band{two, 1})
		}
		return b
	}
	order := append(cabin(indigo, natural), cabin(natural, indigo)...)
	return composed{
		file: "log-cabin-mat", structure: "color-and-weave, log cabin", textile: "table mat", loom: "jack8",
		settings: onLoom("jack8", "finished length = 45 cm", "items = 6", "hem = 5 cm"),
		floats:   [4]int{1, 1, 1, 1}, repeat: [2]int{2, 2},
		holds: lightMeetsLight,
		plan: plan{
			title: "Log cabin table mat",
			notes: []string{
				"8/2 cotton, 7.5 ends and picks a centimetre.",
				"Dark and light by turns; the order turns over every 24 ends and every 24 picks.",
			},
			threading: tile(240, 1, 2, 3, 4), shafts: 4,
			tieup: ties("13", "24"), treadling: tile(192, 1, 2),
			warp: order, weft: order,
			unit: schema.Centimetres, sett: 0.13333, beat: 0.13333,
		},
	}
}

// lightMeetsLight checks log cabin: colors alternate, except between blocks, where two
// equal ones meet.
func lightMeetsLight(t *testing.T, d *schema.Draft, _ weave) {
	for n := 2; n <= d.Ends(); n++ {
		alike := d.Warp.ColorOf(n) == d.Warp.ColorOf(n-1)
		if alike != (n%24 == 1) {
			t.Fatalf("ends %d and %d: alike %t", n-1, n, alike)
		}
	}
}

func shadowWeave() composed {
	return composed{
		file: "shadow-scarf", structure: "shadow weave", textile: "scarf", loom: "table16",
		floats: [4]int{2, 2, 2, 2}, repeat: [2]int{8, 8},
		holds: func(t *testing.T, d *schema.Draft, w weave) {
			for n := 2; n <= d.Ends(); n++ {
				if d.Warp.ColorOf(n) == d.Warp.ColorOf(n-1) {
					t.Fatalf("ends %d and %d are of one color", n-1, n)
				}
			}
		},
		plan: plan{
			title: "Shadow scarf",
			notes: []string{
				"2/24 worsted, 25 ends an inch in a 10 reed: 2 and 3 a dent by turns.",
				"Dark on the block's shaft, light on the opposite one. Twist the two wefts at the edge.",
			},
			threading: tile(280, 1, 3, 2, 4, 3, 1, 4, 2), shafts: 4,
			tieup: twill(2, 2), treadling: tile(128, 1, 3, 2, 4, 3, 1, 4, 2),
			warp: []band{{fineIndigo, 1}, {fineSilver, 1}}, weft: []band{{fineIndigo, 1}, {fineSilver, 1}},
			unit: schema.Decipoints, sett: 28.8, beat: 28.8,
		},
	}
}

func ribbon() composed {
	return composed{
		file: "fete-ribbon", structure: "2/2 twill", textile: "ribbon", loom: "table16",
		settings: onLoom("table16", "finished length = 10 m", "shrinkage = 4 %", "loom waste = 45 cm"),
		floats:   [4]int{2, 2, 2, 2}, repeat: [2]int{4, 4},
		plan: plan{
			title: "Fête ribbon, indigo edges",
			notes: []string{
				"16/2 cotton, four a dent in a 10 reed: 40 an inch. About 17 mm wide.",
				"Start from the left so that the weft turns round both edges. Beat with a belt shuttle.",
			},
			threading: tile(28, 1, 2, 3, 4), shafts: 4,
			tieup: twill(2, 2), treadling: tile(40, 1, 2, 3, 4),
			warp: []band{{fineIndigoCotton, 4}, {fineNatural, 20}, {fineIndigoCotton, 4}}, weft: []band{{fineNatural, 1}},
			unit: schema.Inches, sett: 0.025, beat: 0.04,
		},
	}
}
