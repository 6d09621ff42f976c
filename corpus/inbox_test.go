package corpus

import (
	"testing"

	"fettle/schema"
)

// inbox returns five drafts that other weavers sent to the guild. Each is sound cloth
// with one problem on the guild's loom, in its reed or with its yarn.
func inbox() []composed {
	list := []composed{manyHeddles(), metricReed(), wideBlocks(), eighteenShafts(), manyRunners()}
	for i := range list {
		list[i].inbox = true
	}
	return list
}

func TestInbox(t *testing.T) {
	for _, c := range inbox() {
		t.Run(c.file, func(t *testing.T) {
			d := c.plan.draft()
			checkFile(t, &c, d)
			checkStructure(t, &c, d)
		})
	}
}

// manyHeddles returns Bronson lace, with every other end on shaft 1.
func manyHeddles() composed {
	blocks := join(times(3, 1, 3, 1, 3, 1, 2), times(3, 1, 4, 1, 4, 1, 2))
	return composed{
		file: "fog-signal-curtain", structure: "Bronson lace", textile: "curtain", loom: "table16",
		floats: [4]int{1, 5, 5, 1}, repeat: [2]int{36, 36}, expects: "loom/missing-heddles",
		plan: plan{
			title:     "Fog-signal curtain",
			notes:     []string{"16/2 linen, 15 ends and picks an inch."},
			threading: tile(360, blocks...), shafts: 4,
			tieup: ties("1", "234", "24", "23"), treadling: tile(72, blocks...),
			warp: []band{{bleached, 1}}, weft: []band{{bleached, 1}},
			unit: schema.Decipoints, sett: 48, beat: 48,
		},
	}
}

// metricReed returns a draft for a reed of 42 dents to 10 cm.
func metricReed() composed {
	return composed{
		file: "two-harbours-stole", structure: "plain weave", textile: "stole", loom: "table16",
		floats: [4]int{1, 1, 1, 1}, repeat: [2]int{2, 2}, expects: "reed/sett",
		plan: plan{
			title:     "Two-harbours stole",
			notes:     []string{"2/10 worsted, one end a dent in a 42 reed; full it until it drapes."},
			threading: tile(240, 1, 2, 3, 4), shafts: 4,
			tieup: ties("13", "24"), treadling: tile(80, 1, 2),
			warp: []band{{fleece, 24}, {dark, 24}}, weft: []band{{fleece, 1}},
			unit: schema.Centimetres, sett: 0.2381, beat: 0.25,
		},
	}
}

// wideBlocks returns overshot whose first block is far too wide.
func wideBlocks() composed {
	threading := join(times(8, 1, 2), times(2, 3, 2), times(2, 3, 4), times(2, 1, 4))
	pattern := func(treadle int32, times int) []int32 { return tile(4*times, treadle, 1, treadle, 2) }
	return composed{
		file: "gannet-rock-cushion", structure: "overshot", textile: "cushion", loom: "table16",
		within: 18, repeat: [2]int{28, 40}, holds: tabbyIsPlain(1, 2), expects: "cloth/long-float",
		plan: plan{
			title:     "Gannet rock cushion",
			notes:     []string{"8/2 cotton ground, 20 ends an inch; pattern weft of lichen-dyed worsted."},
			threading: tile(336, threading...), shafts: 4,
			tieup:     ties("13", "24", "34", "14", "23"),
			treadling: tile(80, join(pattern(3, 6), pattern(4, 2), pattern(5, 2))...),
			warp:      []band{{natural, 1}}, weft: []band{{lichen, 1}, {natural, 1}},
			unit: schema.Decipoints, sett: 36, beat: 28.8,
		},
	}
}

// eighteenShafts returns a fancy twill with two shafts more than the guild's dobby.
func eighteenShafts() composed {
	return composed{
		file: "northern-lights-runner", structure: "fancy twill, 18 shafts", textile: "table runner", loom: "table16",
		floats: [4]int{3, 3, 3, 3}, repeat: [2]int{18, 18}, holds: stepsByOne, expects: "loom/too-many-shafts",
		plan: plan{
			title:     "Northern lights runner",
			notes:     []string{"8/2 cotton, 22.5 ends an inch: 2-2-2-3 in a 10 reed. Two shuttles, pick by pick."},
			threading: tile(360, run(1, 18)...), shafts: 18,
			lifts: tileRows(72, twill(3, 3, 1, 2, 2, 1, 3, 3)),
			warp:  []band{{natural, 1}}, weft: []band{{indigo, 1}, {weld, 1}},
			unit: schema.Decipoints, sett: 32, beat: 32,
		},
	}
}

func tileRows(n int, rows [][]int32) [][]int32 {
	out := make([][]int32, n)
	for i := range out {
		out[i] = rows[i%len(rows)]
	}
	return out
}

// manyRunners returns a draft for six items on one warp, which takes more madder yarn than
// the guild has.
func manyRunners() composed {
	return composed{
		file: "harvest-table-runner", structure: "plain weave", textile: "table runner", loom: "table16",
		settings: "[project]\nfinished length = 1.5 m\nitems = 6\nhem = 4 cm\n",
		floats:   [4]int{1, 1, 1, 1}, repeat: [2]int{2, 2}, expects: "yarn/overrun",
		plan: plan{
			title:     "Harvest table runner",
			notes:     []string{"8/2 cotton, 20 ends and picks an inch, two ends a dent in a 10 reed."},
			threading: tile(400, 1, 2, 3, 4), shafts: 4,
			tieup: ties("13", "24"), treadling: tile(80, 1, 2),
			warp: []band{{natural, 80}, {madder, 20}, {natural, 200}, {madder, 20}, {natural, 80}}, weft: []band{{madder, 1}},
			unit: schema.Decipoints, sett: 36, beat: 36,
		},
	}
}
