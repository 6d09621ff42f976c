package cloth

import (
	"crypto/sha256"
	"math"
	"math/rand/v2"
	"slices"

	"fettle/schema"
)

// grid is an expanded cloth: grid[pick][end], from 0, reports whether the warp is up. All
// code here follows the definitions directly, crossing by crossing.
type grid [][]bool

func naiveLift(d *schema.Draft, pick int) []int32 {
	var lift []int32
	if d.LiftPlan.Len() > 0 {
		lift = slices.Clone(d.LiftPlan.Row(pick))
	} else {
		lift = naiveTrodden(d, pick)
	}
	return lift
}

func naiveTrodden(d *schema.Draft, pick int) []int32 {
	set := map[int32]bool{}
	for _, t := range d.Treadling.Row(pick) {
		for _, s := range d.Tieup.Row(int(t)) {
			set[s] = true
		}
	}
	var lift []int32
	for s := range set {
		lift = append(lift, s)
	}
	slices.Sort(lift)
	return lift
}

func gridOf(d *schema.Draft) (g grid, ends int) {
	ends = d.Ends()
	for pick := 1; pick <= d.Picks(); pick++ {
		row := make([]bool, ends)
		lift := naiveLift(d, pick)
		for end := range row {
			on := d.Threading.Row(end + 1)
			named := slices.ContainsFunc(on, func(s int32) bool { return slices.Contains(lift, s) })
			row[end] = len(on) > 0 && named != (d.Shed == schema.Sinking)
		}
		g = append(g, row)
	}
	return g, ends
}

// column returns an end, from 0, over the picks.
func (g grid) column(end int) []bool {
	col := make([]bool, len(g))
	for i := range g {
		col[i] = g[i][end]
	}
	return col
}

// lines returns the ends or the picks, each along the threads it crosses.
func (g grid) lines(warp bool, ends int) [][]bool {
	if !warp {
		return g
	}
	var lines [][]bool
	for e := range ends {
		lines = append(lines, g.column(e))
	}
	return lines
}

func (g grid) identity() [32]byte {
	var text []byte
	for _, row := range g {
		for _, up := range row {
			if up {
				text = append(text, '1')
			} else {
				text = append(text, '0')
			}
		}
		text = append(text, '\n')
	}
	return sha256.Sum256(text)
}

func naivePeriod(lines [][]bool) int {
	if len(lines) == 0 {
		return 0
	}
	for p := 1; ; p++ {
		ok := true
		for i := 0; i+p < len(lines); i++ {
			ok = ok && slices.Equal(lines[i], lines[i+p])
		}
		if ok {
			return p
		}
	}
}

// naiveFloat measures every run of a value on every line.
func naiveFloat(lines [][]bool, want bool, m Measure, wrap bool, cuts ...int) Float {
	var best Float
	var bestAt int64
	for thread, line := range lines {
		n := len(line)
		for from := range n {
			if line[from] != want {
				continue
			}
			length := 1
			constant := !slices.Contains(line, !want)
			switch {
			case wrap && constant:
				if from > 0 {
					continue
				}
				length = n
			case wrap:
				if line[(from+n-1)%n] == want {
					continue
				}
				for line[(from+length)%n] == want {
					length++
				}
			default:
				if from > 0 && line[from-1] == want && !slices.Contains(cuts, from) {
					continue
				}
				for from+length < n && line[from+length] == want && !slices.Contains(cuts, from+length) {
					length++
				}
			}
			f, at, over := naiveMeasure(m, n, from, length)
			if over {
				best.Over++
			}
			if at > bestAt {
				bestAt = at
				f.Thread, f.From, f.Over = thread+1, from+1, best.Over
				best = f
			}
		}
	}
	return best
}

