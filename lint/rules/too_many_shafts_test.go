package rules

import "testing"

func TestTooManyShafts(t *testing.T) {
	check(t, "loom/too-many-shafts", []row{
		{name: "loom unknown"},
		{name: "just enough", settings: "[loom]\nshafts = 4\n"},
		{name: "one too few", settings: "[loom]\nshafts = 3\n",
			want: []string{`error Shafts=4 {"needed":4,"available":3}`}},
		{name: "numbered anew it fits", draft: "[WEAVING]\nShafts=8\nTreadles=4\nRising Shed=true\n" + table("THREADING", 1, 3, 5, 7, 1, 3, 5, 7) + table("TIEUP", "1,3", "3,5", "5,7", "1,7"), settings: "[loom]\nshafts = 4\n",
			want: []string{`error Shafts=8 {"needed":7,"available":4}`}},
		{name: "ends that weave alike", draft: "[WEAVING]\nShafts=8\nTreadles=4\nRising Shed=true\n" + table("THREADING", 1, 2, 3, 4, 5, 6, 7, 8) + table("TIEUP", "1,2,5,6", "2,3,6,7", "3,4,7,8", "1,4,5,8"), settings: "[loom]\nshafts = 4\n", want: []string{`error Shafts=8 {"needed":8,"available":4}`}},
		{name: "more declared than named", draft: "[WEAVING]\nShafts=8\nTreadles=4\nRising Shed=true\n", settings: "[loom]\nshafts = 4\n"},
	})
}
