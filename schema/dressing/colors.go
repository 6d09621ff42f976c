package dressing

import (
	"cmp"
	"maps"
	"slices"

	"fettle/schema"
)

// ColorRun is a run of neighbouring threads in one color. Color is a palette number, 0
// for no color.
type ColorRun struct {
	Color int `json:"color"`
	Ends  int `json:"ends"`
}

// colorCount is a color and its number of threads.
type colorCount struct {
	color   int // palette number, 0 for none
	threads float64
}

// countColors counts the threads of a system by color, in order of palette number. times
// returns how often each of the draft's threads occurs; a color may end up with none.
func countColors(system *schema.System, threads int, times func(thread int) float64) []colorCount {
	return countBy(threads, func(n int) int { return system.ColorOf(n + 1) }, func(n int) float64 { return times(n + 1) })
}

// countEach counts threads by color, in order of palette number.
func countEach(threads int, color func(n int) int) []colorCount {
	return countBy(threads, color, func(int) float64 { return 1 })
}

// countBy counts threads, from 0, by color. times returns how often each occurs.
func countBy(threads int, colorOf func(n int) int, times func(n int) float64) []colorCount {
	counts := map[int]float64{}
	color, sum := 0, 0.0
	for n := range threads {
		if c := colorOf(n); n > 0 && c != color {
			counts[color] += sum
			color, sum = c, 0
		} else {
			color = c
		}
		sum += times(n)
	}
	if threads > 0 {
		counts[color] += sum
	}
	list := make([]colorCount, 0, len(counts))
	for color, n := range counts {
		list = append(list, colorCount{color, n})
	}
	slices.SortFunc(list, func(a, b colorCount) int { return cmp.Compare(a.color, b.color) })
	return list
}

// draftColors counts the draft's own ends, or picks, by color.
func (f *Figures) draftColors(system schema.SystemName) []colorCount {
	return countColors(f.Draft.Of(system), f.Draft.Threads(system), func(int) float64 { return 1 })
}

// wovenColors counts the picks of all parts by color. Each part starts at its own pick of
// the draft.
func (f *Figures) wovenColors() []colorCount {
	threads, w := f.Draft.Picks(), f.parts()
	return countColors(&f.Draft.Weft, threads, func(pick int) float64 {
		return w.count(func(first int) int { return schema.TimesAmong(pick, threads, first) })
	})
}

// colorRuns returns the color order of a range of ends, counted from 0; the end of the
// range is exclusive.
func (f *Figures) colorRuns(w *WarpSet, from, to int) []ColorRun {
	var runs []ColorRun
	for n := from; n < to; n++ {
		runs = addRun(runs, f.colorAt(w.end(n)))
	}
	return runs
}

// mostHemRuns is the most color runs of a plain hem that HemColors lists.
const mostHemRuns = 200

// HemColors returns the color order of the picks of a plain hem, and how it folds into
// blocks. A run's Ends are picks here. ok is false if there are more than mostHemRuns.
func (f *Figures) HemColors(s Stretch) (runs []ColorRun, order []Block, ok bool) {
	draft := f.weftRuns.get(f.computeWeftRuns)
	if s.Weave != PlainWeave || len(draft) == 0 {
		return nil, nil, false
	}
	at, skip := 0, int(s.FromDraftPick.Value)-1
	for skip >= draft[at].Ends {
		skip, at = skip-draft[at].Ends, at+1
	}
	for left := wholePicks(s.Picks.Value); left > 0; {
		n := min(draft[at].Ends-skip, left)
		if len(draft) == 1 {
			n = left
		}
		if last := len(runs) - 1; last >= 0 && runs[last].Color == draft[at].Color {
			runs[last].Ends += n
		} else {
			runs = append(runs, ColorRun{draft[at].Color, n})
		}
		if len(runs) > mostHemRuns {
			return nil, nil, false
		}
		left, skip, at = left-n, 0, (at+1)%len(draft)
	}
	return runs, fold(numberRuns(runs)), true
}

// computeWeftRuns returns the color order of the draft's picks.
func (f *Figures) computeWeftRuns() []ColorRun {
	var runs []ColorRun
	for pick := 1; pick <= f.Draft.Picks(); pick++ {
		runs = addRun(runs, f.Draft.Weft.ColorOf(pick))
	}
	return runs
}

