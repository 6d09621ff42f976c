package rules

import "testing"

func TestYarnOpenSett(t *testing.T) {
	plain := "[WARP]\nThreads=8\nColor=1\n[WEFT]\nThreads=8\nColor=1\n" + table("TIEUP", "1,3", "2,4", "1,3", "2,4")
	// 52.169 diameters an inch, half of them in plain weave: 40 % is 10.434.
	const yarn = "[yarn natural]\ngrist = 3360 yd/lb\n"
	sett := func(s, more string) string { return "[project]\nsett = " + s + "\n" + more }
	check(t, "yarn/open-sett", []row{
		{name: "no yarn", draft: plain, settings: sett("5/in", "")},
		{name: "no sett", draft: plain, settings: yarn},
		{name: "over 40 %", draft: plain, settings: sett("10.5/in", yarn)},
		{name: "under 40 %", draft: plain, settings: sett("10/in", yarn),
			want: []string{`note Threads=8 {"yarn":"natural","sett_per_cm":3.937008,"max_per_cm":10.26948,"percent":38.336976}`}},
		{name: "balanced and open", draft: plain, settings: sett("10/in", "picks = 10/in\n"+yarn),
			want: []string{`note Threads=8 {"yarn":"natural","sett_per_cm":3.937008,"max_per_cm":10.26948,"percent":38.336976}`}},
		{name: "fine stripes among thick ones", draft: plain + "[WARP COLORS]\n2=2\n", settings: sett("12/in", "[yarn thick]\ngrist = 3360 yd/lb\npalette = 1\n[yarn fine]\ngrist = 9000 yd/lb\npalette = 2\n")},
		{name: "weft-faced", draft: plain, settings: sett("8/in", "picks = 40/in\n"+yarn)},
		{name: "a weft of unknown size", draft: plain, settings: sett("8/in", yarn+"use = warp\n[yarn rags]\nuse = weft\n")},
	})
}
