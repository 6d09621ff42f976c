package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettle/schema/dressing"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

// yarn lists the yarn to have ready before you wind.
func (w *work) yarn() step {
	s := step{title: "Yarn to have"}
	s.tabulate(w.byColor("warp", "ends", w.plan.Warp.ByColor, func(r dressing.ColorRow) dressing.Figure { return r.Ends }))
	s.tabulate(w.byColor("weft", "picks", w.plan.Weft.ByColor, func(r dressing.ColorRow) dressing.Figure { return r.Picks }))
	if keys := w.wanting("[project] finished length", "[project] sett", "[project] picks"); keys != "" {
		s.say("The amount of yarn isn't fully known; state %s.", keys)
	}
	w.yarnWithout(&s)
	w.stock(&s)
	w.setts(&s)
	w.unassigned(&s)
	return s
}

// unassigned lists the colors without a yarn, and the reasons.
func (w *work) unassigned(s *step) {
	kept := map[int]bool{}
	for i, k := range w.plan.KeptByUse {
		if kept[k.Color] = true; i < mostNamed {
			s.say("%s.", capital(plain(k.Text, longText)))
		}
	}
	rest := slices.DeleteFunc(slices.Clone(w.plan.Unassigned), func(color int) bool { return kept[color] })
	if len(rest) > 0 {
		s.say("No yarn is stated for %s; give a [yarn] section its color or palette number.", colorList(rest))
	}
}

// yarnWithout lists the losses that the yarn figures leave out.
func (w *work) yarnWithout(s *step) {
	for _, y := range []struct {
		system string
		metres dressing.Figure
		losses []string
	}{{"warp", w.plan.Warp.Metres, w.plan.Without.Warp}, {"weft", w.plan.Weft.Metres, w.plan.Without.Weft}} {
		if len(y.losses) > 0 && y.metres.Known {
			s.say("The %s takes more yarn than that: you haven't stated %s.", y.system, wording.Listed(y.losses))
		}
	}
}

// mostNamed limits the names in a sentence; it counts the rest.
const mostNamed = 12

func colorList(colors []int) string {
	var words []string
	for _, c := range colors[:min(len(colors), mostNamed)] {
		name := colorNumber(c)
		if c == 0 {
			name = "the threads " + name
		}
		words = append(words, name)
	}
	if more := len(colors) - mostNamed; more > 0 {
		words = append(words, strconv.Itoa(more)+" more")
	}
	return strings.Join(words, ", ")
}

func (w *work) byColor(system, threads string, rows []dressing.ColorRow, count func(dressing.ColorRow) dressing.Figure) table {
	t := table{
		heads: []string{system, "color", threads, "yarn needed", "weight", ""},
		right: []bool{true, false, true, true, true},
	}
	for _, r := range rows {
		if r.Color == 0 && !count(r).Known {
			continue // its figures are unknown
		}
		if r.Yarn != "" {
			t.heads[5] = "yarn"
		}
		t.add(none(r.Color), r.Hex, whole(count(r)), w.need(r.Metres), w.weight(r.Grams), plain(r.Yarn, nameInText))
	}
	return t
}

// stock compares how much of each yarn you need with your stock.
func (w *work) stock(s *step) {
	t := table{
		heads: []string{"yarn in all", "needed", "weight", "in stock", "to buy"},
		right: []bool{false, true, true, true, true},
	}
	for _, y := range w.plan.Yarns {
		needed := ""
		if y.Metres.Known {
			needed = w.units.YarnNeeded(y.EachMetres...)
		}
		t.add(yarnName(y.Yarn, nameInTable), needed, w.weight(y.Grams, y.EachGrams...), w.inStock(y), w.toBuy(y))
	}
	s.tabulate(t)
	w.lacking(s, dressing.YarnToHave)
}

