package dressing

import (
	"slices"

	"fettle/schema"
)

// Shelf tells which yarn stands for which colour of a system.
type Shelf struct {
	byNumber map[int]int
	byColor  map[schema.Color]int
	other    int
}

// ShelfFor is the shelf for the warp or for the weft.
func ShelfFor(s *schema.Setup, system schema.SystemName) Shelf {
	f := Shelf{map[int]int{}, map[schema.Color]int{}, -1}
	for i := range s.Yarns {
		y := &s.Yarns[i]
		if !usedFor(y, system) {
			continue
		}
		for _, n := range y.Palette {
			setFirst(f.byNumber, n, i)
		}
		for _, c := range y.Colors {
			setFirst(f.byColor, c, i)
		}
		if f.other < 0 && len(y.Colors) == 0 && len(y.Palette) == 0 {
			f.other = i
		}
	}
	return f
}

func setFirst[K comparable](m map[K]int, key K, i int) {
	if _, taken := m[key]; !taken {
		m[key] = i
	}
}

// usedFor says whether a yarn is for a system; one that is for neither has not
// said, and is for both.
func usedFor(y *schema.Yarn, system schema.SystemName) bool {
	if y.ForWarp == y.ForWeft {
		return true
	}
	return y.ForWarp == (system == schema.Warp)
}

// Yarn is the place, from 0, in the setup's yarns of the one that stands for a
// palette number: the first that names the number or its colour, else the first
// that names none at all. It is -1 for none.
func (f Shelf) Yarn(d *schema.Draft, color int) int {
	yarn, named := f.byNumber[color]
	if color >= 1 && color <= len(d.Palette) && d.Palette[color-1].Set {
		if y, ok := f.byColor[d.Palette[color-1]]; ok && (!named || y < yarn) {
			yarn, named = y, true
		}
	}
	if !named {
		return f.other
	}
	return yarn
}

// Unassigned lists the palette numbers that no yarn stands for, in the warp or
// in the weft, lowest first; 0 for threads the draft gives no colour. There are
// none where the setup knows no yarn at all.
func Unassigned(d *schema.Draft, s *schema.Setup) []int {
	if len(s.Yarns) == 0 {
		return nil
	}
	list := unassigned(d, ShelfFor(s, schema.Warp), countColors(&d.Warp, d.Ends(), once))
	list = append(list, unassigned(d, ShelfFor(s, schema.Weft), WeftColors(d))...)
	slices.Sort(list)
	return slices.Compact(list)
}

func unassigned(d *schema.Draft, shelf Shelf, counts []ColorCount) (list []int) {
	for _, c := range counts {
		if shelf.Yarn(d, c.Color) < 0 {
			list = append(list, c.Color)
		}
	}
	return list
}
