package corpus

import "fettle/schema"

func layered() []composed { return []composed{doubleWeave(), doubleWidth()} }

// In both, shafts 1 and 3 weave the upper cloth, and 2 and 4 the lower one. An upper pick
// lifts 1 or 3. A lower pick lifts the whole upper warp, and 2 or 4.
func doubleWeave() composed {
	return composed{
		file: "two-sided-blanket", structure: "double weave, two cloths", textile: "blanket", loom: "table16",
		floats: [4]int{3, 3, 3, 3}, repeat: [2]int{4, 4}, layers: 2,
		expects: "cloth/layers",
		plan: plan{
			title: "Two-sided blanket",
			notes: []string{
				"2/10 worsted, 20 ends an inch, ten in each cloth; two a dent in a 10 reed.",
				"Silver above, dark below, a shuttle each. Sew the edges before fulling.",
			},
			threading: tile(400, 1, 2, 3, 4), shafts: 4,
			tieup: ties("1", "123", "3", "134"), treadling: tile(80, 1, 2, 3, 4),
			warp: []band{{fleece, 1}, {dark, 1}}, weft: []band{{fleece, 1}, {dark, 1}},
			unit: schema.Decipoints, sett: 36, beat: 36,
		},
	}
}

func doubleWidth() composed {
	return composed{
		file: "double-width-bedspread", structure: "double weave, double width", textile: "bedspread", loom: "table16",
		floats: [4]int{3, 3, 3, 3}, repeat: [2]int{4, 4}, layers: 2,
		plan: plan{
			title: "Double-width bedspread",
			notes: []string{
				"8/2 cotton, 32.5 ends an inch, half in each cloth: 3-3-3-4 in a 10 reed.",
				"Upper, lower, lower, upper: the cloth folds at one edge and opens on the floor.",
			},
			ignores:   []schema.Ignore{{Rule: "cloth/layers", Reason: "two cloths, folded at one edge"}},
			threading: tile(400, 1, 2, 3, 4), shafts: 4,
			tieup: ties("1", "123", "3", "134"), treadling: tile(96, 1, 2, 4, 3),
			warp: []band{{natural, 1}}, weft: []band{{weld, 2}, {natural, 2}},
			unit: schema.Decipoints, sett: 22.154, beat: 22.154,
		},
	}
}
