package rules

import "testing"

func TestMissingHeddles(t *testing.T) {
	check(t, "loom/missing-heddles", []row{
		{name: "heddles not counted"},
		{name: "enough", settings: "[heddles]\neach = 2\n"},
		{name: "second end of a shaft", settings: "[heddles]\neach = 2\n3 = 1\n",
			want: []string{`error 7=3 {"shaft":3,"needed":2,"available":1,"short":1}`}},
		{name: "spare shafts take the rest", draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=true\n", settings: "[loom]\nshafts = 8\n[heddles]\neach = 2\n3 = 1\n",
			want: []string{`error 7=3 {"shaft":3,"needed":2,"available":1,"short":1}`}},
		{name: "point draft", draft: "[WEAVING]\nShafts=5\nTreadles=4\nRising Shed=true\n" + table("THREADING", 1, 2, 3, 4, 5, 4, 3, 2), settings: "[heddles]\neach = 10\n[project]\nrepeats = 6\n",
			want: []string{`error 2=2 {"shaft":2,"needed":12,"available":10,"short":2}`, `error 3=3 {"shaft":3,"needed":12,"available":10,"short":2}`, `error 4=4 {"shaft":4,"needed":12,"available":10,"short":2}`}},
		// Five healds, 1, 2, 3, 4 and 2 ends on each in a repeat of 12, five repeats to the inch.
		{name: "published/C. P. Brooks, Cotton Manufacturing/point draft on five healds, 5, 10, 15, 20, 10",
			draft: "[WEAVING]\nShafts=5\nTreadles=4\nRising Shed=true\n[WARP]\nThreads=12\n" +
				table("THREADING", 1, 2, 3, 4, 5, 4, 3, 2, 3, 4, 5, 4), settings: "[heddles]\neach = 9\n1 = 4\n[project]\nrepeats = 5\n",
			want: []string{
				`error 1=1 {"shaft":1,"needed":5,"available":4,"short":1}`,
				`error 3=3 {"shaft":3,"needed":15,"available":9,"short":6}`,
				`error 6=4 {"shaft":4,"needed":20,"available":9,"short":11}`,
				`error 8=2 {"shaft":2,"needed":10,"available":9,"short":1}`,
				`error 11=5 {"shaft":5,"needed":10,"available":9,"short":1}`}},
	})
}
