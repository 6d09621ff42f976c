package rules

import "testing"

func TestCrowdedDent(t *testing.T) {
	check(t, "reed/crowded-dent", []row{
		{name: "no reed"},
		{name: "two in a dent", settings: "[reed]\ndents = 5/cm\n"},
		{name: "five in a dent", settings: "[reed]\ndents = 2/cm\n",
			want: []string{`warning Spacing=0.1 {"ends_per_dent":5,"limit":4}`}},
		{name: "four in a dent", settings: "[reed]\ndents = 25/10cm\n"},
		{name: "only the fullest dent", settings: "[reed]\ndents = 10/in\n[project]\nsett = 45/in\n",
			want: []string{`warning Spacing=0.1 {"ends_per_dent":5,"limit":4}`}},
		{name: "a limit of the weaver's own", settings: "[reed]\ndents = 5/cm\n[rules]\nreed/crowded-dent = note, 1 thread\n",
			want: []string{`note Spacing=0.1 {"ends_per_dent":2,"limit":1}`}},
	})
}
