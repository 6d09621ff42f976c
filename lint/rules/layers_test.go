package rules

import "testing"

func TestLayers(t *testing.T) {
	check(t, "cloth/layers", []row{
		{name: "one cloth"},
		{name: "double weave, a cloth over a cloth", draft: table("TIEUP", 1, "1,2,3", 3, "1,3,4"),
			want: []string{`warning [THREADING] {"layers":2}`}},
		{name: "loose threads are no layer", draft: table("THREADING", 1, 2, 3, 0, 1, 2, 3, 4)},
		{name: "three cloths", draft: "[WEAVING]\nShafts=6\nTreadles=6\nRising Shed=true\n" + "[WARP]\nThreads=6\nColor=1\nUnits=Centimeters\nSpacing=0.1\n" + "[WEFT]\nThreads=6\nColor=1\nUnits=Centimeters\nSpacing=0.1\n" + table("TIEUP", "1", "2", "1,2,3", "1,2,4", "1,2,3,4,5", "1,2,3,4,6") + table("THREADING", 1, 2, 3, 4, 5, 6) + table("TREADLING", 1, 2, 3, 4, 5, 6),
			want: []string{`warning [THREADING] {"layers":3}`}},
	})
}
