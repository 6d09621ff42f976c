package corpus

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fettle/formats/wif"
	"fettle/schema"
	"fettle/schema/settings"
)

// expected is a finding that a draft must give, from NAME.expected.json beside NAME.wif.
// Why is the arithmetic, done by hand. If Place is "open" the line isn't compared.
type expected struct {
	Rule, Severity string
	Line, Column   int
	Text           string // the line it stands at, word for word
	Place          string
	Data           map[string]any
	Why            string
}

// faultData lists the figures of each rule that the corpus breaks.
func faultData() map[string]string {
	return map[string]string{
		"draft/shaft-count": "declared used", "draft/treadle-count": "declared used",
		"draft/thread-count": "declared listed system", "draft/unthreaded-end": "count ends",
		"draft/several-shafts": "count ends", "draft/empty-pick": "count picks",
		"draft/lift-conflict": "count picks", "draft/shed-unstated": "",
		"draft/sideways-tieup": "rows shafts treadles",
		"draft/slip":           "agree expected found kind list of repeat system thread",
		"draft/doubled-thread": "count system threads", "draft/like-treadles": "treadles",
		"draft/broken-plain-weave": "count ends treadles",
		"draft/odd-spacing":        "meant spacing_mm system",
		"draft/color-index":        "color palette system", "draft/partial-repeat": "over repeat system",
		"cloth/long-float in threads": "count from limit_threads side system thread threads",
		"cloth/long-float":            "count from length_mm limit_mm side system thread threads",
		"cloth/loose-thread":          "count system threads", "cloth/layers": "layers",
		"cloth/loose-selvedge": "best_start misses_from_left misses_from_right",
		"loom/too-many-shafts": "available needed", "loom/too-many-treadles": "available needed",
		"loom/too-many-ends":   "ends limit",
		"loom/missing-heddles": "available needed shaft short", "loom/heddle-crowding": "limit per_cm shaft",
		"loom/too-wide": "limit_mm width_mm", "loom/unbalanced-lift": "count lifted of picks",
		"loom/shed-mismatch": "draft loom",
		"reed/sett":          "nearest_per_cm off_percent order sett_per_cm",
		"reed/crowded-dent":  "ends_per_dent limit", "reed/too-short": "dents dents_needed",
		"yarn/overrun": "needed_m short_m stock_m yarn", "yarn/unassigned": "color",
		"yarn/margin":     "needed_m short_m stock_m unstated usual_m yarn",
		"yarn/open-sett":  "max_per_cm percent sett_per_cm yarn",
		"yarn/weft-sett":  "max_per_cm percent picks_per_cm yarn",
		"loom/heavy-lift": "count lifted of picks",
		"yarn/sett":       "max_per_cm percent sett_per_cm yarn",
	}
}

func readExpected(t *testing.T, wifPath string) []expected {
	t.Helper()
	text, err := os.ReadFile(strings.TrimSuffix(wifPath, ".wif") + ".expected.json")
	if err != nil {
		t.Fatal(err)
	}
	var list []expected
	if err := json.Unmarshal(text, &list); err != nil {
		t.Fatal(err)
	}
	return list
}

func readDraft(t *testing.T, path string) *schema.Document {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return wif.Read(&schema.Source{Path: path, Text: text})
}

func eachFaulty(t *testing.T, do func(t *testing.T, path string, list []expected)) {
	paths, err := filepath.Glob("faulty/*.wif")
	if err != nil || len(paths) < 14 {
		t.Fatalf("%d faulty drafts, error %v", len(paths), err)
	}
	for _, path := range paths {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".wif"), func(t *testing.T) {
			do(t, path, readExpected(t, path))
		})
	}
}

// TestExpectedIsWellFormed checks the expectations: the line exists, the rule has those
// figures, and the arithmetic is there.
func TestExpectedIsWellFormed(t *testing.T) {
	eachFaulty(t, checkExpected)
	for _, c := range slices.Concat(compose(), inbox()) {
		if c.expects != "" {
			path := filepath.Join(c.folder(), c.file+".wif")
			list := readExpected(t, path)
			checkExpected(t, path, list)
			if len(list) != 1 || list[0].Rule != c.expects {
				t.Errorf("%s expects %v, its draft %s", path, list, c.expects)
			}
		}
	}
}

