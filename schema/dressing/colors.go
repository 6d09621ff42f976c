package dressing

import (
	"cmp"
	"slices"

	"fettle/schema"
)

// ColorRun is so many threads of one color side by side. Color is a palette
// number, 0 where the draft gives the threads no color.
type ColorRun struct {
	Color int `json:"color"`
	Ends  int `json:"ends"`
}

// ColorCount is how many threads have a color.
type ColorCount struct {
	Color   int // palette number, 0 for none
	Threads int
}

// WarpColors counts the ends of the whole warp by color, lowest number first.
func WarpColors(d *schema.Draft, w Warp) []ColorCount {
	return countColors(&d.Warp, w.Ends, func(end int) int { return w.times(end, w.All) })
}

// WeftColors counts the draft's own picks by color, lowest number first.
func WeftColors(d *schema.Draft) []ColorCount {
	return countColors(&d.Weft, d.Picks(), once)
}

// WovenColors counts by color as many picks as are woven, through the draft
// whole as often as they go and then its first ones. A color that the weaving
// ends before is listed with none.
func WovenColors(d *schema.Draft, picks int) []ColorCount {
	return countColors(&d.Weft, d.Picks(), func(pick int) int { return timesAmong(pick, d.Picks(), picks) })
}

func once(int) int { return 1 }

func countColors(system *schema.System, threads int, times func(thread int) int) []ColorCount {
	counts := map[int]int{}
	color, sum := system.ColorOf(1), 0
	for n := 1; n <= threads; n++ {
		if c := system.ColorOf(n); c != color {
			counts[color] += sum
			color, sum = c, 0
		}
		sum += times(n)
	}
	if threads > 0 {
		counts[color] += sum
	}
	list := make([]ColorCount, 0, len(counts))
	for color, n := range counts {
		list = append(list, ColorCount{color, n})
	}
	slices.SortFunc(list, func(a, b ColorCount) int { return cmp.Compare(a.Color, b.Color) })
	return list
}

// warpOrder is the color order of a stretch of the whole warp, from its end
// from to its end to, both included.
func warpOrder(d *schema.Draft, w Warp, from, to int) []ColorRun {
	var runs []ColorRun
	for end := from; end <= to; end++ {
		color := d.Warp.ColorOf(w.DraftEnd(end))
		if n := len(runs); n > 0 && runs[n-1].Color == color {
			runs[n-1].Ends++
		} else {
			runs = append(runs, ColorRun{color, 1})
		}
	}
	return runs
}

// Hex is a palette number's color as #rrggbb, "" where the palette has none.
func Hex(d *schema.Draft, color int) string {
	if color < 1 || color > len(d.Palette) {
		return ""
	}
	return d.Palette[color-1].Hex()
}
