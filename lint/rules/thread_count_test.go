package rules

import "testing"

func TestThreadCount(t *testing.T) {
	check(t, "draft/thread-count", []row{
		{name: "as declared"},
		{name: "short threading is sparse and fine", draft: table("THREADING", 1, 2, 3, 4)},
		{name: "threading beyond", draft: "[WARP]\nThreads=6\nColor=1\nUnits=Centimeters\nSpacing=0.1\n",
			want: []string{`warning Threads=6 {"system":"warp","declared":6,"listed":8}`}},
		{name: "treadling beyond", draft: "[WEFT]\nThreads=7\nColor=1\nUnits=Centimeters\nSpacing=0.1\n",
			want: []string{`warning Threads=7 {"system":"weft","declared":7,"listed":8}`}},
		{name: "treadling ends early", draft: "[WEFT]\nThreads=12\nColor=1\nUnits=Centimeters\nSpacing=0.1\n",
			want: []string{`warning Threads=12 {"system":"weft","declared":12,"listed":8}`}},
		{name: "lift plan ends early", draft: "[TREADLING]\n" + table("LIFTPLAN", "1,2", "2,3"),
			want: []string{`warning Threads=8 {"system":"weft","declared":8,"listed":2}`}},
		{name: "a row number with a key struck twice", draft: "[THREADING]\n1=1\n2=2\n33=3\n4=4\n5=1\n6=2\n7=3\n8=4\n", fix: "risky",
			want: []string{`warning 33=3 {"system":"warp","declared":8,"listed":33}`}},
		{name: "a row beyond, and two missing", draft: "[TREADLING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n70=3\n",
			want: []string{`warning 70=3 {"system":"weft","declared":8,"listed":70}`}},
		{name: "no treadling at all", draft: "[TREADLING]\n"},
		{name: "nothing declared", draft: "[WARP]\nThreads=0\nColor=1\nUnits=Centimeters\nSpacing=0.1\n" + "[WEFT]\nThreads=0\nColor=1\nUnits=Centimeters\nSpacing=0.1\n"},
		{name: "both", draft: "[WARP]\nThreads=6\nColor=1\nUnits=Centimeters\nSpacing=0.1\n" + "[WEFT]\nThreads=7\nColor=1\nUnits=Centimeters\nSpacing=0.1\n",
			want: []string{`warning Threads=6 {"system":"warp","declared":6,"listed":8}`, `warning Threads=7 {"system":"weft","declared":7,"listed":8}`}},
	})
}
