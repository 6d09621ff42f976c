package dressing

import (
	"fmt"

	"fettle/schema"
	"fettle/schema/wording"
)

// WarpSet is the main warp or an extra one, with its own length and bouts.
type WarpSet struct {
	Name   string
	Beam   string // the beam for it; "" if unstated
	Ends   int
	Length Figure // of each end, in millimetres

	takeUp, waste float64
	ends          []int32 // ascending, in the whole warp; nil if there is only one warp
	colors        []colorCount
}

// end returns the number, in the whole warp, of the nth end, counted from 0.
func (w *WarpSet) end(n int) int {
	if w.ends == nil {
		return n + 1
	}
	return int(w.ends[n])
}

// WarpError is a [warp] section that doesn't pick valid ends.
type WarpError struct{ Why string }

func (e WarpError) Error() string { return e.Why }

// warpSets holds the warps, or the reason why there is only one.
type warpSets struct {
	sets  []WarpSet
	wrong *WarpError
}

// Warps returns the main warp and then the others in the setup's order. If warpError
// refuses those, the main warp has all ends.
func (f *Figures) Warps() []WarpSet { return f.warpSets().sets }

// warpError reports whether a [warp] picks no ends, an end that the warp doesn't have, or
// one that another [warp] picks too.
func (f *Figures) warpError() (WarpError, bool) {
	if wrong := f.warpSets().wrong; wrong != nil {
		return *wrong, true
	}
	return WarpError{}, false
}

func (f *Figures) warpSets() warpSets { return f.warps.get(f.computeWarps) }

func (f *Figures) computeWarps() warpSets {
	p, w, extra := &f.Setup.Project, f.Warp(), f.Setup.Warps
	main := WarpSet{Name: schema.MainWarp, Ends: w.All, takeUp: p.TakeUp, waste: float64(p.LoomWaste)}
	all := warpSets{sets: []WarpSet{main}}
	if w.All > 0 && len(extra) > 0 {
		picked := warpPicker{figures: f, of: make([]int32, w.All)}
		if picked.pick(); picked.wrong == nil {
			all.sets = picked.sets(main)
		}
		all.wrong = picked.wrong
	}
	for i := range all.sets {
		set := &all.sets[i]
		set.Length = f.warpLength(set, f.parts())
		if set.ends == nil {
			set.colors = countColors(&f.Draft.Warp, w.Ends, func(end int) float64 { return float64(w.times(end, w.All)) })
		} else {
			set.colors = countEach(set.Ends, func(n int) int { return f.colorAt(set.end(n)) })
		}
	}
	return all
}

// warpPicker finds the extra warp of each end. It stops at the first end that is picked
// twice, so the time is linear in the ends.
type warpPicker struct {
	figures *Figures
	of      []int32 // by end from 0: the number of the extra warp, from 1; 0 for the main one
	wrong   *WarpError
}

func (p *warpPicker) pick() {
	f := p.figures
	shafts, colors := map[int32]int{}, map[int]int{}
	highest := f.Draft.Threading.Highest()
	for i := range f.Setup.Warps {
		w := &f.Setup.Warps[i]
		for _, s := range w.Ends {
			for end := s.From; end <= s.To && p.wrong == nil; end += s.Step {
				p.mark(end, i, "ends")
			}
		}
		for _, s := range w.Shafts {
			for shaft := s.From; shaft <= min(s.To, highest) && p.wrong == nil; shaft += s.Step {
				if before, twice := shafts[int32(shaft)]; twice {
					p.refuse("shaft %d is in %s and in %s; name it once", shaft, p.stated(before, "shafts"), p.stated(i, "shafts"))
				}
				shafts[int32(shaft)] = i
			}
		}
		for _, color := range w.Palette {
			if before, twice := colors[color]; twice && p.wrong == nil {
				p.refuse("color %d is in %s and in %s; name it once", color, p.stated(before, "palette"), p.stated(i, "palette"))
			}
			colors[color] = i
		}
	}
	if len(shafts)+len(colors) > 0 {
		for end := 1; end <= len(p.of) && p.wrong == nil; end++ {
			p.pickByKind(end, shafts, colors)
		}
	}
	p.findEmpty()
}

// pickByKind marks an end by its shafts and color.
func (p *warpPicker) pickByKind(end int, shafts map[int32]int, colors map[int]int) {
	f := p.figures
	for _, shaft := range f.Draft.Threading.Row(f.Warp().DraftEnd(end)) {
		if i, ok := shafts[shaft]; ok {
			p.mark(end, i, "shafts")
		}
	}
	if i, ok := colors[f.colorAt(end)]; ok {
		p.mark(end, i, "palette")
	}
}

// mark puts an end into an extra warp.
func (p *warpPicker) mark(end, i int, key string) {
	if end > len(p.of) {
		p.refuse("%s picks end %d, but the whole warp has %s; correct one of the two", p.stated(i, key), end, wording.Counted(len(p.of), "end"))
		return
	}
	switch before := int(p.of[end-1]) - 1; {
	case before < 0:
		p.of[end-1] = int32(i + 1)
	case before != i:
		p.refuse("end %d is in %s and in %s; leave it in one of the two", end, p.head(before), p.stated(i, key))
	case key == "ends":
		p.refuse("%s names end %d twice; name it once", p.stated(i, key), end)
	}
}

func (p *warpPicker) findEmpty() {
	counts := make([]int, len(p.figures.Setup.Warps)+1)
	for _, i := range p.of {
		counts[i]++
	}
	for i, n := range counts[1:] {
		if n == 0 && p.wrong == nil {
			p.refuse("%s picks no end of this draft; correct its ends, shafts or palette", p.head(i))
		}
	}
}

func (p *warpPicker) refuse(format string, args ...any) {
	p.wrong = &WarpError{fmt.Sprintf(format, args...)}
}

func (p *warpPicker) head(i int) string {
	return "[warp " + wording.Plain(p.figures.Setup.Warps[i].Name, 60) + "]"
}

// stated names a key of an extra warp and its origin.
func (p *warpPicker) stated(i int, key string) string {
	return p.figures.Setup.Stated("warp "+p.figures.Setup.Warps[i].Name, key)
}

// sets returns the warps with their ends.
func (p *warpPicker) sets(main WarpSet) []WarpSet {
	setup := p.figures.Setup
	list := []WarpSet{main}
	for _, w := range setup.Warps {
		set := WarpSet{Name: w.Name, Beam: w.Beam, takeUp: main.takeUp, waste: main.waste}
		if setup.Has("warp " + w.Name + ".take-up") {
			set.takeUp = w.TakeUp
		}
		if setup.Has("warp " + w.Name + ".loom waste") {
			set.waste = float64(w.LoomWaste)
		}
		list = append(list, set)
	}
	for end, i := range p.of {
		list[i].ends = append(list[i].ends, int32(end+1))
	}
	for i := range list {
		list[i].Ends = len(list[i].ends)
	}
	if list[0].Ends == 0 {
		return list[1:] // every end is in an extra warp
	}
	return list
}