// naiveMeasure returns the figures of a float, the length to compare, and whether it is
// too long.
func naiveMeasure(m Measure, n, from, length int) (f Float, at int64, over bool) {
	f.Threads = length
	known, even := true, true
	nm := int64(0)
	list := m.Spacings
	if list == nil {
		list = slices.Repeat([]float64{m.Spacing}, n)
	}
	for i := range n {
		known = known && i < len(list) && list[i] > 0
		even = even && known && list[i] == list[0]
	}
	for i := range length {
		if known {
			nm += int64(math.Round(list[(from+i)%n] * 1e6))
		}
	}
	if known {
		f.Length = float64(nm) / 1e6
	}
	at = int64(length)
	if known && !even && m.LimitThreads == 0 {
		at = nm
		if length == 1 && m.LimitMM > 0 {
			at = min(nm, int64(math.Round(m.LimitMM*1e6))+10_000)
		}
	}
	switch {
	case m.LimitThreads > 0:
		over = length > m.LimitThreads
	case m.LimitMM > 0 && known:
		over = length > 1 && f.Length > m.LimitMM+0.01+1e-7
	}
	return f, at, over
}

// naiveParts counts the strongly connected parts of the graph of crossings by Tarjan's
// algorithm: those with ends and picks, and all. Ends are nodes 0 to ends-1.
func naiveParts(g grid, ends int) (layers, parts int) {
	layerEnds, parts := naiveLayers(g, ends)
	return len(layerEnds), parts
}

// naiveLayers is the ends of each part that has picks too, the topmost first, and the
// number of all parts.
func naiveLayers(g grid, ends int) (layerEnds []int, parts int) {
	n := ends + len(g)
	over := func(a, b int) bool {
		switch {
		case a < ends && b >= ends:
			return g[b-ends][a]
		case a >= ends && b < ends:
			return !g[a-ends][b]
		}
		return false
	}
	number, low, onStack := make([]int, n), make([]int, n), make([]bool, n)
	var stack []int
	count := 0
	var visit func(int)
	visit = func(v int) {
		count++
		number[v], low[v] = count, count
		stack = append(stack, v)
		onStack[v] = true
		for w := range n {
			if !over(v, w) {
				continue
			}
			if number[w] == 0 {
				visit(w)
				low[v] = min(low[v], low[w])
			} else if onStack[w] {
				low[v] = min(low[v], number[w])
			}
		}
		if low[v] != number[v] {
			return
		}
		parts++
		inPart, pick := 0, false
		for {
			w := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			onStack[w] = false
			if w < ends {
				inPart++
			}
			pick = pick || w >= ends
			if w == v {
				break
			}
		}
		if inPart > 0 && pick {
			layerEnds = append(layerEnds, inPart)
		}
	}
	for v := range n {
		if number[v] == 0 {
			visit(v)
		}
	}
	slices.Reverse(layerEnds) // those below are found first
	return layerEnds, parts
}

func naiveLoose(lines [][]bool) []int {
	var loose []int
	for i, line := range lines {
		if len(line) > 0 && (!slices.Contains(line, true) || !slices.Contains(line, false)) {
			loose = append(loose, i+1)
		}
	}
	return loose
}

func naiveSelvedge(g grid, ends int) Selvedge {
	s := Selvedge{Turns: max(0, len(g)-1)}
	if ends == 0 {
		return s
	}
	for _, fromLeft := range []bool{true, false} {
		misses := 0
		atRight := fromLeft // the side where the last pick ends
		for i := 0; i+1 < len(g); i++ {
			edge := ends - 1
			if atRight {
				edge = 0
			}
			if g[i][edge] == g[i+1][edge] {
				misses++
			}
			atRight = !atRight
		}
		if fromLeft {
			s.MissesFromLeft = misses
		} else {
			s.MissesFromRight = misses
		}
	}
	return s
}

func naiveIntersections(lines [][]bool, own, across int) []int {
	list := []int{}
	for i := range own {
		n := 0
		for j := range across {
			if lines[i][j] != lines[i][(j+1)%across] {
				n++
			}
		}
		list = append(list, n)
	}
	return list
}

// seen returns the grid in a view.
func (g grid) seen(v View) grid {
	h := make(grid, len(g))
	for i, row := range g {
		row = slices.Clone(row)
		if v&TurnedOver != 0 {
			for j := range row {
				row[j] = !row[j]
			}
			slices.Reverse(row)
		}
		if v&Mirrored != 0 {
			slices.Reverse(row)
		}
		h[i] = row
	}
	if v&Reversed != 0 {
		slices.Reverse(h)
	}
	return h
}

