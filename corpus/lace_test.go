package corpus

import "fettle/schema"

func laces() []composed {
	return []composed{huck(), bronson(), msAndOs(), honeycomb(), waffle()}
}

func huck() composed {
	return composed{
		file: "huckaback-towel", structure: "huckaback", textile: "towel", loom: "table16",
		floats: [4]int{1, 5, 5, 1}, repeat: [2]int{10, 10},
		plan: plan{
			title: "Guest towel in huckaback",
			notes: []string{
				"16/2 linen, 15 ends and picks an inch: 1-2 in a 10 reed.",
				"Five-thread spots by turns. Treadles 1 and 2 weave the plain hems.",
			},
			threading: tile(300, 1, 2, 1, 2, 1, 4, 3, 4, 3, 4), shafts: 4,
			tieup: ties("13", "24", "4", "1"), treadling: tile(120, 1, 3, 1, 3, 1, 2, 4, 2, 4, 2),
			warp: []band{{grey, 1}}, weft: []band{{grey, 40}, {bleached, 40}, {grey, 40}},
			unit: schema.Decipoints, sett: 48, beat: 48,
		},
	}
}

func bronson() composed {
	return composed{
		file: "ferry-cafe-curtain", structure: "Bronson lace", textile: "curtain", loom: "table16",
		floats: [4]int{1, 5, 5, 1}, repeat: [2]int{36, 36},
		plan: plan{
			title: "Ferry-house café curtain",
			notes: []string{
				"16/2 linen, 15 ends an inch. Half of all ends stand on shaft 1: count its heddles first.",
				"Three lace units, then three of the other block. Press hard while damp.",
			},
			threading: tile(288, join(times(3, 1, 3, 1, 3, 1, 2), times(3, 1, 4, 1, 4, 1, 2))...), shafts: 4,
			tieup:     ties("1", "234", "24", "23"),
			treadling: tile(144, join(times(3, 1, 3, 1, 3, 1, 2), times(3, 1, 4, 1, 4, 1, 2))...),
			warp:      []band{{bleached, 1}}, weft: []band{{bleached, 1}},
			unit: schema.Inches, sett: 0.066667, beat: 0.066667,
		},
	}
}

func msAndOs() composed {
	a, b := []int32{1, 2, 1, 2, 3, 4, 3, 4}, []int32{1, 3, 1, 3, 2, 4, 2, 4}
	return composed{
		file: "parlour-towel", structure: "M's and O's", textile: "towel", loom: "table16",
		floats: [4]int{2, 2, 4, 4}, repeat: [2]int{32, 16},
		plan: plan{
			title: "Parlour towel in M's and O's",
			notes: []string{
				"16/2 linen, 15 ends an inch. There is no true plain weave: hem with the first two treadles.",
			},
			threading: tile(320, join(times(2, a...), times(2, b...))...), shafts: 4,
			tieup: ties("12", "34", "13", "24"), treadling: tile(128, join(times(4, 1, 2), times(4, 3, 4))...),
			warp: []band{{bleached, 1}}, weft: []band{{grey, 1}},
			unit: schema.Decipoints, sett: 48, beat: 48,
		},
	}
}

func honeycomb() composed {
	return composed{
		file: "honeycomb-cushion", structure: "honeycomb with outline picks", textile: "cushion", loom: "table16",
		floats: [4]int{7, 1, 1, 7}, repeat: [2]int{12, 16},
		plan: plan{
			title: "Honeycomb cushion",
			notes: []string{
				"8/2 cotton, 20 ends and picks an inch.",
				"Two outline picks in doubled madder, then six picks of a cell. The weft lies behind the other cell.",
			},
			threading: tile(360, join(times(3, 1, 2), times(3, 3, 4))...), shafts: 4,
			tieup:     ties("13", "24", "134", "234", "123", "124"),
			treadling: tile(128, join([]int32{1, 2}, times(3, 3, 4), []int32{1, 2}, times(3, 5, 6))...),
			warp:      []band{{natural, 1}}, weft: []band{{madder, 2}, {natural, 6}},
			unit: schema.Decipoints, sett: 36, beat: 36,
		},
	}
}

// waffle weaves plain weave along both diagonals of a cell. Towards its four sides, each
// float is two threads longer than the one before.
func waffle() composed {
	return composed{
		file: "waffle-bath-mat", structure: "waffle", textile: "bath mat", loom: "jack8",
		settings: onLoom("jack8", "finished length = 80 cm", "items = 2", "shrinkage warp = 18 %", "shrinkage weft = 20 %"),
		floats:   [4]int{7, 5, 5, 7}, repeat: [2]int{8, 8},
		plan: plan{
			title: "Waffle bath mat",
			notes: []string{
				"8/2 cotton, 7.5 ends a centimetre. Shrinks by a fifth: the cells only rise in hot water.",
			},
			threading: tile(440, point(5)...), shafts: 5,
			tieup: ties("2", "13", "124", "1235", "1234"), treadling: tile(96, point(5)...),
			warp: []band{{natural, 1}}, weft: []band{{natural, 1}},
			unit: schema.Centimetres, sett: 0.13333, beat: 0.13333,
		},
	}
}
