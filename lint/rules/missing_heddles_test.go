package rules

import "testing"

func TestMissingHeddles(t *testing.T) {
	check(t, "loom/missing-heddles", []row{
		{name: "heddles not counted"},
		{name: "enough", settings: "[heddles]\neach = 2\n"},
		{name: "second end of a shaft", settings: "[heddles]\neach = 2\n3 = 1\n", says: "shaft 3 needs 2 heddles and has 1, 1 short; they run out at end 7",
			want: []string{`error 7=3 {"shaft":3,"needed":2,"available":1,"short":1}`}},
		{name: "point draft", draft: "[WEAVING]\nShafts=5\nTreadles=4\nRising Shed=true\n" + table("THREADING", 1, 2, 3, 4, 5, 4, 3, 2), settings: "[heddles]\neach = 10\n[project]\nrepeats = 6\n", says: "shaft 2 needs 12 heddles and has 10",
			want: []string{`error 2=2 {"shaft":2,"needed":12,"available":10,"short":2}`, `error 3=3 {"shaft":3,"needed":12,"available":10,"short":2}`, `error 4=4 {"shaft":4,"needed":12,"available":10,"short":2}`}},
	})
}
