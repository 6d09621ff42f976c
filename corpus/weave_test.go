package corpus

import "fettle/schema"

// weave is the cloth of a draft, computed thread by thread in the simplest way, to check
// faster code.
type weave [][]bool // [pick][end], both from 0: whether the warp is up

func woven(d *schema.Draft) weave {
	w := make(weave, d.Picks())
	for p := range w {
		lifted := liftOf(d, p+1)
		w[p] = make([]bool, d.Ends())
		for e := range w[p] {
			shafts := d.Threading.Row(e + 1)
			named := false
			for _, s := range shafts {
				named = named || lifted[s]
			}
			w[p][e] = len(shafts) > 0 && named == (d.Shed != schema.Sinking)
		}
	}
	return w
}

func liftOf(d *schema.Draft, pick int) map[int32]bool {
	lifted := map[int32]bool{}
	for _, s := range d.LiftPlan.Row(pick) {
		lifted[s] = true
	}
	if d.LiftPlan.Len() > 0 {
		return lifted
	}
	for _, t := range d.Treadling.Row(pick) {
		for _, s := range d.Tieup.Row(int(t)) {
			lifted[s] = true
		}
	}
	return lifted
}

// turned returns the cloth with warp and weft exchanged, so that code for rows also works
// for columns.
func (w weave) turned() weave {
	t := make(weave, len(w[0]))
	for e := range t {
		t[e] = make([]bool, len(w))
		for p := range w {
			t[e][p] = !w[p][e]
		}
	}
	return t
}

// float is a run of threads crossed on one side of the cloth.
type float struct {
	thread, from, threads int // the thread that floats, the first it crosses, how many; from 1
}

// weftFloats returns the weft floats of each pick, on the face or the back.
func (w weave) weftFloats(face bool) []float {
	var all []float
	for p, row := range w {
		run := 0
		for e := 0; e <= len(row); e++ {
			if e < len(row) && row[e] != face {
				run++
				continue
			}
			if run > 0 {
				all = append(all, float{p + 1, e - run + 1, run})
			}
			run = 0
		}
	}
	return all
}

// floats returns all floats of a system on a side.
func (w weave) floats(system schema.SystemName, side string) []float {
	if system == schema.Warp {
		return w.turned().weftFloats(side == "face")
	}
	return w.weftFloats(side == "face")
}

// longest returns the first of the longest floats.
func longest(all []float) float {
	var best float
	for _, f := range all {
		if f.threads > best.threads {
			best = f
		}
	}
	return best
}

// fourFloats returns the longest floats of the warp on face and back, and of the weft on
// face and back.
func (w weave) fourFloats() [4]int {
	var four [4]int
	for i, of := range []struct {
		system schema.SystemName
		side   string
	}{{schema.Warp, "face"}, {schema.Warp, "back"}, {schema.Weft, "face"}, {schema.Weft, "back"}} {
		four[i] = longest(w.floats(of.system, of.side)).threads
	}
	return four
}

// picksRepeat returns the smallest shift that maps every pick to an equal one.
func (w weave) picksRepeat() int {
	for p := 1; p < len(w); p++ {
		if w.repeatsAfter(p) {
			return p
		}
	}
	return len(w)
}

func (w weave) repeatsAfter(p int) bool {
	for i := 0; i+p < len(w); i++ {
		for e := range w[i] {
			if w[i][e] != w[i+p][e] {
				return false
			}
		}
	}
	return true
}

// loose counts the picks that are completely above or below the warp.
func (w weave) loose() []int {
	var picks []int
	for p, row := range w {
		up := 0
		for _, u := range row {
			if u {
				up++
			}
		}
		if up == 0 || up == len(row) {
			picks = append(picks, p+1)
		}
	}
	return picks
}

// layers counts the separate parts of the cloth with both warp and weft. Two strands belong
// together if each can be reached from the other by going from upper to lower strands.
func (w weave) layers() int {
	seen := make([]bool, len(w[0])+len(w))
	layers := 0
	for n := range seen {
		if seen[n] {
			continue
		}
		down, up := w.reach(n, true), w.reach(n, false)
		ends, picks := 0, 0
		for m := range seen {
			if !down[m] || !up[m] {
				continue
			}
			seen[m] = true
			if m < len(w[0]) {
				ends++
			} else {
				picks++
			}
		}
		if ends > 0 && picks > 0 {
			layers++
		}
	}
	return layers
}

// reach marks the strands under strand n, those under them, and so on; or those over it.
// Strands are the ends, then the picks.
func (w weave) reach(n int, under bool) []bool {
	ends := len(w[0])
	got := make([]bool, ends+len(w))
	got[n] = true
	for todo := []int{n}; len(todo) > 0; {
		s := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		visit := func(m int, follow bool) {
			if follow && !got[m] {
				got[m] = true
				todo = append(todo, m)
			}
		}
		if s < ends {
			for p := range w {
				visit(ends+p, w[p][s] == under)
			}
			continue
		}
		for e, up := range w[s-ends] {
			visit(e, up != under)
		}
	}
	return got
}

// misses counts the turns of one shuttle that no edge end catches. The first pick goes from
// the last end to the first, from left to right, or the other way.
func (w weave) misses(fromLeft bool) int {
	n := 0
	for p := 1; p < len(w); p++ {
		edge := 0
		if (p%2 == 1) != fromLeft {
			edge = len(w[p]) - 1
		}
		if w[p-1][edge] == w[p][edge] {
			n++
		}
	}
	return n
}

// fullness returns the mean of 100 R/(R+I) over the picks, with R ends and I intersections
// in the repeat: how close this cloth can be set, in percent of a sett without interlacing.
func (w weave) fullness() float64 { return w.fullnessBy(w.turned().picksRepeat()) }

// picksIn returns the picks of one color.
func (w weave) picksIn(d *schema.Draft, color int) (own weave) {
	for p, row := range w {
		if d.Weft.ColorOf(p+1) == color {
			own = append(own, row)
		}
	}
	return own
}

// fullnessBy is fullness for a known repeat of the ends.
func (w weave) fullnessBy(ends int) float64 {
	sum := 0.0
	for _, row := range w {
		changes := 0
		for e := range ends {
			if row[e] != row[(e+1)%ends] {
				changes++
			}
		}
		sum += float64(ends) / float64(ends+changes)
	}
	return sum / float64(len(w))
}
