package rules

import "testing"

func TestTooManyTreadles(t *testing.T) {
	check(t, "loom/too-many-treadles", []row{
		{name: "loom unknown"},
		{name: "just enough", settings: "[loom]\ntreadles = 4\n"},
		{name: "one too few", settings: "[loom]\ntreadles = 3\n",
			want: []string{`error Treadles=4 {"needed":4,"available":3}`}},
		{name: "a dobby has none", settings: "[loom]\ntreadles = 0\n"},
		{name: "numbered anew it fits", draft: table("TREADLING", 1, 2, 4, 2, 1, 2, 4, 2), settings: "[loom]\ntreadles = 3\n",
			want: []string{`error Treadles=4 {"needed":4,"available":3}`}},
		{name: "lift plan on a treadle loom", draft: "[WEAVING]\nShafts=4\nTreadles=0\nRising Shed=true\n" + "[TREADLING]\n[TIEUP]\n" + table("LIFTPLAN", "1,2", "1,3", "2,3", "2,4", "3,4", "1,3", "1,4", "2,4"), settings: "[loom]\ntreadles = 5\n",
			want: []string{`error Treadles=0 {"needed":6,"available":5}`}},
		{name: "two feet suffice", draft: "[WEAVING]\nShafts=4\nTreadles=0\nRising Shed=true\n" + "[TREADLING]\n[TIEUP]\n" + table("LIFTPLAN", "1,2", "1,3", "2,3", "2,4", "3,4", "1,3", "1,4", "2,4"), settings: "[loom]\ntreadles = 4\n",
			want: []string{`error Treadles=0 {"needed":6,"available":4}`}},
		{name: "two feet do not", draft: "[WEAVING]\nShafts=4\nTreadles=0\nRising Shed=true\n" + "[TREADLING]\n[TIEUP]\n" + table("LIFTPLAN", "1,2", "1,3", "2,3", "2,4", "3,4", "1,3", "1,4", "2,4"), settings: "[loom]\ntreadles = 3\n",
			want: []string{`error Treadles=0 {"needed":6,"available":3}`}},
		{name: "a counterbalance loom presses one", draft: "[WEAVING]\nShafts=4\nTreadles=0\nRising Shed=true\n" + "[TREADLING]\n[TIEUP]\n" + table("LIFTPLAN", "1,2", "1,3", "2,3", "2,4", "3,4", "1,3", "1,4", "2,4"), settings: "[loom]\ntreadles = 4\nshed = balanced\n",
			want: []string{`error Treadles=0 {"needed":6,"available":4}`}},
		{name: "lift plan with as many lifts as treadles", draft: "[WEAVING]\nShafts=4\nTreadles=0\nRising Shed=true\n" + "[TREADLING]\n[TIEUP]\n" + table("LIFTPLAN", "1,2", "1,3", "2,3", "2,4", "3,4", "1,3", "1,4", "2,4"), settings: "[loom]\ntreadles = 6\n"},
		// A shaft a treadle and two feet: four treadles make the six lifts.
		{name: "lift plan beside a tie-up: the treadles count", settings: "[loom]\ntreadles = 4\n",
			draft: table("TIEUP", 1, 2, 3, 4) + table("TREADLING", "1,2", "1,3", "2,3", "2,4", "3,4", "1,3", "1,4", "2,4") +
				table("LIFTPLAN", "1,2", "1,3", "2,3", "2,4", "3,4", "1,3", "1,4", "2,4")},
	})
}