// weight writes grams, or the sum of several weights, in the unit for the whole yarn
// table.
func (w *work) weight(grams dressing.Figure, parts ...float64) string {
	if !grams.Known {
		return ""
	}
	if len(parts) == 0 {
		parts = []float64{grams.Value}
	}
	heaviest := 0.0
	for _, y := range w.plan.Yarns {
		heaviest = max(heaviest, y.Grams.Value)
	}
	return w.units.Weights(heaviest).Sum(parts...)
}

// metresOf returns the metres of yarn for each color.
func metresOf(rows []dressing.ColorRow) []float64 {
	list := make([]float64, len(rows))
	for i, r := range rows {
		list[i] = r.Metres.Value
	}
	return list
}

// inStock returns the stock as stated, and its length.
func (w *work) inStock(y dressing.YarnRow) string {
	stated := plain(y.Stock, nameInTable)
	if !y.StockM.Known {
		return stated
	}
	length := w.units.YarnThere(y.StockM.Value)
	if stated == "" || strings.HasSuffix(stated, length) {
		return length
	}
	return stated + ", " + length
}

// toBuy returns how much of a yarn to buy.
func (w *work) toBuy(y dressing.YarnRow) string {
	if y.ShortM.Value <= 0 {
		return ""
	}
	return w.short(y) + packages(y.BuyPackages)
}

func (w *work) short(y dressing.YarnRow) string {
	return w.units.YarnShort(y.StockM.Value, y.EachMetres...)
}

func packages(f dressing.Figure) string {
	if !f.Known {
		return ""
	}
	return ", " + counted(int(f.Value), "package")
}

func yarnName(name string, most int) string { return cmp.Or(plain(name, most), "yarn") }

// setts compares the sett of this warp with the rule-of-thumb setts for its yarns in this
// weave, with one row for yarns of the same size.
func (w *work) setts(s *step) {
	var tooClose []string
	t := table{heads: []string{"sett, by rule of thumb"}, right: []bool{false, true, true, true, true}}
	for _, same := range w.sameSize() {
		var names []string
		for _, y := range same {
			names = append(names, yarnName(y.Yarn, nameInTable))
		}
		cells := []string{wording.Listed(names)}
		heads := t.heads[:1]
		for _, at := range same[0].WorkingSetts {
			heads = append(heads, workingSett(at.Percent))
			cells = append(cells, w.units.RoughSett(measure.Density(at.Sett.Value)))
		}
		t.heads = append(heads, "this warp")
		t.add(append(cells, w.ofClosest(same[0]))...)
		if same[0].TooClose {
			tooClose = append(tooClose, fmt.Sprintf("%s is closer than that rule allows for %s in this weave. Open the sett, use a finer yarn, or weave a sample first.", w.per(w.plan.Warp.SettPerCm), cells[0]))
		}
	}
	s.tabulate(t)
	for _, text := range tooClose {
		s.say("%s", text)
	}
}

// workingSett is the heading for a percentage of the closest sett, named after its
// source.
func workingSett(percent int) string {
	switch percent {
	case 75:
		return "Faena, 75 %"
	case 80:
		return "Osterkamp, 80 %"
	}
	return "most"
}

// sameSize groups the yarns of the warp that have the same closest sett.
func (w *work) sameSize() [][]dressing.YarnRow {
	var groups [][]dressing.YarnRow
	at := map[float64]int{}
	for _, y := range w.plan.Yarns {
		if !y.MaxSettPerCm.Known {
			continue
		}
		i, known := at[y.MaxSettPerCm.Value]
		if !known {
			i = len(groups)
			at[y.MaxSettPerCm.Value], groups = i, append(groups, nil)
		}
		groups[i] = append(groups[i], y)
	}
	return groups
}

// ofClosest returns the sett of this warp, and its percentage of the closest.
func (w *work) ofClosest(y dressing.YarnRow) string {
	sett := w.plan.Warp.SettPerCm
	if !sett.Known {
		return ""
	}
	return fmt.Sprintf("%s: %s %%", w.per(sett), wording.Decimal(y.OfMaximum.Value, 0))
}
