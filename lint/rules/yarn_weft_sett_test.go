package rules

import (
	"slices"
	"testing"
)

func TestYarnWeftSett(t *testing.T) {
	plain := "[WARP]\nThreads=8\nColor=1\n[WEFT]\nThreads=8\nColor=1\n" + table("TIEUP", "1,3", "2,4", "1,3", "2,4")
	twill := "[WARP]\nThreads=8\nColor=1\n[WEFT]\nThreads=8\nColor=1\n"
	// Plain weave in color 1 between twill picks in color 2.
	overshot := "[WEAVING]\nShafts=4\nTreadles=6\nRising Shed=true\n[WARP]\nThreads=8\nColor=1\n[WEFT]\nThreads=16\nColor=1\n" +
		table("TIEUP", "1,2", "2,3", "3,4", "1,4", "1,3", "2,4") + table("TREADLING", 5, 1, 6, 1, 5, 2, 6, 2, 5, 3, 6, 3, 5, 4, 6, 4) +
		table("WEFT COLORS", slices.Repeat([]any{1, 2}, 8)...)
	// 52.169 diameters an inch.
	const yarn = "[yarn natural]\ngrist = 3360 yd/lb\n"
	project := func(sett, picks string) string { return "[project]\nsett = " + sett + "\npicks = " + picks + "\n" }
	check(t, "yarn/weft-sett", []row{
		{name: "no yarn", draft: plain, settings: project("20/in", "40/in")},
		{name: "no picks", draft: plain, settings: "[project]\nsett = 20/in\n" + yarn},
		{name: "at the maximum", draft: plain, settings: project("20/in", "26/in") + yarn},
		{name: "over the maximum", draft: plain, settings: project("20/in", "27/in") + yarn,
			want: []string{`note Threads=8 {"yarn":"natural","picks_per_cm":10.629921,"max_per_cm":10.26948,"percent":103.509834}`}},
		{name: "a twill takes more", draft: twill, settings: project("20/in", "34/in") + yarn},
		{name: "over that of the twill", draft: twill, settings: project("20/in", "35/in") + yarn,
			want: []string{`note Threads=8 {"yarn":"natural","picks_per_cm":13.779528,"max_per_cm":13.692639,"percent":100.634561}`}},
		{name: "weft-faced, under twice the maximum", draft: plain, settings: project("12/in", "52/in") + yarn},
		{name: "weft-faced, over twice the maximum", draft: plain, settings: project("12/in", "53/in") + yarn,
			want: []string{`note Threads=8 {"yarn":"natural","picks_per_cm":20.866142,"max_per_cm":10.26948,"percent":203.18597}`}},
		{name: "pattern and tabby", draft: overshot, settings: project("20/in", "50/in") + yarn},
		{name: "too much tabby", draft: overshot, settings: project("20/in", "54/in") + yarn,
			want: []string{`note Threads=16 {"yarn":"natural","picks_per_cm":10.629921,"max_per_cm":10.26948,"percent":103.509834}`}},
	})
}
