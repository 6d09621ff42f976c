package rules

import (
	"math"
	"math/rand/v2"
	"slices"

	"fettle/schema"
)

// This file makes drafts that a weaver would call sound. Each kind is a function of a
// random source, so that the same seed gives the same draft.

// soundKind makes lists of one kind: a threading, a treadling or a color order.
type soundKind struct {
	name   string
	colors bool // the list is a color order
	make   func(r *rand.Rand) []int32
	// regular reports that the list repeats at least four times, or is mirrored, so that a
	// slip in it can be found.
	regular bool
}

func between(r *rand.Rand, least, most int) int { return least + r.IntN(most-least+1) }

// up returns a straight run of so many threads from a shaft on, around the shafts.
func up(first, threads, shafts int) []int32 {
	list := make([]int32, threads)
	for i := range list {
		list[i] = int32((first-1+i)%shafts + 1)
	}
	return list
}

func backwards(list []int32) []int32 {
	list = slices.Clone(list)
	slices.Reverse(list)
	return list
}

// andBack returns a list and its mirror image, which share the last thread.
func andBack(list []int32) []int32 {
	return append(slices.Clone(list), backwards(list[:len(list)-1])...)
}

// withoutLast leaves out the last thread, so that repeats don't double it.
func withoutLast(list []int32) []int32 { return list[:len(list)-1] }

// often repeats a list between least and least+6 times, mostly with a part of one more.
func often(r *rand.Rand, least int, list []int32) []int32 {
	n := between(r, least, least+6) * len(list)
	if r.IntN(2) == 0 {
		n += r.IntN(len(list))
	}
	return repeated(n, list...)
}

func loops(r *rand.Rand) int { return []int{4, 4, 4, 6, 8, 8, 12, 16}[r.IntN(8)] }

// doubledEdges doubles the two outermost threads at each edge.
func doubledEdges(list []int32) []int32 {
	n := len(list)
	edge := func(a, b int32) []int32 { return []int32{a, a, b, b} }
	return slices.Concat(edge(list[0], list[1]), list[2:n-2], edge(list[n-2], list[n-1]))
}

// bands makes bands of threads, each so many times.
func bands(widths []int, entries ...int32) (list []int32) {
	for i, w := range widths {
		for range w {
			list = append(list, entries[i%len(entries)])
		}
	}
	return list
}

