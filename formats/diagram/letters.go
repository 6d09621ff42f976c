package diagram

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"

	"fettle/schema"
	"fettle/schema/wording"
)

// Each color in use has a letter, and on a page with a table of its own the number in the
// palette. It appears beside the bars wherever the color changes, so a print without color
// says the same.

// letter is the letter of a color beside a bar.
type letter struct {
	thread int // that it is beside
	lane   int // from 0, away from the bar
	words  string
}

// Letters beside bars.
const (
	mostLanes  = 8
	noColor    = "–"
	letterGap  = 0.6   // millimetres
	longStripe = 180.0 // millimetres; a drawing as long as this repeats the letters of long stripes
	letterStep = 50.0  // millimetres
)

// nameColors gives a letter to each color of the drawn threads, in order of palette number.
func (l *layout) nameColors() {
	used := map[int]bool{}
	use := func(s *schema.System, first, threads int) {
		for _, p := range stripes(s, first, threads) {
			if p.color > 0 {
				used[p.color] = true
			}
		}
	}
	if !l.warpOwner().empty() {
		use(&l.draft.Warp, l.firstEnd, l.ends)
	}
	if !l.weftOwner().empty() {
		use(&l.draft.Weft, l.firstPick, l.picks)
	}
	l.colors, l.letters = slices.Sorted(maps.Keys(used)), map[int]string{}
	if len(l.colors) == 1 && !l.entry(l.colors[0]).Set {
		l.colors = nil // nothing is known about the only color
	}
	for i, n := range l.colors {
		l.letters[n] = letterFor(i)
		if l.options.Bare {
			l.letters[n] = strconv.Itoa(n)
		}
	}
}

// letterFor returns the letter of the nth color, from 0: A to Z, then AA, AB and so on.
func letterFor(n int) string {
	if n < 26 {
		return string(rune('A' + n))
	}
	return letterFor(n/26-1) + string(rune('A'+n%26))
}

// letterOf returns the letter of a color.
func (l *layout) letterOf(color int) string {
	if words, known := l.letters[color]; known {
		return words
	}
	return noColor
}

// placeLetters finds room for the letters beside both bars.
func (l *layout) placeLetters() {
	l.warpLetters, l.weftLetters = nil, nil
	if len(l.colors) == 0 {
		return
	}
	if owner := l.warpOwner(); !owner.empty() {
		l.warpLetters = l.lettersOf(&l.draft.Warp, owner, l.firstEnd, l.ends, func(words string) float64 {
			return l.faces.width(words, true)*l.letterMM(owner)*slack + letterGap
		})
	}
	if owner := l.weftOwner(); !owner.empty() {
		l.weftLetters = l.lettersOf(&l.draft.Weft, owner, l.firstPick, l.picks, func(string) float64 {
			return l.letterMM(owner)
		})
	}
}

// letterMM returns the height of the letters beside a block in millimetres.
func (l *layout) letterMM(owner block) float64 { return l.numberMM(owner) }

// lettersOf gives each change of color the first lane with room. A letter without room in any
// lane is left out. length returns the room that a letter takes along the threads, in
// millimetres.
func (l *layout) lettersOf(s *schema.System, owner block, first, threads int, length func(string) float64) []letter {
	thread := l.mm * float64(owner.cell)
	again := math.MaxInt
	if thread*float64(threads) > longStripe {
		again = max(int(letterStep/thread), 1)
	}
	var list []letter
	var ends []float64 // of the last letter in each lane
	for _, p := range stripes(s, first, threads) {
		words := l.letterOf(p.color)
		long := length(words)
		for n := p.from; ; n += again {
			from := (float64(n-first)+0.5)*thread - long/2
			lane := slices.IndexFunc(ends, func(end float64) bool { return end <= from+1e-9 })
			if lane < 0 && len(ends) < mostLanes {
				lane, ends = len(ends), append(ends, 0)
			}
			if lane >= 0 {
				ends[lane] = from + long
				list = append(list, letter{n, lane, words})
			}
			if p.to-n < again || lane < 0 {
				break
			}
		}
	}
	return list
}

// lanes returns how many lanes letters take.
func lanes(list []letter) int {
	most := 0
	for _, x := range list {
		most = max(most, x.lane+1)
	}
	return most
}

// lettersHigh returns how many cells the letters below the bar of the warp take.
func (l *layout) lettersHigh() int { return lanes(l.warpLetters) * l.warpLane() }

// lettersWide returns how many cells the letters right of the bar of the weft take.
func (l *layout) lettersWide() int { return lanes(l.weftLetters) * l.weftLane() }

func (l *layout) warpLane() int { return l.cells(l.letterMM(l.warpOwner()) + 0.4) }

func (l *layout) weftLane() int {
	wide := 0.0
	for _, x := range l.weftLetters {
		wide = max(wide, l.faces.width(x.words, true))
	}
	return l.cells(wide*l.letterMM(l.weftOwner())*slack + letterGap)
}

// missingLetters reports whether color changes lack a letter, because they are too close.
func (l *layout) missingLetters() bool {
	changes := func(s *schema.System, owner block, first, threads int, list []letter) bool {
		if owner.empty() || len(l.colors) == 0 {
			return false
		}
		placed := map[int]bool{}
		for _, x := range list {
			placed[x.thread] = true
		}
		return slices.ContainsFunc(stripes(s, first, threads), func(p stripe) bool { return !placed[p.from] })
	}
	return changes(&l.draft.Warp, l.warpOwner(), l.firstEnd, l.ends, l.warpLetters) ||
		changes(&l.draft.Weft, l.weftOwner(), l.firstPick, l.picks, l.weftLetters)
}

// drawLetters writes the letters of the colors beside the bars.
func (l *layout) drawLetters(s surface, view rect) {
	put := func(x, y, size float64, words string) {
		if x >= float64(view.x) && x <= float64(view.right()) && y >= float64(view.y) && y <= float64(view.bottom()) {
			s.text(label{x: x, y: y, size: size, anchor: atMiddle, bold: true, color: ink(), words: words})
		}
	}
	for _, x := range l.warpLetters {
		size := l.letterMM(l.warpOwner()) / l.mm
		middle := float64(l.endX(l.warpBar, x.thread)) + float64(l.warpBar.cell)/2
		put(middle, float64(l.warpBar.bottom()+(x.lane+1)*l.warpLane())-0.2/l.mm, size, x.words)
	}
	for _, x := range l.weftLetters {
		size := l.letterMM(l.weftOwner()) / l.mm
		middle := float64(l.pickY(l.weftBar, x.thread)) + float64(l.weftBar.cell)/2
		put(float64(l.weftBar.right())+(float64(x.lane)+0.5)*float64(l.weftLane()), middle+0.36*size, size, x.words)
	}
}

// legendLine describes a color for the legend: its letter, yarn, number and color.
func (l *layout) legendLine(n int) string {
	hex := l.entry(n).Hex()
	if hex == "" {
		hex = "not in the palette"
	}
	words := fmt.Sprintf("%s: ", l.letterOf(n))
	if yarn := Legible(l.options.Yarns[n], 60); yarn != "" {
		words += yarn + ", "
	}
	return words + fmt.Sprintf("color %d, %s", n, hex)
}

// moreColors says how many colors a legend leaves out.
func (l *layout) moreColors() string {
	return fmt.Sprintf("and %s", wording.Counted(len(l.colors)-maxSwatches, "more color"))
}
