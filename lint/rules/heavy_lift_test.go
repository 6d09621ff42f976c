package rules

import "testing"

func TestHeavyLift(t *testing.T) {
	// Eight shafts, threaded straight. Each of eight treadles ties seven of them.
	eight := func(shed, treadling string, tieup ...any) string {
		return "[WEAVING]\nShafts=8\nTreadles=8\n" + shed + "\n" + table("THREADING", 1, 2, 3, 4, 5, 6, 7, 8) + table("TIEUP", tieup...) + treadling
	}
	seven := []any{"2,3,4,5,6,7,8", "1,3,4,5,6,7,8", "1,2,4,5,6,7,8", "1,2,3,5,6,7,8", "1,2,3,4,6,7,8", "1,2,3,4,5,7,8", "1,2,3,4,5,6,8", "1,2,3,4,5,6,7"}
	one := []any{1, 2, 3, 4, 5, 6, 7, 8}
	all := table("TREADLING", 1, 2, 3, 4, 5, 6, 7, 8)
	// Treadles 1 to 4 tie one shaft.
	half := append(append([]any{}, one[:4]...), seven[4:]...)
	most := append(append([]any{}, one[:3]...), seven[3:]...)
	rising, sinking := "Rising Shed=true", "Rising Shed=false"
	check(t, "loom/heavy-lift", []row{
		{name: "two of four"},
		{name: "three of four is not more than three quarters", draft: table("TIEUP", "1,2,3", "2,3,4", "1,3,4", "1,2,4")},
		{name: "seven of eight", draft: eight(rising, all, seven...),
			want: []string{`note 1=1 {"picks":[1,2,3,4,5,6,7,8],"count":8,"lifted":7,"of":8}`}},
		{name: "one of eight", draft: eight(rising, all, one...)},
		{name: "half of the picks", draft: eight(rising, all, half...)},
		{name: "five of eight picks", draft: eight(rising, all, most...),
			want: []string{`note 4=4 {"picks":[4,5,6,7,8],"count":5,"lifted":7,"of":8}`}},
		{name: "a sinking draft pulls them down", draft: eight(sinking, all, seven...)},
		{name: "a sinking draft of one, on a rising loom", draft: eight(sinking, all, one...), settings: "[loom]\nshed = rising\n",
			want: []string{`note 1=1 {"picks":[1,2,3,4,5,6,7,8],"count":8,"lifted":7,"of":8}`}},
		{name: "a countermarch loom", draft: eight(rising, all, seven...), settings: "[loom]\nshed = countermarch\n"},
	})
}