func checkExpected(t *testing.T, path string, list []expected) {
	keys := faultData()
	doc := readDraft(t, path)
	for _, x := range list {
		if got := string(doc.Source.Line(x.Line)); got != x.Text || x.Column != 1 {
			t.Errorf("%s: line %d is %q, want %q from column 1", x.Rule, x.Line, got, x.Text)
		}
		if _, err := schema.ParseSeverity(x.Severity); err != nil || x.Why == "" {
			t.Errorf("%s: severity %q, why %q", x.Rule, x.Severity, x.Why)
		}
		rule := x.Rule
		if x.Data["limit_threads"] != nil {
			rule += " in threads"
		}
		want, ok := keys[rule]
		if got := strings.Join(slices.Sorted(maps.Keys(x.Data)), " "); !ok || got != want {
			t.Errorf("%s: figures %q, want %q", x.Rule, got, want)
		}
	}
}

// TestExpectedIsComplete checks each faulty draft with the simple arithmetic of this
// package. It breaks exactly the expected rules.
func TestExpectedIsComplete(t *testing.T) {
	finder := settings.NewFinder(settings.Options{})
	eachFaulty(t, func(t *testing.T, path string, list []expected) {
		s, err := finder.For(path, nil)
		if err != nil {
			t.Fatal(err)
		}
		doc := readDraft(t, path)
		for _, f := range doc.Findings {
			t.Errorf("the reader finds %s: %s", f.Rule, f.Message)
		}
		b := bench{d: doc.Draft, s: &s.Setup, w: woven(doc.Draft)}
		b.check()
		b.draft()
		b.cloth()
		b.lifts()
		b.margins()
		switch d := doc.Draft; { // what else is broken follows from it
		case d.Tieup.Len() == d.Shafts && d.Tieup.Highest() == d.Treadles && d.Shafts != d.Treadles && d.Threading.Highest() <= d.Shafts:
			b.broken = []string{"draft/sideways-tieup"}
		case slipped(d):
			b.broken = []string{"draft/shaft-count"}
		}
		var want []string
		for _, x := range list {
			want = append(want, x.Rule)
		}
		slices.Sort(want)
		slices.Sort(b.broken)
		if got := b.broken; !slices.Equal(got, slices.Compact(want)) {
			t.Errorf("breaks %s, expected %s", got, want)
		}
	})
}

// slipped reports whether exactly one row names a shaft above those declared.
func slipped(d *schema.Draft) bool {
	rows := 0
	for _, row := range slices.Concat(allRows(&d.Threading), allRows(&d.Tieup), allRows(&d.LiftPlan)) {
		if len(row) > 0 && int(slices.Max(row)) > d.Shafts {
			rows++
		}
	}
	return rows == 1
}

// draft checks the rules about the draft itself.
func (b *bench) draft() {
	d := b.d
	b.must(d.Shafts >= d.HighestShaft(), "draft/shaft-count")
	b.must(d.Treadles >= d.HighestTreadle(), "draft/treadle-count")
	b.must(d.Warp.Threads >= d.Threading.Len() && d.Weft.Threads == max(d.Treadling.Len(), d.LiftPlan.Len()), "draft/thread-count")
	b.must(d.Shed != schema.ShedUnstated, "draft/shed-unstated")
	for _, s := range []*schema.System{&d.Warp, &d.Weft} {
		mm := s.Spacing * s.Unit.Millimetres()
		b.must(mm == 0 || mm <= 25.4 && mm >= 0.127, "draft/odd-spacing")
	}
	for _, w := range []weave{b.w, b.w.turned()} {
		repeat := w.picksRepeat()
		b.must(len(w)%repeat == 0 || len(w) < 2*repeat || slices.EqualFunc(w, reversed(w), slices.Equal[[]bool]), "draft/partial-repeat")
	}
	b.regularity()
	for e := 1; e <= d.Ends(); e++ {
		b.must(len(d.Threading.Row(e)) > 0, "draft/unthreaded-end")
		b.must(len(d.Threading.Row(e)) < 2, "draft/several-shafts")
		b.must(d.Warp.ColorOf(e) <= len(d.Palette), "draft/color-index")
	}
	for p := 1; p <= d.Picks(); p++ {
		b.must(len(liftOf(d, p)) > 0, "draft/empty-pick")
		b.must(d.Weft.ColorOf(p) <= len(d.Palette), "draft/color-index")
		b.must(!conflict(d, p), "draft/lift-conflict")
	}
	for s := 1; s <= d.Shafts; s++ {
		b.must(b.onShafts()[s-1] > 0, "draft/unused-shaft")
	}
	for n := 1; n <= d.Treadles; n++ {
		b.must(slices.ContainsFunc(allRows(&d.Treadling), func(r []int32) bool { return slices.Contains(r, int32(n)) }), "draft/unused-treadle")
	}
}

