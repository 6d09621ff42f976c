package rules

import "testing"

func TestReedSett(t *testing.T) {
	unspaced := "[WARP]\nThreads=8\n"
	check(t, "reed/sett", []row{
		{name: "no reed"},
		{name: "no sett", draft: unspaced, settings: "[reed]\ndents = 10/in\n"},
		{name: "published/P. Osterkamp, weaving tips/10-dent 1-1-1-2 is 12½", draft: unspaced, settings: "[reed]\ndents = 10/in\n[project]\nsett = 12.5/in\n"},
		{name: "published/weaving schools' substitution charts/6-dent 3-3-4 is 20", draft: unspaced, settings: "[reed]\ndents = 6/in\n[project]\nsett = 20/in\n"},
		{name: "published/weaving schools' substitution charts/12-dent 2-2-3 is 28", draft: unspaced, settings: "[reed]\ndents = 12/in\n[project]\nsett = 28/in\n"},
		// Computed: 2.05 per dent; no order of up to 8 dents is nearer than 2.
		{name: "within three percent", draft: unspaced, settings: "[reed]\ndents = 4/cm\n[project]\nsett = 8.2/cm\n",
			want: []string{`note Threads=8 {"sett_per_cm":8.2,"nearest_per_cm":8,"order":[2],"off_percent":-2.439024}`}},
		{name: "not within three percent, and the sett is stated", draft: unspaced, settings: "[reed]\ndents = 10/in\n[project]\nsett = 10.6/in\n",
			want: []string{`warning Threads=8 {"sett_per_cm":4.173228,"nearest_per_cm":3.937008,"order":[1],"off_percent":-5.660377}`}},
		// Computed: 1.0638 per dent; 9 in 8 is 5.75 % more, 1 is 6 % less.
		{name: "not within three percent of the draft's own spacing", settings: "[reed]\ndents = 9.4/cm\n",
			want: []string{`warning Spacing=0.1 {"sett_per_cm":10,"nearest_per_cm":10.575,"order":[1,1,1,1,1,1,1,2],"off_percent":5.75}`}},
		// Computed: 1.15 per dent; 7 in 6 is 1.45 % more, and 8 in 7, 0.62 % less, is nearer but longer.
		{name: "a shorter order than the nearest", draft: unspaced, settings: "[reed]\ndents = 10/in\n[project]\nsett = 11.5/in\n",
			want: []string{`note Threads=8 {"sett_per_cm":4.527559,"nearest_per_cm":4.593176,"order":[1,1,1,1,1,2],"off_percent":1.449275}`}},
		// Computed: 1 mm rounded from 0.992; a file's spacing of few digits is off by as much.
		{name: "the draft's own spacing, rounded", settings: "[reed]\ndents = 50.4/10cm\n",
			want: []string{`note Spacing=0.1 {"sett_per_cm":10,"nearest_per_cm":10.08,"order":[2],"off_percent":0.8}`}},
		{name: "severity stated", draft: unspaced, settings: "[reed]\ndents = 10/in\n[project]\nsett = 10.6/in\n[rules]\nreed/sett = note\n",
			want: []string{`note Threads=8 {"sett_per_cm":4.173228,"nearest_per_cm":3.937008,"order":[1],"off_percent":-5.660377}`}},
		{name: "another reed serves", draft: unspaced,
			settings: "[reed coarse]\ndents = 4/cm\n[reed fine]\ndents = 41/10cm\n[project]\nsett = 8.2/cm\nreed = coarse\n",
			want:     []string{`note Threads=8 {"sett_per_cm":8.2,"nearest_per_cm":8,"order":[2],"off_percent":-2.439024}`}},
		{name: "another reed is chosen", draft: unspaced, settings: "[reed]\ndents = 4/cm\n[reed fine]\ndents = 41/10cm\n[project]\nsett = 8.2/cm\n"},
		// Spacings alternate between 1 and 1.5 mm: 1.25 mm on average, 8 ends per cm.
		{name: "uneven spacing", draft: table("WARP SPACING", 0.1, 0.15, 0.1, 0.15, 0.1, 0.15, 0.1, 0.15), settings: "[reed]\ndents = 7.52/cm\n",
			want: []string{`warning Spacing=0.1 {"sett_per_cm":8,"nearest_per_cm":8.46,"order":[1,1,1,1,1,1,1,2],"off_percent":5.75}`}},
	})
}
