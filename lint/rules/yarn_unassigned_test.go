package rules

import "testing"

func TestYarnUnassigned(t *testing.T) {
	const natural = "[yarn natural]\ngrist = 8/2 cotton\ncolor = #f2ead8\n"
	check(t, "yarn/unassigned", []row{
		{name: "no yarn known"},
		{name: "one yarn for all", settings: "[yarn natural]\ngrist = 8/2 cotton\n"},
		{name: "second color left over", draft: "[WARP COLORS]\n3=2\n", settings: "[yarn natural]\ngrist = 8/2 cotton\ncolor = #f2ead8\n",
			want: []string{`warning 2=34,49,63 {"color":2}`}},
		{name: "warp yarn is not for the weft", settings: "[yarn natural]\ngrist = 8/2 cotton\ncolor = #f2ead8\nuse = warp\n",
			want: []string{`warning 1=242,234,216 {"color":1}`}},
		{name: "weft yarn is not for the warp", draft: "[WARP]\nThreads=8\n", settings: "[yarn natural]\ngrist = 8/2 cotton\nuse = weft\n",
			want: []string{`warning Threads=8 {"color":0}`}},
		{name: "a color beyond the palette is told by draft/color-index", draft: "[WARP COLORS]\n3=7\n", settings: natural},
		{name: "but not where that is off", draft: "[WARP COLORS]\n3=7\n", settings: natural + "[rules]\ndraft/color-index = off\n",
			want: []string{`warning [COLOR TABLE] {"color":7}`}},
		{name: "threads without a color", draft: "[WARP]\nThreads=8\n", settings: "[yarn natural]\ngrist = 8/2 cotton\ncolor = #f2ead8\n",
			want: []string{`warning Threads=8 {"color":0}`}},
	})
}
