package rules

import "testing"

func TestTooWide(t *testing.T) {
	check(t, "loom/too-wide", []row{
		{name: "loom unknown"},
		{name: "as wide as the loom", settings: "[loom]\nweaving width = 8 mm\n"},
		{name: "wider", settings: "[loom]\nweaving width = 5 mm\n",
			want: []string{`error Spacing=0.1 {"width_mm":8,"limit_mm":5}`}},
		{name: "by repeats and balance", draft: "[WARP]\nThreads=8\n", settings: "[loom]\nweaving width = 40 cm\n[project]\nsett = 10/cm\nrepeats = 50\nbalance = 4\n",
			want: []string{`error Threads=8 {"width_mm":404,"limit_mm":400}`}},
		{name: "by the sett that can be sleyed", settings: "[loom]\nweaving width = 9.9 mm\n[reed]\ndents = 4/cm\n[project]\nsett = 8.2/cm\n",
			want: []string{`error Spacing=0.1 {"width_mm":10,"limit_mm":9.9}`}},
		{name: "sett unknown", draft: "[WARP]\nThreads=8\n", settings: "[loom]\nweaving width = 5 mm\n"},
	})
}
