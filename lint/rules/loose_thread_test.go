package rules

import "testing"

func TestLooseThread(t *testing.T) {
	check(t, "cloth/loose-thread", []row{
		{name: "woven in"},
		{name: "end on a shaft that nothing lifts", draft: "[WEAVING]\nShafts=5\nTreadles=4\nRising Shed=true\n" + table("THREADING", 1, 2, 3, 4, 5, 2, 3, 4),
			want: []string{`error 5=5 {"system":"warp","threads":[5],"count":1}`}},
		{name: "end that every pick lifts", draft: table("TIEUP", "1,2,4", "2,3,4", "3,4", "1,4"),
			want: []string{`error 4=4 {"system":"warp","threads":[4,8],"count":2}`}},
		{name: "picks under everything", draft: table("TREADLING", 1, 2, 3, "1,3", 1, 2, 3, "1,3"),
			want: []string{`error 4=1,3 {"system":"weft","threads":[4,8],"count":2}`}},
		{name: "floating selvedges are meant", draft: table("THREADING", 0, 2, 3, 4, 1, 2, 3, 0), settings: "[project]\nfloating selvedges = yes\n"},
		{name: "an edge end that is threaded does not float", draft: "[WEAVING]\nShafts=5\nTreadles=4\nRising Shed=true\n" + table("THREADING", 5, 2, 3, 4, 1, 2, 3, 4), settings: "[project]\nfloating selvedges = yes\n",
			want: []string{`error 1=5 {"system":"warp","threads":[1],"count":1}`}},
		{name: "no picks", draft: "[TREADLING]\n" + "[WEFT]\nThreads=0\nColor=1\nUnits=Centimeters\nSpacing=0.1\n"},
	})
}
