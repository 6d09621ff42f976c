package dressing

import (
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
)

func TestStruckOnce(t *testing.T) {
	for _, test := range []struct{ number, most, want int }{
		{33, 4, 3}, {11, 4, 1}, {44, 4, 4}, {55, 4, 0}, {12, 4, 0}, {122, 16, 12}, {112, 16, 12}, {1122, 16, 0}, {100, 10, 10}, {111, 16, 11}, {333, 4, 0},
		{5, 4, 0}, {2147483647, 4, 0},
	} {
		if got := struckOnce(test.number, test.most); got != test.want {
			t.Errorf("%d with %d declared: %d, want %d", test.number, test.most, got, test.want)
		}
	}
}

// TestAbove checks any tables: there are at most two typos, all above the highest real
// number, and each row has its number. The declared number is surely wrong only if
// several rows name the highest.
func TestAbove(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := func(what string) schema.Rows {
			return schema.RowsOf(rapid.SliceOfN(rapid.SliceOfN(rapid.SampledFrom([]int32{1, 2, 3, 4, 5, 6, 11, 33}), 0, 2), 0, 6).Draw(t, what)...)
		}
		d := &schema.Draft{Shafts: rapid.IntRange(0, 6).Draw(t, "shafts"), Treadles: rapid.IntRange(0, 6).Draw(t, "treadles"),
			Threading: rows("threading"), Tieup: rows("tie-up"), Treadling: rows("treadling")}
		for _, c := range []struct {
			above    Above
			declared int
			highest  int
			tables   []*schema.Rows
		}{
			{Of(d, &schema.Setup{}).ShaftsAbove(), d.Shafts, d.HighestShaft(), []*schema.Rows{&d.Threading, &d.Tieup}},
			{Of(d, &schema.Setup{}).TreadlesAbove(), d.Treadles, d.HighestTreadle(), []*schema.Rows{&d.Treadling}},
		} {
			if len(c.above.Typos) > mostTypos || c.above.Highest > max(c.declared, c.highest) {
				t.Fatalf("%+v", c.above)
			}
			if len(c.above.Typos) == 0 && c.highest > c.declared && c.above.Highest != c.highest {
				t.Fatalf("nothing is said of %d: %+v", c.highest, c.above)
			}
			for _, b := range c.above.Typos {
				if b.Number <= c.above.Highest || b.Number <= c.declared || b.Meant > c.declared {
					t.Fatalf("%+v of %+v", b, c.above)
				}
			}
			naming := 0
			for _, rows := range c.tables {
				for n := 1; n <= rows.Len(); n++ {
					for _, v := range rows.Row(n) {
						if int(v) == c.above.Highest {
							naming++
						}
					}
				}
			}
			if d.Tieup.Len() >= c.above.Highest && len(c.tables) == 1 {
				naming++
			}
			if c.above.Sure && naming < 2 {
				t.Fatalf("%d is sure, named by %d rows", c.above.Highest, naming)
			}
		}
	})
}