func soundKinds() []soundKind {
	return []soundKind{
		{"straight", false, func(r *rand.Rand) []int32 { s := loops(r); return often(r, 4, up(1, s, s)) }, true},
		{"point", false, func(r *rand.Rand) []int32 {
			s := loops(r)
			return often(r, 4, withoutLast(andBack(up(1, s, s))))
		}, true},
		{"mirrored once", false, func(r *rand.Rand) []int32 {
			s := loops(r)
			return andBack(up(1, between(r, 3, 12)*s, s))
		}, true},
		{"M's and W's", false, func(r *rand.Rand) []int32 { return often(r, 4, withoutLast(andBack(zigzag(r, loops(r))))) }, true},
		{"one M", false, func(r *rand.Rand) []int32 { return andBack(zigzag(r, loops(r))) }, false},
		{"rosepath", false, func(r *rand.Rand) []int32 {
			return often(r, 4, [][]int32{{1, 2, 3, 4, 1, 4, 3, 2}, {1, 2, 3, 4, 3, 2, 1, 4}, {4, 1, 2, 3, 4, 1, 4, 3, 2, 1}}[r.IntN(3)])
		}, true},
		{"uneven blocks", false, unevenBlocks, false},
		{"uneven blocks, repeated", false, func(r *rand.Rand) []int32 { return often(r, 4, unevenBlocks(r)) }, true},
		{"name", false, func(r *rand.Rand) []int32 { return nameDraft(r, between(r, 5, 24)) }, false},
		{"name, repeated", false, func(r *rand.Rand) []int32 { return often(r, 4, nameDraft(r, between(r, 4, 16))) }, true},
		{"name, mirrored", false, func(r *rand.Rand) []int32 { return andBack(nameDraft(r, between(r, 8, 30))) }, false},
		{"advancing twill", false, advancing, false},
		{"advancing point", false, func(r *rand.Rand) []int32 { return andBack(advancing(r)) }, false},
		{"broken twill", false, broken, false},
		{"broken twill, cut off", false, func(r *rand.Rand) []int32 {
			list, section := brokenAfter(r, 4)
			return list[:len(list)-r.IntN(section)]
		}, false},
		{"straight with doubled selvedges", false, func(r *rand.Rand) []int32 {
			s := loops(r)
			return doubledEdges(up(1, s*between(r, 4, 12), s))
		}, false},
		{"point with doubled selvedges", false, func(r *rand.Rand) []int32 {
			s := loops(r)
			return doubledEdges(append(repeated((2*s-2)*between(r, 1, 9), withoutLast(andBack(up(1, s, s)))...), 1))
		}, false},
		{"border and field", false, func(r *rand.Rand) []int32 {
			s := loops(r)
			border := repeated(between(r, 8, 60), withoutLast(andBack(up(1, s, s)))...)
			return slices.Concat(border, repeated(between(r, 20, 120), up(1, s, s)...), backwards(border))
		}, false},
		{"herringbone", false, func(r *rand.Rand) []int32 { return often(r, 1, herringbone(r)) }, false},
		{"herringbone, repeated", false, func(r *rand.Rand) []int32 { return often(r, 4, herringbone(r)) }, true},
		{"networked", false, networked, false},
		{"networked, mirrored", false, func(r *rand.Rand) []int32 { return andBack(networked(r)) }, false},
		{"undulating", false, func(r *rand.Rand) []int32 { return often(r, 4, undulating(r)) }, true},
		{"undulating once", false, undulating, false},
		{"overshot", false, overshot, false},
		{"overshot, mirrored", false, func(r *rand.Rand) []int32 { return andBack(overshot(r)) }, false},
		{"overshot, repeated", false, func(r *rand.Rand) []int32 { return often(r, 4, overshot(r)) }, true},
		{"crackle", false, crackle, false},
		{"crackle, repeated", false, func(r *rand.Rand) []int32 { return often(r, 4, crackle(r)) }, true},
		{"summer and winter", false, summerAndWinter, false},
		{"huck", false, func(r *rand.Rand) []int32 {
			return often(r, 4, [][]int32{{1, 2, 1, 2, 1, 4, 3, 4, 3, 4}, {1, 3, 1, 4, 2, 4}, {1, 2, 1, 2, 4, 3, 4, 3}}[r.IntN(3)])
		}, true},
		{"satin", false, func(r *rand.Rand) []int32 {
			c := [][2]int{{5, 2}, {7, 3}, {8, 3}, {10, 3}}[r.IntN(4)]
			list := make([]int32, c[0])
			for i := range list {
				list[i] = int32(i*c[1]%c[0] + 1)
			}
			return often(r, 4, list)
		}, true},
		{"hems and a middle", false, hemmed, false},
		{"plain on two", false, func(r *rand.Rand) []int32 { return often(r, 12, []int32{1, 2}) }, true},
		{"Fibonacci word", false, func(r *rand.Rand) []int32 { return fibonacciWord(between(r, 20, 300), 1, 2) }, false},

		{"even stripes", true, func(r *rand.Rand) []int32 { return often(r, 4, stripesOf(r, 2)) }, true},
		{"stripes of several colors", true, func(r *rand.Rand) []int32 { return often(r, 4, stripesOf(r, between(r, 3, 5))) }, true},
		{"balanced stripes", true, func(r *rand.Rand) []int32 {
			stripes := stripesOf(r, 2)
			return append(repeated(between(r, 4, 12)*len(stripes), stripes...), repeated(between(r, 1, 12), stripes[0])...)
		}, false},
		{"checks, mirrored", true, func(r *rand.Rand) []int32 { return andBack(stripesOf(r, between(r, 3, 9))) }, false},
		{"checks, mirrored and repeated", true, func(r *rand.Rand) []int32 { return often(r, 4, withoutLast(andBack(stripesOf(r, between(r, 3, 6))))) }, true},
		{"Fibonacci stripes", true, fibonacciStripes, false},
		{"Fibonacci stripes, mirrored", true, func(r *rand.Rand) []int32 { return andBack(fibonacciStripes(r)) }, false},
		{"Fibonacci word of colors", true, func(r *rand.Rand) []int32 { return fibonacciWord(between(r, 20, 300), 1, 2) }, false},
		{"drifting widths", true, drifting, false},
		{"drifting ratio", true, ratioDrift, false},
		{"one color into another", true, blended, false},
		{"log cabin", true, logCabin, false},
		{"accents", true, accents, false},
		{"random stripes", true, func(r *rand.Rand) []int32 {
			widths := make([]int, between(r, 5, 40))
			for i := range widths {
				widths[i] = between(r, 1, 12)
			}
			return bands(widths, 1, 2, 3)
		}, false},
	}
}

