package rules

import "testing"

func TestLongFloat(t *testing.T) {
	// A 3/1 twill: over three picks, under one. End 1 is down only at picks 2 and 6, so
	// it floats over picks 3 to 5. Ends 3 and 4 have two such floats.
	warpTwill := table("TIEUP", "1,2,3", "2,3,4", "1,3,4", "1,2,4")
	unspaced := "[WARP]\nThreads=8\n[WEFT]\nThreads=8\n"
	plainWeave := table("TIEUP", "1,3", "2,4", "1,3", "2,4")
	spaced := func(warp, weft string) string {
		return "[WARP]\nThreads=8\nUnits=Centimeters\nSpacing=" + warp + "\n[WEFT]\nThreads=8\nUnits=Centimeters\nSpacing=" + weft + "\n"
	}
	limit := func(l string) string { return "[rules]\ncloth/long-float = warning, " + l + "\n" }
	// Plain weave, but two ends alike at each edge, or two picks.
	across := "[TIEUP]\n1=2,4\n2=1,3\n" + table("THREADING", 1, 1, 2, 3, 4, 2, 1, 1) + table("TREADLING", 1, 2, 1, 2, 1, 2, 1, 2)
	along := "[TIEUP]\n1=1,3\n2=2,4\n" + table("TREADLING", 1, 1, 2, 1, 2, 2, 1, 1)
	check(t, "cloth/long-float", []row{
		{name: "2/2 twill"},
		{name: "by threads, though spaced", draft: warpTwill, settings: limit("2 threads"),
			want: []string{
				`warning 1=1 {"system":"warp","side":"face","threads":3,"length_mm":3,"limit_threads":2,"thread":1,"from":3,"count":12}`,
				`warning 1=1 {"system":"weft","side":"back","threads":3,"length_mm":3,"limit_threads":2,"thread":1,"from":1,"count":12}`}},
		{name: "by length", draft: warpTwill, settings: limit("2.5 mm"),
			want: []string{
				`warning 1=1 {"system":"warp","side":"face","threads":3,"length_mm":3,"limit_mm":2.5,"thread":1,"from":3,"count":12}`,
				`warning 1=1 {"system":"weft","side":"back","threads":3,"length_mm":3,"limit_mm":2.5,"thread":1,"from":1,"count":12}`}},
		{name: "by length where both are stated", draft: warpTwill, settings: limit("2 threads, 3 mm")},
		{name: "exactly as long as allowed", draft: warpTwill, settings: limit("3 mm")},
		{name: "the project's picks make warp floats longer", draft: warpTwill, settings: "[project]\npicks = 5/cm\n" + limit("4 mm"),
			want: []string{`warning 1=1 {"system":"warp","side":"face","threads":3,"length_mm":6,"limit_mm":4,"thread":1,"from":3,"count":12}`}},
		{name: "spacing unknown: threads count", draft: warpTwill + unspaced, settings: limit("1 mm, 2 threads"),
			want: []string{
				`warning 1=1 {"system":"warp","side":"face","threads":3,"limit_threads":2,"thread":1,"from":3,"count":12}`,
				`warning 1=1 {"system":"weft","side":"back","threads":3,"limit_threads":2,"thread":1,"from":1,"count":12}`}},
		{name: "spacing unknown, nine threads by default", draft: warpTwill + unspaced, settings: limit("1 mm")},
		{name: "half an inch is not over", draft: warpTwill + spaced("0.1", "0.42333333")},
		{name: "nor is it rounded up", draft: warpTwill + spaced("0.1", "0.4236")},
		{name: "more than half an inch", draft: warpTwill + spaced("0.1", "0.424"),
			want: []string{`warning 1=1 {"system":"warp","side":"face","threads":3,"length_mm":12.72,"limit_mm":12.7,"thread":1,"from":3,"count":12}`}},
		// A rag rug in plain weave: no float crosses more than one pick.
		{name: "a thick weft", draft: plainWeave + spaced("0.4", "1.25")},
		{name: "one thread thicker than half an inch", draft: plainWeave + spaced("2", "2")},
		{name: "thick picks among thin ones", draft: plainWeave + spaced("0.4", "0.2") + table("WEFT SPACING", 2, 0.2, 2, 0.2, 2, 0.2, 2, 0.2)},
		{name: "over two thick picks", draft: spaced("0.4", "0.2") + table("WEFT SPACING", 2, 0.2, 2, 0.2, 2, 0.2, 2, 0.2),
			want: []string{
				`warning 1=1 {"system":"warp","side":"back","threads":2,"length_mm":22,"limit_mm":12.7,"thread":1,"from":2,"count":14}`,
				`warning 1=1 {"system":"warp","side":"face","threads":2,"length_mm":22,"limit_mm":12.7,"thread":1,"from":4,"count":14}`}},
		{name: "across the edges", draft: warpTwill, settings: "[project]\nwrap = yes\n" + limit("2 threads"),
			want: []string{
				`warning 1=1 {"system":"warp","side":"face","threads":3,"length_mm":3,"limit_threads":2,"thread":1,"from":3,"count":16}`,
				`warning 1=1 {"system":"weft","side":"back","threads":3,"length_mm":3,"limit_threads":2,"thread":1,"from":1,"count":16}`}},
		// Each pick goes over or under two ends at each edge, four across the seam.
		{name: "repeated across", draft: across, settings: "[project]\nrepeats = 2\n" + limit("2 threads"),
			want: []string{
				`warning 1=1 {"system":"weft","side":"face","threads":4,"length_mm":4,"limit_threads":2,"thread":1,"from":7,"count":4}`,
				`warning 2=2 {"system":"weft","side":"back","threads":4,"length_mm":4,"limit_threads":2,"thread":2,"from":7,"count":4}`}},
		{name: "not repeated", draft: across, settings: limit("2 threads")},
		{name: "a balance of one end", draft: across, settings: "[project]\nbalance = 1\n" + limit("2 threads"),
			want: []string{
				`warning 1=1 {"system":"weft","side":"face","threads":3,"length_mm":3,"limit_threads":2,"thread":1,"from":7,"count":4}`,
				`warning 2=2 {"system":"weft","side":"back","threads":3,"length_mm":3,"limit_threads":2,"thread":2,"from":7,"count":4}`}},
		{name: "repeated across to a finished width", draft: across, settings: "[project]\nfinished width = 16 mm\n" + limit("2 threads"),
			want: []string{
				`warning 1=1 {"system":"weft","side":"face","threads":4,"length_mm":4,"limit_threads":2,"thread":1,"from":7,"count":4}`,
				`warning 2=2 {"system":"weft","side":"back","threads":4,"length_mm":4,"limit_threads":2,"thread":2,"from":7,"count":4}`}},
		{name: "repeated, but wrap is no", draft: across, settings: "[project]\nrepeats = 2\nwrap = no\n" + limit("2 threads")},
		{name: "longer than the draft", draft: along, settings: "[project]\npicks per item = 9\n" + limit("2 threads"),
			want: []string{
				`warning 1=1 {"system":"warp","side":"face","threads":3,"length_mm":3,"limit_threads":2,"thread":1,"from":7,"count":4}`,
				`warning 2=2 {"system":"warp","side":"back","threads":3,"length_mm":3,"limit_threads":2,"thread":2,"from":7,"count":4}`}},
		{name: "as long as the draft", draft: along, settings: "[project]\npicks per item = 8\n" + limit("2 threads")},
		{name: "a sample longer than the draft", draft: along, settings: "[project]\nsample = 2 cm\n" + limit("2 threads"),
			want: []string{
				`warning 1=1 {"system":"warp","side":"face","threads":4,"length_mm":4,"limit_threads":2,"thread":1,"from":7,"count":4}`,
				`warning 2=2 {"system":"warp","side":"back","threads":4,"length_mm":4,"limit_threads":2,"thread":2,"from":7,"count":4}`}},
		{name: "two short items, one after the other", draft: along, settings: "[project]\npicks per item = 5\nitems = 2\neach item = continue\n" + limit("2 threads"),
			want: []string{
				`warning 1=1 {"system":"warp","side":"face","threads":4,"length_mm":4,"limit_threads":2,"thread":1,"from":7,"count":4}`,
				`warning 2=2 {"system":"warp","side":"back","threads":4,"length_mm":4,"limit_threads":2,"thread":2,"from":7,"count":4}`}},
		{name: "two short items, each from the start", draft: along, settings: "[project]\npicks per item = 5\nitems = 2\n" + limit("2 threads")},
	})
}
