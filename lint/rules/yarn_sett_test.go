package rules

import "testing"

func TestYarnSett(t *testing.T) {
	plain := "[WARP]\nThreads=8\nColor=1\n" + table("TIEUP", "1,3", "2,4", "1,3", "2,4")
	twill := "[WARP]\nThreads=8\nColor=1\n"
	double := "[WARP]\nThreads=8\nColor=1\n" + table("TIEUP", "1", "1,2,3", "3", "1,3,4")
	yarn := "[yarn natural]\ngrist = 8/2 cotton\n"
	sett := func(s string) string { return "[project]\nsett = " + s + "\n" }
	check(t, "yarn/sett", []row{
		{name: "no yarn known", draft: plain, settings: sett("40/in")},
		{name: "grist unknown", draft: plain, settings: sett("40/in") + "[yarn natural]\n"},
		{name: "sett unknown", draft: plain, settings: yarn},
		// A teaching page of 1999 on Ashenhurst's rule: 8/2 cotton, k 0.9, is 52
		// diameters an inch, 26 ends an inch in plain weave.
		{name: "published/Ashenhurst's rule, teaching page, 1999/8/2 cotton in plain weave at its closest", draft: plain, settings: sett("26/in") + yarn},
		{name: "plain weave closer", draft: plain, settings: sett("27/in") + yarn,
			want: []string{`warning Threads=8 {"yarn":"natural","sett_per_cm":10.629921,"max_per_cm":10.26948,"percent":103.509834}`}},
		// The same page prints 34 for the 2/2 twill; the rule gives 34.78.
		{name: "published/Ashenhurst's rule, teaching page, 1999/8/2 cotton in 2/2 twill at its closest", draft: twill, settings: sett("34.7/in") + yarn},
		{name: "2/2 twill closer", draft: twill, settings: sett("35/in") + yarn,
			want: []string{`warning Threads=8 {"yarn":"natural","sett_per_cm":13.779528,"max_per_cm":13.692639,"percent":100.634561}`}},
		{name: "k as mills have it for cotton", draft: plain, settings: sett("27/in") + yarn + "[rules]\nyarn/sett = warning, k 0.95\n"},
		{name: "nine tenths at most", draft: plain, settings: sett("24/in") + yarn + "[rules]\nyarn/sett = note, 90 %\n",
			want: []string{`note Threads=8 {"yarn":"natural","sett_per_cm":9.448819,"max_per_cm":10.26948,"percent":92.008741}`}},
		{name: "a weft yarn is not set", draft: plain, settings: sett("27/in") + yarn + "use = weft\n[yarn fine]\ngrist = 16/2 cotton\nuse = warp\n"},
		{name: "only the thick one of two", draft: plain + "[WARP COLORS]\n2=2\n", settings: sett("27/in") +
			"[yarn thick]\ngrist = 8/2 cotton\npalette = 1\n[yarn fine]\ngrist = 16/2 cotton\npalette = 2\n",
			want: []string{`warning Threads=8 {"yarn":"thick","sett_per_cm":10.629921,"max_per_cm":10.26948,"percent":103.509834}`}},
		{name: "layers lie one on the other", draft: double, settings: sett("60/in") + yarn},
	})
}