// zigzag goes up and down between turning points, on all shafts around.
func zigzag(r *rand.Rand, shafts int) []int32 {
	at, step := 0, 1
	list := []int32{1}
	for range between(r, 2, 5) {
		for range between(r, 3, 2*shafts) {
			at = (at + step + shafts) % shafts
			list = append(list, int32(at+1))
		}
		step = -step
	}
	return list
}

func unevenBlocks(r *rand.Rand) (list []int32) {
	blocks := [][]int32{{1, 2}, {3, 4}, {5, 6}, {7, 8}}[:between(r, 2, 4)]
	if r.IntN(2) == 0 {
		blocks = [][]int32{{1, 2, 3, 4}, {5, 6, 7, 8}}
	}
	for b := range between(r, 3, 12) {
		for range between(r, 1, 9) {
			list = append(list, blocks[b%len(blocks)]...)
		}
	}
	return list
}

// nameDraft gives each letter a shaft, odd and even by turns.
func nameDraft(r *rand.Rand, letters int) (list []int32) {
	for i := range letters {
		list = append(list, int32(1+i%2+2*r.IntN(2)))
	}
	if len(list)%2 == 1 {
		list = append(list, int32(2+2*r.IntN(2)))
	}
	return list
}

func advancing(r *rand.Rand) (list []int32) {
	shafts, run, by := []int{8, 12, 16}[r.IntN(3)], between(r, 3, 9), between(r, 1, 3)
	for s := range between(r, 4, 30) {
		list = append(list, up(s*by%shafts+1, run, shafts)...)
	}
	return list
}

// broken breaks a straight draw after equal sections.
func broken(r *rand.Rand) []int32 {
	list, _ := brokenAfter(r, 2)
	return list
}

// brokenAfter returns at least so many sections, and the threads in each.
func brokenAfter(r *rand.Rand, least int) (list []int32, section int) {
	shafts := loops(r)
	section = between(r, 1, 6) * shafts / 2
	skip := between(r, 1, shafts-1)
	back := r.IntN(2) == 0
	first := 1
	for s := range between(r, least, 12) {
		part := up(first, section, shafts)
		if back && s%2 == 1 {
			part = backwards(part)
		}
		list = append(list, part...)
		first = (int(list[len(list)-1])+skip)%shafts + 1
	}
	return list, section
}

// herringbone goes up and then down, and leaves out half the shafts at the turn.
func herringbone(r *rand.Rand) []int32 {
	shafts := loops(r)
	run := up(1, between(r, 1, 4)*shafts, shafts)
	return append(run, backwards(up(1+shafts/2, len(run), shafts))...)
}

// networked puts a wave on a network of four: each thread takes the nearest shaft of its
// place in the network.
func networked(r *rand.Rand) []int32 {
	const initial = 4
	shafts := []int{8, 12, 16}[r.IntN(3)]
	n, waves, phase := between(r, 40, 240), 0.5+2.5*r.Float64(), r.Float64()
	list := make([]int32, n)
	for i := range list {
		height := (1 + math.Sin(2*math.Pi*(waves*float64(i)/float64(n)+phase))) / 2 * float64(shafts-initial)
		base := int(height)
		for base%initial != i%initial {
			base++
		}
		list[i] = int32(base%shafts + 1)
	}
	return list
}

func undulating(r *rand.Rand) (list []int32) {
	shafts := loops(r)
	for i := range shafts * between(r, 1, 3) {
		for range between(r, 1, 3) {
			list = append(list, int32(i%shafts+1))
		}
	}
	return list
}

// overshot threads blocks on two neighbouring shafts, odd and even by turns; blocks share a
// thread.
func overshot(r *rand.Rand) []int32 {
	list := []int32{1}
	block := 0
	for range between(r, 3, 14) {
		pair := [2]int32{int32(block%4 + 1), int32((block+1)%4 + 1)}
		for range between(r, 1, 8) {
			last := list[len(list)-1]
			other := pair[0]
			if last == pair[0] {
				other = pair[1]
			}
			list = append(list, other)
		}
		if last := list[len(list)-1]; last == pair[1] {
			block++
		} else {
			block += 3
		}
	}
	return list
}

func crackle(r *rand.Rand) (list []int32) {
	for b := range between(r, 3, 12) {
		at := func(n int) int32 { return int32((b+n)%4 + 1) }
		for range between(r, 1, 6) {
			list = append(list, at(0), at(1), at(2), at(1))
		}
		list = append(list, at(0))
	}
	return list
}

func summerAndWinter(r *rand.Rand) (list []int32) {
	for range between(r, 3, 12) {
		block := int32(3 + r.IntN(4))
		for range between(r, 1, 9) {
			list = append(list, 1, block, 2, block)
		}
	}
	return list
}