// draftOf returns a draft that weaves the grid with one shaft an end.
func draftOf(g grid, ends int) *schema.Draft {
	d := &schema.Draft{}
	d.Warp.Threads = ends
	for e := range ends {
		d.Threading.Append(int32(e + 1))
	}
	for _, row := range g {
		var lift []int32
		for e, up := range row {
			if up {
				lift = append(lift, int32(e+1))
			}
		}
		d.LiftPlan.Append(lift...)
	}
	return d
}

// randomRows returns a table with up to most numbers a row, sometimes with repeats.
func randomRows(r *rand.Rand, rows, most, numbers int) schema.Rows {
	var t schema.Rows
	round := 1 + r.IntN(rows+1)
	var kept [][]int32
	for i := range rows {
		if i >= round && r.IntN(30) > 0 {
			t.Append(kept[i%round]...)
			kept = append(kept, kept[i%round])
			continue
		}
		var row []int32
		for range r.IntN(most + 1) {
			row = append(row, int32(r.IntN(numbers)+1))
		}
		kept = append(kept, row)
		t.Append(row...)
	}
	return t
}

// randomDraft returns a small draft of any kind.
func randomDraft(r *rand.Rand) *schema.Draft {
	if r.IntN(12) == 0 {
		return randomLayers(r)
	}
	shafts, treadles := 1+r.IntN(8), 1+r.IntN(8)
	if r.IntN(10) == 0 {
		shafts = 1 + r.IntN(90) // more than 64
	}
	ends, picks := r.IntN(14), r.IntN(14)
	if r.IntN(30) == 0 {
		ends, picks = r.IntN(150), r.IntN(150)
	}
	d := &schema.Draft{Shed: schema.Shed(r.IntN(3))}
	d.Threading = randomRows(r, ends, 1+r.IntN(3), shafts)
	d.Tieup = randomRows(r, r.IntN(treadles+1), 1+r.IntN(6), shafts+r.IntN(2))
	d.Treadling = randomRows(r, picks, 1+r.IntN(3), treadles)
	if r.IntN(2) == 0 {
		d.LiftPlan = randomRows(r, r.IntN(picks+2), 1+r.IntN(6), shafts+r.IntN(2))
	}
	if r.IntN(4) == 0 {
		d.LiftPlan = schema.Rows{}
		for pick := range picks {
			d.LiftPlan.Append(naiveTrodden(d, pick+1)...)
		}
		if r.IntN(2) == 0 {
			d.LiftPlan.Append(1)
		}
	}
	if r.IntN(6) == 0 {
		d.Warp.Threads = ends + r.IntN(4)
		d.Weft.Threads = picks + r.IntN(4)
	}
	if r.IntN(20) == 0 { // numbers that are too high for a plain table
		d.Threading.Append(2_000_000_000, 3)
		d.LiftPlan.Append(2_000_000_000)
		d.Tieup.Append(2_000_000_000, 1<<31-1)
	}
	return d
}

// randomLayers returns a draft with up to four layers. The threads of each lie over all
// threads of the layers below.
func randomLayers(r *rand.Rand) *schema.Draft {
	layers, ends, picks := 1+r.IntN(4), r.IntN(20), r.IntN(20)
	on := make([]int, ends)
	for e := range on {
		on[e] = r.IntN(layers)
	}
	g := make(grid, picks)
	for p := range g {
		own := r.IntN(layers)
		g[p] = make([]bool, ends)
		for e := range on {
			g[p][e] = on[e] > own || on[e] == own && r.IntN(2) == 0
		}
	}
	return draftOf(g, ends)
}

// randomMeasure returns a measure for so many crossed threads.
func randomMeasure(r *rand.Rand, threads int) Measure {
	m := Measure{LimitThreads: r.IntN(5)}
	if r.IntN(2) == 0 {
		m.LimitThreads, m.LimitMM = 0, float64(r.IntN(12))/2
	}
	switch r.IntN(4) {
	case 0:
		m.Spacing = float64(r.IntN(4)) / 2
	case 1, 2:
		m.Spacings = make([]float64, threads)
		for i := range m.Spacings {
			m.Spacings[i] = float64(1+r.IntN(4)) / 2
		}
		if r.IntN(8) == 0 && threads > 0 {
			m.Spacings[r.IntN(threads)] = 0
		}
	}
	return m
}
