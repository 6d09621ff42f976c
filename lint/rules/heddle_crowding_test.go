package rules

import "testing"

func TestHeddleCrowding(t *testing.T) {
	check(t, "loom/heddle-crowding", []row{
		{name: "sett unknown", draft: "[WARP]\nThreads=8\n"},
		{name: "plain weave on two shafts", draft: "[WEAVING]\nShafts=2\nTreadles=2\nRising Shed=true\n" + table("TIEUP", 1, 2) + table("THREADING", 1, 2, 1, 2, 1, 2, 1, 2) + table("TREADLING", 1, 2, 1, 2, 1, 2, 1, 2), settings: "[project]\nsett = 20/cm\n",
			want: []string{`warning 1=1 {"shaft":1,"per_cm":10,"limit":8}`, `warning 2=2 {"shaft":2,"per_cm":10,"limit":8}`}},
		{name: "on four", settings: "[project]\nsett = 20/cm\n"},
		{name: "exactly at the limit", settings: "[project]\nsett = 32/cm\n"},
		{name: "a limit of the weaver's own", settings: "[project]\nsett = 20/cm\n[rules]\nloom/heddle-crowding = error, 4/cm\n",
			want: []string{`error 1=1 {"shaft":1,"per_cm":5,"limit":4}`, `error 2=2 {"shaft":2,"per_cm":5,"limit":4}`, `error 3=3 {"shaft":3,"per_cm":5,"limit":4}`, `error 4=4 {"shaft":4,"per_cm":5,"limit":4}`}},
		{name: "first end on the shaft", draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=true\n" + table("THREADING", 4, 1, 1, 1, 1, 1, 2, 3), settings: "[project]\nsett = 16/cm\n",
			want: []string{`warning 2=1 {"shaft":1,"per_cm":10,"limit":8}`}},
	})
}
