package rules

import "testing"

func TestTooManyTreadles(t *testing.T) {
	check(t, "loom/too-many-treadles", []row{
		{name: "loom unknown"},
		{name: "just enough", settings: "[loom]\ntreadles = 4\n"},
		{name: "one too few", settings: "[loom]\ntreadles = 3\n",
			want: []string{`error Treadles=4 {"needed":4,"available":3}`}},
		{name: "a dobby has none", settings: "[loom]\ntreadles = 0\n"},
		{name: "it fits after renumbering", draft: table("TREADLING", 1, 2, 4, 2, 1, 2, 4, 2), settings: "[loom]\ntreadles = 3\n",
			want: []string{`error Treadles=4 {"needed":4,"available":3}`}},
		{name: "lift plan on a treadle loom", draft: "[WEAVING]\nShafts=4\nTreadles=0\nRising Shed=true\n" + "[TREADLING]\n[TIEUP]\n" + table("LIFTPLAN", "1,2", "1,3", "2,3", "2,4", "3,4", "1,3", "1,4", "2,4"), settings: "[loom]\ntreadles = 5\n",
			want: []string{`warning Treadles=0 {"needed":6,"available":5}`}},
		{name: "two feet suffice", draft: "[WEAVING]\nShafts=4\nTreadles=0\nRising Shed=true\n" + "[TREADLING]\n[TIEUP]\n" + table("LIFTPLAN", "1,2", "1,3", "2,3", "2,4", "3,4", "1,3", "1,4", "2,4"), settings: "[loom]\ntreadles = 4\n",
			want: []string{`warning Treadles=0 {"needed":6,"available":4}`}},
		{name: "two feet do not", draft: "[WEAVING]\nShafts=4\nTreadles=0\nRising Shed=true\n" + "[TREADLING]\n[TIEUP]\n" + table("LIFTPLAN", "1,2", "1,3", "2,3", "2,4", "3,4", "1,3", "1,4", "2,4"), settings: "[loom]\ntreadles = 3\n",
			want: []string{`error Treadles=0 {"needed":6,"available":3}`}},
		{name: "a counterbalance loom presses one", draft: "[WEAVING]\nShafts=4\nTreadles=0\nRising Shed=true\n" + "[TREADLING]\n[TIEUP]\n" + table("LIFTPLAN", "1,2", "1,3", "2,3", "2,4", "3,4", "1,3", "1,4", "2,4"), settings: "[loom]\ntreadles = 4\nshed = balanced\n",
			want: []string{`error Treadles=0 {"needed":6,"available":4}`}},
		{name: "one at once is stated", draft: "[WEAVING]\nShafts=4\nTreadles=0\nRising Shed=true\n" + "[TREADLING]\n[TIEUP]\n" + table("LIFTPLAN", "1,2", "1,3", "2,3", "2,4", "3,4", "1,3", "1,4", "2,4"), settings: "[loom]\ntreadles = 4\ntreadles at once = 1\n",
			want: []string{`error Treadles=0 {"needed":6,"available":4}`}},
		// Six treadles make each lift once; four do with two feet, a shaft each.
		{name: "a treadled draft for two feet", draft: "[WEAVING]\nShafts=4\nTreadles=6\nRising Shed=true\n" +
			table("TIEUP", "1,2", "1,3", "2,3", "2,4", "3,4", "1,4") + table("TREADLING", 1, 2, 3, 4, 5, 6, 1, 2), settings: "[loom]\ntreadles = 4\n",
			want: []string{`warning Treadles=6 {"needed":6,"available":4}`}},
		// Three treadles move shafts 1 and 2, three move 3 and 4: nine lifts, eight of them used.
		{name: "countermarch presses two together", draft: "[WEAVING]\nShafts=4\nTreadles=6\nRising Shed=true\n" +
			table("TIEUP", 1, 2, "1,2", 3, 4, "3,4") + table("TREADLING", "1,4", "1,5", "1,6", "2,4", "2,5", "2,6", "3,4", "3,5"), settings: "[loom]\ntreadles = 6\nshed = countermarch\n",
			want: []string{`warning Treadles=6 {"needed":8,"available":6}`}},
		{name: "lift plan with as many lifts as treadles", draft: "[WEAVING]\nShafts=4\nTreadles=0\nRising Shed=true\n" + "[TREADLING]\n[TIEUP]\n" + table("LIFTPLAN", "1,2", "1,3", "2,3", "2,4", "3,4", "1,3", "1,4", "2,4"), settings: "[loom]\ntreadles = 6\n"},
		// One shaft on each treadle, and two feet: four treadles make six lifts.
		{name: "lift plan beside a tie-up: the treadles count", settings: "[loom]\ntreadles = 4\n",
			draft: table("TIEUP", 1, 2, 3, 4) + table("TREADLING", "1,2", "1,3", "2,3", "2,4", "3,4", "1,3", "1,4", "2,4") +
				table("LIFTPLAN", "1,2", "1,3", "2,3", "2,4", "3,4", "1,3", "1,4", "2,4")},
	})
}
