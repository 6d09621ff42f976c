package rules

import "testing"

func TestColorIndex(t *testing.T) {
	check(t, "draft/color-index", []row{
		{name: "within", draft: "[WARP COLORS]\n3=2\n"},
		{name: "all picks", draft: "[WEFT]\nThreads=8\nColor=3\n",
			want: []string{`error Color=3 {"system":"weft","color":3,"palette":2}`}},
		{name: "one a color, at its first thread", draft: "[WARP COLORS]\n2=9\n3=5\n4=2\n6=5\n7=9\n",
			want: []string{`error 2=9 {"system":"warp","color":9,"palette":2}`, `error 3=5 {"system":"warp","color":5,"palette":2}`}},
		{name: "threads without a row take the color of the system", draft: "[WARP]\nThreads=8\nColor=7\n" + "[WARP COLORS]\n1=1\n",
			want: []string{`error Color=7 {"system":"warp","color":7,"palette":2}`}},
		{name: "each thread has its own row", draft: "[WARP]\nThreads=8\nColor=7\n" + table("WARP COLORS", 1, 2, 1, 2, 1, 2, 1, 2)},
		{name: "no color asked for", draft: "[WARP]\nThreads=8\n" + "[WEFT]\nThreads=8\n"},
	})
}
