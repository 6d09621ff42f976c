package dressing

import (
	"fmt"
	"maps"
	"slices"

	"fettle/schema"
	"fettle/schema/wording"
)

// Shelf tells which yarn stands for which color of a system.
type Shelf struct {
	byNumber map[int]int
	byColor  map[schema.Color]int
	other    int // stands for colors that no yarn names; -1 for none
	plain    int // stands for threads without a color; -1 for none
}

// ShelfFor is the shelf for the warp or for the weft.
func ShelfFor(s *schema.Setup, system schema.SystemName) Shelf {
	f := shelfOf(s, func(y *schema.Yarn) bool { return usedFor(y, system) })
	f.other = firstYarn(s, func(y *schema.Yarn) bool { return namesNone(y) && onlyFor(y, system) })
	if f.other < 0 {
		f.other = firstYarn(s, func(y *schema.Yarn) bool { return namesNone(y) && usedFor(y, system) })
	}
	f.plain = f.other
	if only, n := countYarns(s, func(y *schema.Yarn) bool { return onlyFor(y, system) }); n == 1 {
		f.plain = only // whatever colors it names, it is the one that was meant for this
	}
	return f
}

// shelfOf is the yarns of one kind by what they name; the first that names a
// thing has it.
func shelfOf(s *schema.Setup, is func(*schema.Yarn) bool) Shelf {
	f := Shelf{map[int]int{}, map[schema.Color]int{}, -1, -1}
	for i := range s.Yarns {
		y := &s.Yarns[i]
		if !is(y) {
			continue
		}
		for _, n := range y.Palette {
			setFirst(f.byNumber, n, i)
		}
		for _, c := range y.Colors {
			setFirst(f.byColor, c, i)
		}
	}
	return f
}

func setFirst[K comparable](m map[K]int, key K, i int) {
	if _, taken := m[key]; !taken {
		m[key] = i
	}
}

// firstYarn is the place of the first yarn of a kind, -1 for none.
func firstYarn(s *schema.Setup, is func(*schema.Yarn) bool) int {
	for i := range s.Yarns {
		if is(&s.Yarns[i]) {
			return i
		}
	}
	return -1
}

// countYarns is the place of the first yarn of a kind, and how many there are.
func countYarns(s *schema.Setup, is func(*schema.Yarn) bool) (first, count int) {
	first = firstYarn(s, is)
	for i := range s.Yarns {
		if is(&s.Yarns[i]) {
			count++
		}
	}
	return first, count
}

// namesNone says whether a yarn names no color at all.
func namesNone(y *schema.Yarn) bool { return len(y.Colors) == 0 && len(y.Palette) == 0 }

// usedFor says whether a yarn may be used for a system; one that is for neither
// has not said, and is for both.
func usedFor(y *schema.Yarn, system schema.SystemName) bool {
	return y.ForWarp == y.ForWeft || onlyFor(y, system)
}

// onlyFor says whether a yarn is for that system alone.
func onlyFor(y *schema.Yarn, system schema.SystemName) bool {
	return y.ForWarp != y.ForWeft && y.ForWarp == (system == schema.Warp)
}

// Yarn is the place, from 0, in the setup's yarns of the one that stands for a
// palette number: the first that names the number or its color, else the first
// that names none at all, one for this system alone before one for both. For
// threads without a color, which are number 0, it is the only yarn that is for
// this system alone, whatever it names, else again the first that names none. It
// is -1 for none.
func (f Shelf) Yarn(d *schema.Draft, color int) int {
	if yarn, named := f.named(d, color); named {
		return yarn
	}
	if color == 0 {
		return f.plain
	}
	return f.other
}

// named is the first yarn that names a palette number or its color.
func (f Shelf) named(d *schema.Draft, color int) (yarn int, named bool) {
	yarn, named = f.byNumber[color]
	if color >= 1 && color <= len(d.Palette) && d.Palette[color-1].Set {
		if y, ok := f.byColor[d.Palette[color-1]]; ok && (!named || y < yarn) {
			return y, true
		}
	}
	return yarn, named
}

// NoYarn is a color that no yarn stands for.
type NoYarn struct {
	Color      int  // palette number, 0 for threads without a color
	Warp, Weft bool // where it lacks one
	// ButForUse is the yarn, by its place in the setup's, that would stand for the
	// color there if it were not for its use; -1 for none. It is for the other
	// system, so that the color lacks a yarn in one of the two alone.
	ButForUse int
}

// Advice says why a color has no yarn where the use of one is the cause, and
// what to do; "" where it is not.
func (n NoYarn) Advice(s *schema.Setup) string {
	if n.ButForUse < 0 {
		return ""
	}
	lacks, use := schema.Weft, schema.Warp
	if n.Warp {
		lacks, use = schema.Warp, schema.Weft
	}
	what := fmt.Sprintf("color %d in the %s", n.Color, lacks)
	if n.Color == 0 {
		what = fmt.Sprintf("threads of the %s without a color", lacks)
	}
	return fmt.Sprintf("no yarn stands for %s: yarn %s would, but its use is %s; write use = warp, weft there, or give another [yarn] use = %s",
		what, wording.Quote(s.Yarns[n.ButForUse].Name), use, lacks)
}

// NoYarns lists the colors that no yarn stands for in the warp or in the weft,
// lowest palette number first. There are none where the setup knows no yarn at
// all.
func NoYarns(d *schema.Draft, s *schema.Setup) []NoYarn {
	if len(s.Yarns) == 0 {
		return nil
	}
	lacks := map[int]NoYarn{}
	for _, system := range []schema.SystemName{schema.Warp, schema.Weft} {
		shelf := ShelfFor(s, system)
		for _, c := range colorsOf(d, system) {
			if shelf.Yarn(d, c.Color) < 0 {
				n := lacks[c.Color]
				n.Color, n.ButForUse = c.Color, butForUse(d, s, c.Color)
				n.Warp, n.Weft = n.Warp || system == schema.Warp, n.Weft || system == schema.Weft
				lacks[c.Color] = n
			}
		}
	}
	var list []NoYarn
	for _, color := range slices.Sorted(maps.Keys(lacks)) {
		list = append(list, lacks[color])
	}
	return list
}

func colorsOf(d *schema.Draft, system schema.SystemName) []ColorCount {
	if system == schema.Warp {
		return countColors(&d.Warp, d.Ends(), once)
	}
	return WeftColors(d)
}

// butForUse is the yarn that stands for a color where its use is left out of
// account, -1 for none.
func butForUse(d *schema.Draft, s *schema.Setup, color int) int {
	if yarn, named := shelfOf(s, func(*schema.Yarn) bool { return true }).named(d, color); named {
		return yarn
	}
	return firstYarn(s, namesNone)
}

// Unassigned lists the palette numbers that no yarn stands for, as NoYarns does.
func Unassigned(d *schema.Draft, s *schema.Setup) []int {
	var list []int
	for _, n := range NoYarns(d, s) {
		list = append(list, n.Color)
	}
	return list
}