// hemmed is a treadling with plain weave before and after a pattern.
func hemmed(r *rand.Rand) []int32 {
	hem := repeated(2*between(r, 4, 20), 5, 6)
	middle := often(r, 3, withoutLast(andBack(up(1, 4, 4))))
	return slices.Concat(hem, middle, hem)
}

func fibonacciWord(n int, a, b int32) []int32 {
	one, two := []int32{a}, []int32{a, b}
	for len(one) < n {
		one, two = two, append(slices.Clone(two), one...)
	}
	return one[:n]
}

func stripesOf(r *rand.Rand, colors int) (list []int32) {
	widths := make([]int, colors)
	entries := make([]int32, colors)
	for i := range widths {
		widths[i] = between(r, 2, 12)
		entries[i] = int32(i%4 + 1)
	}
	return bands(widths, entries...)
}

func fibonacciStripes(r *rand.Rand) []int32 {
	widths := []int{1, 1}
	for range between(r, 3, 9) {
		widths = append(widths, widths[len(widths)-1]+widths[len(widths)-2])
	}
	if r.IntN(2) == 0 {
		slices.Reverse(widths)
	}
	return bands(widths, []int32{1, 2, 3}[:between(r, 2, 3)]...)
}

// drifting makes stripes that grow wider one after the other.
func drifting(r *rand.Rand) []int32 {
	widths := make([]int, between(r, 6, 20))
	first, every := between(r, 2, 8), between(r, 1, 3)
	for i := range widths {
		widths[i] = first + i/every
		if r.IntN(2) == 0 {
			widths[i] = first + (i+1)/every
		}
	}
	return bands(widths, 1, 2)
}

// ratioDrift makes stripes whose mean width is not a whole number, so that some are one
// thread wider.
func ratioDrift(r *rand.Rand) []int32 {
	width := 2 + 6*r.Float64()
	for width-math.Floor(width) < 0.2 || width-math.Floor(width) > 0.8 {
		width = 2 + 6*r.Float64()
	}
	widths := make([]int, between(r, 16, 40))
	for i := range widths {
		widths[i] = int(width*float64(i+1)) - int(width*float64(i))
	}
	return bands(widths, 1, 2)
}

// blended goes from one color to another: 7 and 1, 6 and 2, ..., 1 and 7.
func blended(r *rand.Rand) []int32 {
	n := between(r, 5, 16)
	var widths []int
	for i := 1; i < n; i++ {
		for range between(r, 1, 3) {
			widths = append(widths, n-i, i)
		}
	}
	return bands(widths, 1, 2)
}

// logCabin takes two colors by turns, and changes places after each block.
func logCabin(r *rand.Rand) (list []int32) {
	first := 0
	for range between(r, 2, 10) {
		for i := range between(r, 4, 24) {
			list = append(list, int32((first+i)%2+1))
		}
		first = int(list[len(list)-1]) - 1
	}
	return list
}

// accents is one color with single threads of others.
func accents(r *rand.Rand) []int32 {
	list := often(r, 4, stripesOf(r, between(r, 1, 2)))
	for range between(r, 1, 3) {
		list[r.IntN(len(list))] = 5
	}
	return list
}

// draftOf makes a draft with a list, and twill on the rest of it.
func draftOf(k soundKind, list []int32, weft bool) *schema.Draft {
	const threads = 48
	d := &schema.Draft{Shed: schema.Rising, Palette: make([]schema.Color, 6), Threading: schema.Singles(repeated(threads, 1, 2, 3, 4)...),
		Treadling: schema.Singles(repeated(threads, 1, 2, 3, 4)...)}
	for i := range d.Palette {
		d.Palette[i] = schema.RGB(uint8(40*i), 0, 0)
	}
	system := &d.Warp
	if weft {
		system = &d.Weft
	}
	rows := schema.Singles(repeated(len(list), 1, 2, 3, 4)...)
	if k.colors {
		system.Colors = list
	} else {
		rows = schema.Singles(list...)
	}
	if weft {
		d.Treadling = rows
	} else {
		d.Threading = rows
	}
	d.Shafts = max(4, d.Threading.Highest())
	d.Treadles = max(4, d.Treadling.Highest())
	for t := range d.Treadles {
		var row []int32
		for s := range (d.Shafts + 1) / 2 {
			row = append(row, int32((t+s)%d.Shafts+1))
		}
		d.Tieup.Append(row...)
	}
	d.Warp.Threads, d.Weft.Threads = d.Threading.Len(), d.Treadling.Len()
	return d
}
