package sheet

import (
	"testing"

	"fettle/schema/dressing"
	"fettle/schema/measure"
)

// Needs are rounded up and stocks down, so a sheet never promises too much.
func TestRounding(t *testing.T) {
	metric, imperial := &work{units: measure.Metric}, &work{units: measure.Imperial}
	weighing := &work{plan: &dressing.Plan{}}
	known := func(v float64) dressing.Figure { return dressing.Figure{Value: v, Known: true} }
	for _, row := range []struct{ name, got, want string }{
		{"need", metric.need(known(533.2)), "534 m"},
		{"need, whole but for floating point", metric.need(known(533.0000000001)), "533 m"},
		{"need in yards", imperial.need(known(91.5)), "101 yd"},
		{"need, whole yards", imperial.need(known(91.44)), "100 yd"},
		{"weight", weighing.weight(known(179.1)), "180 g"},
		{"weight of parts", weighing.weight(known(3), 1.2, 1.8), "4 g"},
		{"stock as stated", metric.inStock(dressing.YarnRow{Stock: "2 x 250 g", StockM: known(3386.4), StockPackages: known(2)}), "2 x 250 g, 3386 m"},
		{"stock in metres", metric.inStock(dressing.YarnRow{Stock: "900 m", StockM: known(900)}), "900 m"},
		{"stock in other units", metric.inStock(dressing.YarnRow{Stock: "900 yd", StockM: known(822.96)}), "900 yd, 822 m"},
		{"stock without a length", metric.inStock(dressing.YarnRow{Stock: "2 x 250 g"}), "2 x 250 g"},
		{"unknown", weighing.weight(dressing.Figure{}, 1) + metric.need(dressing.Figure{}) + metric.inStock(dressing.YarnRow{}) + metric.toBuy(dressing.YarnRow{}) + metric.cm(dressing.Figure{}) +
			metric.warpLength(dressing.Figure{}) + metric.per(dressing.Figure{}) + whole(dressing.Figure{}), ""},
	} {
		if row.got != row.want {
			t.Errorf("%s: %q, want %q", row.name, row.got, row.want)
		}
	}
}

func TestWanting(t *testing.T) {
	w := &work{plan: &dressing.Plan{Missing: []dressing.Missing{{Key: "a"}, {Key: "b"}, {Key: "c"}}}}
	for want, keys := range map[string][]string{"": {"x"}, "a": {"a", "x"}, "a and c": {"a", "c"}, "a, b and c": {"a", "b", "c"}} {
		if got := w.wanting(keys...); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestNames(t *testing.T) {
	for _, row := range []struct{ got, want string }{
		{counted(1, "end"), "one end"}, {counted(0, "end"), "0 ends"}, {counted(2, "end"), "2 ends"},
		{span(3, 3), "3"}, {span(1, 3), "1-3"},
		{join(nil), "-"}, {join([]int32{3}), "3"}, {join([]int32{1, 3}), "1+3"},
		{colorList([]int{0, 4}), "the threads without a color, color 4"},
		{colorList([]int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14}),
			"color 1, color 2, color 3, color 4, color 5, color 6, color 7, color 8, color 9, color 10, color 11, color 12, 2 more"},
		{colorOrder([]dressing.ColorRun{{Ends: 4, Color: 1}, {Ends: 8, Color: 2}, {Ends: 2, Color: 3}}, []dressing.Block{{From: 1, To: 2, Times: 2}, {From: 3, To: 3, Times: 1}},
			map[int]string{1: "240", 2: "natural", 3: "8/2 blue"}), "2 times (4 '240', 8 natural), then 2 '8/2 blue'"},
		{offText(-0.43), "0.43 % less"}, {offText(1.5), "1.5 % more"},
	} {
		if row.got != row.want {
			t.Errorf("%q, want %q", row.got, row.want)
		}
	}
}
