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

// yarn is what to have on the table before anything is wound.
func (w *work) yarn() step {
	s := step{title: "Yarn to have"}
	s.tabulate(w.byColor("warp", "ends", w.plan.Warp.ByColor, func(r dressing.ColorRow) dressing.Figure { return r.Ends }))
	s.tabulate(w.byColor("weft", "picks", w.plan.Weft.ByColor, func(r dressing.ColorRow) dressing.Figure { return r.Picks }))
	if keys := w.wanting("[project] finished length", "[project] sett", "[project] picks"); keys != "" {
		s.say("How much yarn that takes is not known in full: state %s.", keys)
	}
	w.yarnWithout(&s)
	w.stock(&s)
	w.setts(&s)
	w.unassigned(&s)
	return s
}

// unassigned says for which colors there is no yarn, and why.
func (w *work) unassigned(s *step) {
	kept := map[int]bool{}
	for i, k := range w.plan.KeptByUse {
		if kept[k.Color] = true; i < mostNamed {
			s.say("%s.", capital(plain(k.Text, longText)))
		}
	}
	rest := slices.DeleteFunc(slices.Clone(w.plan.Unassigned), func(color int) bool { return kept[color] })
	if len(rest) > 0 {
		s.say("No yarn is named for %s: give a [yarn] section its color or palette number.", colorList(rest))
	}
}

// yarnWithout says which losses the yarn is reckoned without.
func (w *work) yarnWithout(s *step) {
	for _, y := range []struct {
		system string
		metres dressing.Figure
		losses []string
	}{{"warp", w.plan.Warp.Metres, warpLosses()}, {"weft", w.plan.Weft.Metres, weftLosses()}} {
		if lacks := w.unstated(y.losses); lacks != "" && y.metres.Known {
			s.say("The yarn for the %s is without %s, which you have not stated: it takes more.", y.system, lacks)
		}
	}
}

// mostNamed is how many things a sentence lists before it only counts the rest.
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
	weights := w.weights(figures(rows, func(r dressing.ColorRow) dressing.Figure { return r.Grams }))
	for i, r := range rows {
		if r.Color == 0 && !count(r).Known {
			continue // nothing is known of it
		}
		t.add(none(r.Color), r.Hex, whole(count(r)), w.need(r.Metres), weights[i], plain(r.Yarn, nameInText))
	}
	return t
}

// stock sets what is needed of each yarn against what is on the shelf.
func (w *work) stock(s *step) {
	t := table{
		heads: []string{"yarn in all", "needed", "weight", "in stock", "to buy"},
		right: []bool{false, true, true, true, true},
	}
	weights := w.weights(figures(w.plan.Yarns, func(y dressing.YarnRow) dressing.Figure { return y.Grams }))
	for i, y := range w.plan.Yarns {
		t.add(yarnName(y.Yarn, nameInTable), w.need(y.Metres), weights[i], w.inStock(y), w.toBuy(y))
	}
	s.tabulate(t)
	w.lacking(s, dressing.YarnToHave)
}

// figures is one figure of each row.
func figures[T any](rows []T, of func(T) dressing.Figure) []dressing.Figure {
	list := make([]dressing.Figure, len(rows))
	for i, r := range rows {
		list[i] = of(r)
	}
	return list
}

func (w *work) inStock(y dressing.YarnRow) string {
	if !y.StockM.Known {
		return ""
	}
	return w.units.YarnThere(y.StockM.Value) + packages(y.StockPackages)
}

// toBuy is what of a yarn is missing, "" where there is enough.
func (w *work) toBuy(y dressing.YarnRow) string {
	if y.ShortM.Value <= 0 {
		return ""
	}
	return w.short(y) + packages(y.BuyPackages)
}

func (w *work) short(y dressing.YarnRow) string {
	return w.units.YarnShort(y.Metres.Value, y.StockM.Value)
}

func packages(f dressing.Figure) string {
	if !f.Known {
		return ""
	}
	return ", " + counted(int(f.Value), "package")
}

// yarnName is what a yarn is called, which may be nothing.
func yarnName(name string, most int) string { return cmp.Or(plain(name, most), "yarn") }

// setts sets the sett of this warp against how close each of its yarns can be
// set in this weave, by the rule of thumb.
func (w *work) setts(s *step) {
	t := table{
		heads: []string{"sett, by rule of thumb", "soft, 75 %", "ordinary, 80 %", "closest", "this warp"},
		right: []bool{false, true, true, true, true},
	}
	for _, y := range w.plan.Yarns {
		if !y.MaxSettPerCm.Known {
			continue
		}
		cells := []string{yarnName(y.Yarn, nameInTable)}
		for _, at := range y.WorkingSetts {
			cells = append(cells, w.units.RoughSett(measure.Density(at.Sett.Value)))
		}
		t.add(append(cells, w.ofClosest(y))...)
	}
	s.tabulate(t)
	for _, y := range w.plan.Yarns {
		if y.TooClose {
			s.say("%s is closer than that rule allows for %s in this weave: open the sett, take a finer yarn, or weave a sample first.", w.per(w.plan.Warp.SettPerCm), yarnName(y.Yarn, nameInText))
		}
	}
}

// ofClosest is the sett of this warp, in itself and in percent of the closest.
func (w *work) ofClosest(y dressing.YarnRow) string {
	sett := w.plan.Warp.SettPerCm
	if !sett.Known {
		return ""
	}
	return fmt.Sprintf("%s: %s %%", w.per(sett), wording.Decimal(y.OfMaximum.Value, 0))
}