// addRun adds a thread of a color to the last run, or to a new one.
func addRun(runs []ColorRun, color int) []ColorRun {
	if n := len(runs); n > 0 && runs[n-1].Color == color {
		runs[n-1].Ends++
		return runs
	}
	return append(runs, ColorRun{color, 1})
}

// ColorsBeyond returns the palette numbers of each system that its first ends, or first
// picks, don't have, in order of their first thread.
func (f *Figures) ColorsBeyond(ends, picks int) (warp, weft []int) {
	return laterColors(&f.Draft.Warp, ends, f.Draft.Ends()), laterColors(&f.Draft.Weft, picks, f.Draft.Picks())
}

func laterColors(system *schema.System, first, all int) (list []int) {
	seen := map[int]bool{}
	for n := 1; n <= all; n++ {
		color := system.ColorOf(n)
		if n > first && !seen[color] {
			list = append(list, color)
		}
		seen[color] = true
	}
	return list
}

// Hex returns a palette number's color as #rrggbb, or "" if the palette has none.
func (f *Figures) Hex(color int) string {
	if color < 1 || color > len(f.Draft.Palette) {
		return ""
	}
	return f.Draft.Palette[color-1].Hex()
}

// yarnIndex finds the yarn for a color of a system.
type yarnIndex struct {
	byNumber map[int]int
	byColor  map[schema.Color]int
	other    int // the yarn for colors that no yarn names; -1 for none
	plain    int // the yarn for threads without a color; -1 for none
}

// YarnOf returns the yarn for a palette number in a system, as an index in the setup's
// yarns, or -1 for none. It is the first yarn that names the number or its color,
// otherwise the first that names no color. A yarn for this system alone comes before
// one for both. Threads without a color have the number 0: they take the only yarn for
// this system alone, whatever it names, otherwise the first that names no color.
func (f *Figures) YarnOf(system schema.SystemName, color int) int {
	index := f.yarnIndex(system)
	if yarn, named := index.named(f.Draft, color); named {
		return yarn
	}
	if color == 0 {
		return index.plain
	}
	return index.other
}

// YarnNames returns the name of the yarn for each color in use, by palette number. If a color
// has one yarn in the warp and another in the weft, the name has both. Colors without a named
// yarn are left out.
func (f *Figures) YarnNames() map[int]string {
	names := map[int]string{}
	warp := map[int]string{}
	for _, c := range f.draftColors(schema.Warp) {
		if yarn := f.YarnOf(schema.Warp, c.color); yarn >= 0 && f.Setup.Yarns[yarn].Name != "" {
			names[c.color], warp[c.color] = f.Setup.Yarns[yarn].Name, f.Setup.Yarns[yarn].Name
		}
	}
	for _, c := range f.draftColors(schema.Weft) {
		yarn := f.YarnOf(schema.Weft, c.color)
		if yarn < 0 || f.Setup.Yarns[yarn].Name == "" {
			continue
		}
		name := f.Setup.Yarns[yarn].Name
		if other, both := warp[c.color]; both && other != name {
			name = other + " (warp), " + name + " (weft)"
		}
		names[c.color] = name
	}
	return names
}

func (f *Figures) yarnIndex(system schema.SystemName) yarnIndex {
	if system == schema.Weft {
		return f.weftYarns.get(f.indexWeftYarns)
	}
	return f.warpYarns.get(f.indexWarpYarns)
}

func (f *Figures) indexWarpYarns() yarnIndex { return indexFor(f.Setup, schema.Warp) }
func (f *Figures) indexWeftYarns() yarnIndex { return indexFor(f.Setup, schema.Weft) }
func (f *Figures) indexAnyYarns() yarnIndex {
	return indexOf(f.Setup, func(*schema.Yarn) bool { return true })
}

func indexFor(s *schema.Setup, system schema.SystemName) yarnIndex {
	x := indexOf(s, func(y *schema.Yarn) bool { return usedFor(y, system) })
	x.other = firstYarn(s, func(y *schema.Yarn) bool { return namesNone(y) && onlyFor(y, system) })
	if x.other < 0 {
		x.other = firstYarn(s, func(y *schema.Yarn) bool { return namesNone(y) && usedFor(y, system) })
	}
	x.plain = x.other
	if only, n := countYarns(s, func(y *schema.Yarn) bool { return onlyFor(y, system) }); n == 1 {
		x.plain = only // the only yarn for this system, whatever colors it names
	}
	return x
}

