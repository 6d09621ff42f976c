package rules

import "testing"

func TestYarnMargin(t *testing.T) {
	// 8 ends and 10 picks to the centimetre, 8 mm wide. 10 m of cloth: 80 m of warp and
	// 10,000 picks of 8 mm, 80 m. With the usual losses 10 m ÷ 0.92 are woven, 10,870
	// picks of 8.8 mm, 95.656 m; 10 m ÷ 0.92 ÷ 0.95 + 0.7 m are wound, 97.133 m.
	stock := func(metres, project string) string {
		return "[project]\nsett = 10/cm\npicks = 10/cm\nfinished length = 10 m\n" + project + "[yarn natural]\ngrist = 100 tex\nstock = " + metres + " m\n"
	}
	const losses = "take-up = 5 %\nshrinkage = 8 %\nweft take-up = 10 %\nloom waste = 70 cm\n"
	check(t, "yarn/margin", []row{
		{name: "no yarn"},
		{name: "not even enough without losses", settings: stock("159", "")},
		{name: "just enough without losses", settings: stock("160", ""),
			want: []string{`warning 1=242,234,216 {"yarn":"natural","needed_m":160,"usual_m":192.789181,"stock_m":160,"short_m":32.789181,"unstated":["[project] take-up","[project] shrinkage warp","[project] weft take-up","[project] loom waste"]}`}},
		{name: "enough with the usual losses", settings: stock("193", "")},
		{name: "all losses are stated", settings: stock("193", losses)},
		{name: "loom waste alone is unstated", settings: stock("190", "take-up = 5 %\nshrinkage = 8 %\nweft take-up = 10 %\n"),
			want: []string{`warning 1=242,234,216 {"yarn":"natural","needed_m":187.189181,"usual_m":192.789181,"stock_m":190,"short_m":2.789181,"unstated":["[project] loom waste"]}`}},
		{name: "none is a statement too", settings: stock("160", "take-up = 0 %\nshrinkage = 0 %\nweft take-up = 0 %\nloom waste = 0 cm\n")},
		{name: "no stock is stated", settings: "[project]\nsett = 10/cm\npicks = 10/cm\nfinished length = 10 m\n[yarn natural]\ngrist = 100 tex\n"},
	})
}
