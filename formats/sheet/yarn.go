package sheet

import (
	"cmp"
	"strconv"
	"strings"

	"fettle/schema/dressing"
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
	if colors := w.plan.Unassigned; len(colors) > 0 {
		s.say("No yarn is named for %s: give a [yarn] section its color or palette number.", colorList(colors))
	}
	return s
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
	for _, r := range rows {
		if r.Color == 0 && !count(r).Known {
			continue // nothing is known of it
		}
		t.add(cmp.Or(none(r.Color), "-"), r.Hex, whole(count(r)), w.need(r.Metres), weight(r.Grams), plain(r.Yarn, nameInText))
	}
	return t
}

// stock sets what is needed of each yarn against what is on the shelf.
func (w *work) stock(s *step) {
	t := table{
		heads: []string{"yarn in all", "needed", "weight", "on the shelf", "short", "packages"},
		right: []bool{false, true, true, true, true, true},
	}
	for _, y := range w.plan.Yarns {
		missing := ""
		if y.ShortM.Value > 0 {
			missing = w.need(y.ShortM)
		}
		t.add(yarnName(y.Yarn, nameInTable), w.need(y.Metres), weight(y.Grams), w.have(y.StockM), missing, whole(y.Packages))
	}
	s.tabulate(t)
	for _, y := range w.plan.Yarns {
		if y.ShortM.Value > 0 {
			s.say("%s", w.shortage(y))
		}
	}
}

func (w *work) shortage(y dressing.YarnRow) string {
	text := "There is too little " + yarnName(y.Yarn, nameInText) + ", by " + w.need(y.ShortM) + ". "
	if !y.ShortenCm.Known {
		return text + "No shorter cloth would make up for it: get more, or weave narrower."
	}
	return text + "Get more, or make each item shorter by at least " + w.atLeast(y.ShortenCm.Value) + "."
}

// yarnName is what a yarn is called, which may be nothing.
func yarnName(name string, most int) string { return cmp.Or(plain(name, most), "yarn") }

// setts says how close each warp yarn can be set in this weave, by the rule of
// thumb.
func (w *work) setts(s *step) {
	t := table{
		heads: []string{"sett, by rule of thumb", "soft, 75 %", "ordinary, 80 %", "closest"},
		right: []bool{false, true, true, true},
	}
	for _, y := range w.plan.Yarns {
		if !y.MaxSettPerCm.Known {
			continue
		}
		cells := []string{yarnName(y.Yarn, nameInTable)}
		for _, at := range y.WorkingSetts {
			cells = append(cells, w.per(at.Sett))
		}
		t.rows = append(t.rows, cells)
	}
	if len(t.rows) == 0 {
		return
	}
	s.tabulate(t)
	if sett := w.per(w.plan.Warp.SettPerCm); sett != "" {
		s.say("The sett of this warp is %s.", sett)
	}
}
