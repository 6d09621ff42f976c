package rules

import "testing"

func TestTooShort(t *testing.T) {
	check(t, "reed/too-short", []row{
		{name: "no reed"},
		{name: "width of the reed unknown", settings: "[reed]\ndents = 5/cm\n"},
		{name: "just long enough", settings: "[reed]\ndents = 5/cm\nwidth = 8 mm\n"},
		{name: "one dent short", settings: "[reed]\ndents = 5/cm\nwidth = 7 mm\n",
			want: []string{`error Spacing=0.1 {"dents_needed":4,"dents":3}`}},
		{name: "whole warp in an order", draft: "[WARP]\nThreads=8\n", settings: "[reed]\ndents = 12/in\nwidth = 3 in\n[project]\nsett = 18/in\nrepeats = 7\nbalance = 2\n",
			want: []string{`error Threads=8 {"dents_needed":39,"dents":36}`}},
	})
}