// regularity checks the rules about threads that differ from all others. Of slips it knows
// only changed ones.
func (b *bench) regularity() {
	d := b.d
	threading, tieup, treadling := allRows(&d.Threading), allRows(&d.Tieup), allRows(&d.Treadling)
	b.must(!oneOdd(threading) && !oneOdd(treadling) && !oddTreadle(tieup, d.Shafts), "draft/slip")
	lifts, colors := [][]int32{}, []int{}
	for p := 1; p <= d.Picks(); p++ {
		lifts = append(lifts, slices.Sorted(maps.Keys(liftOf(d, p))))
		colors = append(colors, d.Weft.ColorOf(p))
	}
	b.must(!fewDoubled(threading, make([]int, len(threading))) && !fewDoubled(lifts, colors), "draft/doubled-thread")
	for a, one := range tieup {
		for c, other := range tieup[a+1:] {
			pressed := func(t int) bool {
				return slices.ContainsFunc(treadling, func(r []int32) bool { return slices.Contains(r, int32(t)) })
			}
			b.must(!slices.Equal(one, other) || !pressed(a+1) || !pressed(a+c+2), "draft/like-treadles")
			all := slices.Sorted(slices.Values(slices.Concat(one, other)))
			complement := len(all) == d.Shafts && len(slices.Compact(all)) == d.Shafts
			b.must(!complement || !fewOutOfTurn(threading, one), "draft/broken-plain-weave")
		}
	}
}

func reversed[T any](list []T) []T {
	list = slices.Clone(list)
	slices.Reverse(list)
	return list
}

// oneOdd reports whether rows repeat at least four times, but for one of them.
func oneOdd(rows [][]int32) bool {
	for p := 2; 4*p <= len(rows); p++ {
		for odd := p; odd < len(rows)-p; odd++ {
			mended := slices.Clone(rows)
			mended[odd] = rows[odd-p]
			if slices.EqualFunc(mended[p:], mended[:len(rows)-p], slices.Equal[[]int32]) {
				return !slices.Equal(mended[odd], rows[odd])
			}
		}
	}
	return false
}

// oddTreadle reports whether all of six or more treadles but one tie the shafts of the one
// before, moved up by one.
func oddTreadle(tieup [][]int32, shafts int) bool {
	moved := func(row []int32) (list []int32) {
		for _, s := range row {
			list = append(list, s%int32(shafts)+1)
		}
		slices.Sort(list)
		return list
	}
	for odd := 1; odd < len(tieup) && len(tieup) >= 6; odd++ {
		mended := slices.Clone(tieup)
		mended[odd] = moved(tieup[odd-1])
		follow := !slices.Equal(mended[odd], tieup[odd])
		for t := 1; t < len(tieup); t++ {
			follow = follow && slices.Equal(mended[t], moved(mended[t-1]))
		}
		if follow {
			return true
		}
	}
	return false
}

// fewDoubled reports whether under a twentieth of the neighbours are alike in rows and
// colors, and one of them is not at an edge.
func fewDoubled(rows [][]int32, colors []int) bool {
	alike, inside := 0, 0
	for i := 1; i < len(rows); i++ {
		if slices.Equal(rows[i], rows[i-1]) && colors[i] == colors[i-1] {
			alike++
			if i > 4 && i < len(rows)-4 {
				inside++
			}
		}
	}
	return inside > 0 && 20*alike < len(rows)-1
}

// fewOutOfTurn reports whether a treadle lifts one end and leaves the next down throughout,
// but for one or two ends.
func fewOutOfTurn(threading [][]int32, shafts []int32) bool {
	alike := 0
	for i := 5; i < len(threading)-4; i++ {
		if slices.Contains(shafts, threading[i][0]) == slices.Contains(shafts, threading[i-1][0]) {
			alike++
		}
	}
	return len(threading) >= 24 && alike > 0 && alike <= 2
}

func allRows(t *schema.Rows) [][]int32 {
	var all [][]int32
	for n := 1; n <= t.Len(); n++ {
		all = append(all, t.Row(n))
	}
	return all
}

// conflict reports whether a pick's treadles and its lift plan differ.
func conflict(d *schema.Draft, pick int) bool {
	if d.LiftPlan.Len() == 0 || d.Treadling.Len() == 0 {
		return false
	}
	trodden := schema.Draft{Tieup: d.Tieup, Treadling: d.Treadling}
	return !maps.Equal(liftOf(&trodden, pick), liftOf(d, pick))
}

// cloth checks loose threads and loose edges; floats checks floats.
func (b *bench) cloth() {
	b.must(len(b.w.loose())+len(b.w.turned().loose()) == 0, "cloth/loose-thread")
	shuttles := map[int]bool{}
	for p := 1; p <= b.d.Picks(); p++ {
		shuttles[b.d.Weft.ColorOf(p)] = true
	}
	left, right := b.w.misses(true), b.w.misses(false)
	caught := left == 0 || right == 0 || 2*min(left, right) > max(left, right) // no side is clearly better
	b.must(caught || len(shuttles) > 1, "cloth/loose-selvedge")
}