// indexOf indexes the yarns of one kind by the numbers and colors they name. The first
// yarn wins.
func indexOf(s *schema.Setup, is func(*schema.Yarn) bool) yarnIndex {
	x := yarnIndex{map[int]int{}, map[schema.Color]int{}, -1, -1}
	for i := range s.Yarns {
		y := &s.Yarns[i]
		if !is(y) {
			continue
		}
		for _, n := range y.Palette {
			setFirst(x.byNumber, n, i)
		}
		for _, c := range y.Colors {
			setFirst(x.byColor, c, i)
		}
	}
	return x
}

func setFirst[K comparable](m map[K]int, key K, i int) {
	if _, taken := m[key]; !taken {
		m[key] = i
	}
}

// firstYarn returns the index of the first yarn of a kind, or -1.
func firstYarn(s *schema.Setup, is func(*schema.Yarn) bool) int {
	for i := range s.Yarns {
		if is(&s.Yarns[i]) {
			return i
		}
	}
	return -1
}

// countYarns returns the index of the first yarn of a kind, and how many there are.
func countYarns(s *schema.Setup, is func(*schema.Yarn) bool) (first, count int) {
	first = firstYarn(s, is)
	for i := range s.Yarns {
		if is(&s.Yarns[i]) {
			count++
		}
	}
	return first, count
}

// namesNone reports whether a yarn names no color at all.
func namesNone(y *schema.Yarn) bool { return len(y.Colors) == 0 && len(y.Palette) == 0 }

// usedFor reports whether a yarn may be used for a system. Without a stated use it may be
// used for both.
func usedFor(y *schema.Yarn, system schema.SystemName) bool {
	return y.ForWarp == y.ForWeft || onlyFor(y, system)
}

// onlyFor reports whether a yarn is only for this system.
func onlyFor(y *schema.Yarn, system schema.SystemName) bool {
	return y.ForWarp != y.ForWeft && y.ForWarp == (system == schema.Warp)
}

// named returns the first yarn that names a palette number or its color.
func (x yarnIndex) named(d *schema.Draft, color int) (yarn int, named bool) {
	yarn, named = x.byNumber[color]
	if color >= 1 && color <= len(d.Palette) && d.Palette[color-1].Set {
		if y, ok := x.byColor[d.Palette[color-1]]; ok && (!named || y < yarn) {
			return y, true
		}
	}
	return yarn, named
}

// NoYarn is a color without a yarn.
type NoYarn struct {
	Color      int  // palette number, 0 for threads without a color
	Warp, Weft bool // which of them lack a yarn
	// ButForUse is the index of a yarn that names the color but is only for the other
	// system, -1 for none.
	ButForUse int
}

// NoYarns lists the colors without a yarn, in order of palette number. It is empty if the
// setup has no yarns at all.
func (f *Figures) NoYarns() []NoYarn { return f.noYarns.get(f.computeNoYarns) }

func (f *Figures) computeNoYarns() []NoYarn {
	if len(f.Setup.Yarns) == 0 {
		return nil
	}
	lacks := map[int]NoYarn{}
	for _, system := range []schema.SystemName{schema.Warp, schema.Weft} {
		for _, c := range f.draftColors(system) {
			if f.YarnOf(system, c.color) < 0 {
				n := lacks[c.color]
				n.Color, n.ButForUse = c.color, f.yarnButForUse(c.color)
				n.Warp, n.Weft = n.Warp || system == schema.Warp, n.Weft || system == schema.Weft
				lacks[c.color] = n
			}
		}
	}
	var list []NoYarn
	for _, color := range slices.Sorted(maps.Keys(lacks)) {
		list = append(list, lacks[color])
	}
	return list
}

// yarnButForUse returns the index of the yarn for a color whatever its use, or -1.
func (f *Figures) yarnButForUse(color int) int {
	if yarn, named := f.anyYarns.get(f.indexAnyYarns).named(f.Draft, color); named {
		return yarn
	}
	return firstYarn(f.Setup, namesNone)
}
