package rules

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

func TestYarnSett(t *testing.T) {
	plain := "[WARP]\nThreads=8\nColor=1\n" + table("TIEUP", "1,3", "2,4", "1,3", "2,4")
	twill := "[WARP]\nThreads=8\nColor=1\n"
	double := "[WARP]\nThreads=8\nColor=1\n" + table("TIEUP", "1", "1,2,3", "3", "1,3,4")
	yarn := "[yarn natural]\ngrist = 3360 yd/lb\n" // the size of 8/2 cotton, and k is 0.9
	cotton := "[yarn natural]\ngrist = 8/2 cotton\n"
	// Treadles 1 to 4 weave twill, 5 and 6 plain weave.
	both := func(treadling ...any) string {
		return fmt.Sprintf("[WEAVING]\nShafts=4\nTreadles=6\nRising Shed=true\n[WARP]\nThreads=8\nColor=1\n[WEFT]\nThreads=%d\nColor=1\n", len(treadling)) +
			table("TIEUP", "1,2", "2,3", "3,4", "1,4", "1,3", "2,4") + table("TREADLING", treadling...)
	}
	times := func(n int, list ...any) []any { return slices.Repeat(list, n) }
	sett := func(s string) string { return "[project]\nsett = " + s + "\n" }
	const thickAndFine = "[yarn thick]\ngrist = 3360 yd/lb\npalette = 1\n[yarn fine]\ngrist = 6720 yd/lb\npalette = 2\n"
	check(t, "yarn/sett", []row{
		{name: "no yarn known", draft: plain, settings: sett("40/in")},
		{name: "grist unknown", draft: plain, settings: sett("40/in") + "[yarn natural]\n"},
		{name: "sett unknown", draft: plain, settings: yarn},
		// Faena: 8/2 cotton with k 0.9 has 52 diameters per inch, so 26 ends per inch in
		// plain weave.
		{name: "published/Ashenhurst's rule, teaching page, 1999/8/2 cotton in plain weave at its closest", draft: plain, settings: sett("26/in") + cotton + "[rules]\nyarn/sett = warning, k 0.9\n"},
		{name: "plain weave closer", draft: plain, settings: sett("27/in") + yarn,
			want: []string{`warning Threads=8 {"yarn":"natural","sett_per_cm":10.629921,"max_per_cm":10.26948,"percent":103.509834}`}},
		// Faena prints 34 for 2/2 twill; the rule gives 34.78.
		{name: "published/Ashenhurst's rule, teaching page, 1999/8/2 cotton in 2/2 twill at its closest", draft: twill, settings: sett("34.7/in") + cotton + "[rules]\nyarn/sett = warning, k 0.9\n"},
		{name: "2/2 twill closer", draft: twill, settings: sett("35/in") + yarn,
			want: []string{`warning Threads=8 {"yarn":"natural","sett_per_cm":13.779528,"max_per_cm":13.692639,"percent":100.634561}`}},
		{name: "k as mills have it for cotton", draft: plain, settings: sett("27/in") + yarn + "[rules]\nyarn/sett = warning, k 0.95\n"},
		{name: "nine tenths at most", draft: plain, settings: sett("24/in") + yarn + "[rules]\nyarn/sett = note, 90 %\n",
			want: []string{`note Threads=8 {"yarn":"natural","sett_per_cm":9.448819,"max_per_cm":10.26948,"percent":92.008741}`}},
		{name: "a weft yarn is not set", draft: plain, settings: sett("27/in") + yarn + "use = weft\n[yarn fine]\ngrist = 6720 yd/lb\nuse = warp\n"},
		{name: "cotton has k 0.92", draft: plain, settings: sett("26.6/in") + cotton},
		{name: "cotton over that", draft: plain, settings: sett("27/in") + cotton,
			want: []string{`warning Threads=8 {"yarn":"natural","sett_per_cm":10.629921,"max_per_cm":10.49769,"percent":101.25962}`}},
		// 6 cut is 1800 yd/lb: 42.426 × 0.84 = 35.638 diameters an inch, half of them in plain weave.
		{name: "woollen has k 0.84", draft: plain, settings: sett("18/in") + "[yarn natural]\ngrist = 6 cut\n",
			want: []string{`warning Threads=8 {"yarn":"natural","sett_per_cm":7.086614,"max_per_cm":7.01539,"percent":101.015254}`}},
		{name: "a stated k is for all counts", draft: plain, settings: sett("18/in") + "[yarn natural]\ngrist = 6 cut\n[rules]\nyarn/sett = warning, k 0.9\n"},
		// Two twill picks of color 2 between picks of plain weave: the tabby has half of the picks.
		{name: "overshot is held to its tabby", draft: both(times(8, 5, 1, 6, 2)...) + table("WEFT COLORS", times(16, 1, 2)...), settings: sett("30/in") + yarn,
			want: []string{`warning Threads=8 {"yarn":"natural","sett_per_cm":11.811024,"max_per_cm":10.26948,"percent":115.010927}`}},
		{name: "plain weave in a fifth of the picks", draft: both(append(times(8, 1, 2, 3, 4), times(4, 5, 6)...)...), settings: sett("30/in") + yarn,
			want: []string{`warning Threads=8 {"yarn":"natural","sett_per_cm":11.811024,"max_per_cm":10.26948,"percent":115.010927}`}},
		{name: "plain weave in less than a tenth", draft: both(append(times(24, 1, 2, 3, 4), times(4, 5, 6)...)...), settings: sett("30/in") + yarn,
			want: []string{`note Threads=8 {"yarn":"natural","sett_per_cm":11.811024,"max_per_cm":10.26948,"percent":115.010927}`}},
		{name: "twill closer, with a little plain weave", draft: both(append(times(24, 1, 2, 3, 4), times(4, 5, 6)...)...), settings: sett("35/in") + yarn,
			want: []string{`warning Threads=8 {"yarn":"natural","sett_per_cm":13.779528,"max_per_cm":13.692639,"percent":100.634561}`}},
		{name: "four picks of plain weave are no stretch", draft: both(append(times(24, 1, 2, 3, 4), 5, 6, 5, 6)...), settings: sett("30/in") + yarn},
		// Diameters: 1/52.169 in and 1/73.778 in, 1/61.121 on average; half of them in plain weave.
		{name: "two yarns by turns", draft: plain + table("WARP COLORS", times(4, 1, 2)...), settings: sett("31/in") + thickAndFine,
			want: []string{`warning Threads=8 {"yarn":"thick","sett_per_cm":12.204724,"max_per_cm":12.031444,"percent":101.440232}`}},
		{name: "two yarns by turns, at their closest", draft: plain + table("WARP COLORS", times(4, 1, 2)...), settings: sett("30.5/in") + thickAndFine},
		{name: "a stripe of the thick one", draft: strings.Replace(plain, "=8", "=16", 1) + table("THREADING", times(4, 1, 2, 3, 4)...) + table("WARP COLORS", append(times(8, 1), times(8, 2)...)...), settings: sett("27/in") + thickAndFine,
			want: []string{`warning Threads=16 {"yarn":"thick","sett_per_cm":10.629921,"max_per_cm":10.26948,"percent":103.509834}`}},
		{name: "the other yarn is of unknown size", draft: plain + table("WARP COLORS", times(4, 1, 2)...), settings: sett("31/in") + "[yarn thick]\ngrist = 3360 yd/lb\npalette = 1\n[yarn fine]\npalette = 2\n"},
		{name: "layers lie one on the other", draft: double, settings: sett("60/in") + yarn},
	})
}
