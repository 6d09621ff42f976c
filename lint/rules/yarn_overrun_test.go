package rules

import "testing"

func TestYarnOverrun(t *testing.T) {
	// Warp: 10 m ÷ 0.9 × 8 ends = 88.889 m. Weft: 10,000 picks × 8 mm = 80 m.
	project := "[project]\nsett = 10/cm\npicks = 10/cm\nfinished length = 10 m\ntake-up = 10 %\n"
	check(t, "yarn/overrun", []row{
		{name: "no yarn known", settings: project},
		{name: "stock unknown", settings: project + "[yarn natural]\ngrist = 100 tex\n"},
		{name: "enough", settings: project + "[yarn natural]\nstock = 169 m\n"},
		{name: "measured", settings: project + "[yarn natural]\nstock = 5 m\n",
			want: []string{`error 1=242,234,216 {"yarn":"natural","needed_m":168.888889,"stock_m":5,"short_m":163.888889}`}},
		{name: "weighed: 10 g of 100 tex are 100 m", settings: project + "[yarn natural]\ngrist = 100 tex\nstock = 10 g\n",
			want: []string{`error 1=242,234,216 {"yarn":"natural","needed_m":168.888889,"stock_m":100,"short_m":68.888889}`}},
		{name: "the warp yarn alone", settings: project + "[yarn a]\nuse = warp\nstock = 80 m\n[yarn b]\nuse = weft\nstock = 80 m\n",
			want: []string{`error 1=242,234,216 {"yarn":"a","needed_m":88.888889,"stock_m":80,"short_m":8.888889}`}},
		{name: "length unknown", settings: "[project]\nsett = 10/cm\n[yarn natural]\nstock = 1 m\n"},
	})
}