// lifts checks how many shafts the picks lift.
func (b *bench) lifts() {
	heavy, shafts := 0, b.d.HighestShaft()
	for p := 1; p <= b.d.Picks(); p++ {
		if n := len(liftOf(b.d, p)); 4*n > 3*shafts && n < shafts {
			heavy++
		}
	}
	b.must(2*heavy <= b.d.Picks() || b.d.Shed == schema.Sinking, "loom/heavy-lift")
}

// margins checks the notes and warnings about yarn, for drafts in one yarn.
func (b *bench) margins() {
	if len(b.s.Yarns) != 1 {
		return
	}
	y := &b.s.Yarns[0]
	if y.Stock.Known() && b.warpMetres()+b.weftMetres() <= stockMetres(y) {
		usual := *b.s
		for key, set := range map[string]func(){
			"take-up": func() { usual.Project.TakeUp = 0.05 }, "shrinkage warp": func() { usual.Project.ShrinkageWarp = 0.08 },
			"weft take-up": func() { usual.Project.WeftTakeUp = 0.1 }, "loom waste": func() { usual.Project.LoomWaste = 700 },
		} {
			if !b.s.Has("project." + key) {
				set()
			}
		}
		with := bench{d: b.d, s: &usual, w: b.w}
		b.must(with.warpMetres()+with.weftMetres() <= stockMetres(y), "yarn/margin")
	}
	if y.Grist.Known() {
		warp, weft := usualK(y)*b.w.fullness(), usualK(y)*b.w.turned().fullness()
		b.must(b.sett() >= 0.4*warp || b.picks() > weft, "yarn/open-sett")
		b.must(b.picks() <= weft || b.sett() < 0.5*warp, "yarn/weft-sett")
	}
}

// TestExpectedFigures compares the figures of floats, loose threads, layers and edges, and
// the lists of threads, with a count thread by thread.
func TestExpectedFigures(t *testing.T) {
	eachFaulty(t, func(t *testing.T, path string, list []expected) {
		d := readDraft(t, path).Draft
		w := woven(d)
		for _, x := range list {
			for key, want := range counted(d, w, x) {
				if got := fmt.Sprint(x.Data[key]); got != fmt.Sprint(want) {
					t.Errorf("%s %s: expected %s, counted %v", x.Rule, key, got, want)
				}
			}
		}
	})
}

// counted returns the figures of a finding, counted in the draft and its cloth.
func counted(d *schema.Draft, w weave, x expected) map[string]any {
	switch x.Rule {
	case "draft/lift-conflict":
		return listed("picks", d.Picks(), func(p int) bool { return conflict(d, p) })
	case "draft/empty-pick":
		return listed("picks", d.Picks(), func(p int) bool { return len(liftOf(d, p)) == 0 })
	case "loom/unbalanced-lift":
		return listed("picks", d.Picks(), func(p int) bool { return 2*len(liftOf(d, p)) != d.HighestShaft() })
	case "loom/heavy-lift":
		return listed("picks", d.Picks(), func(p int) bool { return 4*len(liftOf(d, p)) > 3*d.HighestShaft() })
	case "draft/unthreaded-end":
		return listed("ends", d.Ends(), func(e int) bool { return len(d.Threading.Row(e)) == 0 })
	case "draft/several-shafts":
		return listed("ends", d.Ends(), func(e int) bool { return len(d.Threading.Row(e)) > 1 })
	case "cloth/long-float":
		all := w.floats(schema.SystemName(x.Data["system"].(string)), x.Data["side"].(string))
		first, alike := longest(all), 0
		for _, f := range all {
			if f.threads == first.threads {
				alike++
			}
		}
		return map[string]any{"threads": first.threads, "thread": first.thread, "from": first.from, "count": alike}
	case "cloth/loose-thread":
		if x.Data["system"] == "warp" {
			return map[string]any{"threads": w.turned().loose()}
		}
		return map[string]any{"threads": w.loose()}
	case "cloth/layers":
		return map[string]any{"layers": w.layers()}
	case "cloth/loose-selvedge":
		return map[string]any{"misses_from_left": w.misses(true), "misses_from_right": w.misses(false)}
	}
	return nil
}

// listed returns the threads that meet a condition, and their number.
func listed(key string, threads int, holds func(n int) bool) map[string]any {
	var list []int
	for n := 1; n <= threads; n++ {
		if holds(n) {
			list = append(list, n)
		}
	}
	return map[string]any{key: list, "count": len(list)}
}
