package diagram

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
)

// swatch is a sample of a color, beside its letter.
type swatch struct {
	at     rect
	number int // in the palette
}

// maxSwatches is how many colors the caption shows.
const maxSwatches = 60

// layCaption lays out the caption from a row down and returns the row below it.
func (l *layout) layCaption(margin int) int {
	l.caption, l.swatches = nil, nil
	if l.options.Bare || l.continues {
		return margin
	}
	room := float64(max(l.threadsWide(), l.cells(90))) * l.mm
	y := float64(margin)
	set := func(text string, size float64, bold bool) {
		for _, line := range l.wrap(text, size, bold, room) {
			y += size * 1.3 / l.mm
			l.caption = append(l.caption, label{x: float64(margin), y: y - 0.3*size/l.mm, size: size / l.mm, bold: bold, color: ink(), words: line})
		}
	}
	set(Title(l.draft), l.titleType(), true)
	for _, fact := range l.facts() {
		set(fact, l.factType(), false)
	}
	return l.legend(margin, int(y)+1+l.cells(1), room) + l.cells(2)
}

// Title returns the title of a draft as drawings show it.
func Title(d *schema.Draft) string {
	return cmp.Or(strings.TrimSpace(Legible(d.Texts.Title, 200)), "Untitled draft")
}

// threadsWide returns the width of the drawing without margins, in cells.
func (l *layout) threadsWide() int {
	return l.cellsAcross() + 2*l.cells(1.2) + l.cells(3.2) + l.cells(l.numberRoom())
}

// facts describes the draft and how to read the drawing.
func (l *layout) facts() []string {
	size := fmt.Sprintf("%s, %s; ", wording.Counted(l.cloth.Ends(), "end"), wording.Counted(l.cloth.Picks(), "pick"))
	if ends, picks := l.cloth.Repeat(); ends > 0 && picks > 0 {
		size += fmt.Sprintf("repeat %s by %s; ", wording.Counted(ends, "end"), wording.Counted(picks, "pick"))
	}
	size += wording.Counted(l.shafts, "shaft")
	if l.planned && !l.draws(PartTieup) {
		size += " by lift plan."
	} else {
		size += ", " + wording.Counted(l.tied, "treadle") + "."
	}
	return []string{size, l.howToRead()}
}

// howToRead says what a filled cell means and where the drawing begins; conventions differ.
func (l *layout) howToRead() string {
	parts := l.meanings()
	if l.options.Back {
		parts = append(parts, "the back of the cloth, turned over sideways")
	}
	switch {
	case l.folded == wholeDraft:
		parts = append(parts, "one repeat of threading, lifts and colors")
	case l.folded == withoutColor:
		parts = append(parts, "one repeat of the weave, without the whole order of the colors")
	case l.options.Repeat:
		parts = append(parts, "one repeat of the weave")
	}
	if l.options.Ends+l.options.Picks+l.options.FirstEnd+l.options.FirstPick > 0 {
		parts = append(parts, fmt.Sprintf("ends %d to %d and picks %d to %d", l.firstEnd, l.lastEnd(), l.firstPick, l.firstPick+l.picks-1))
	}
	side := map[bool]string{true: "left", false: "right"}[l.fromLeft()]
	edge := map[Edge]string{Top: "top", Bottom: "bottom"}[l.options.Pick1]
	var starts []string
	if l.draws(PartThreading) || l.draws(PartCloth) {
		starts = append(starts, "end 1 at the "+side)
	}
	if l.draws(PartTreadling) || l.draws(PartCloth) {
		starts = append(starts, "pick 1 at the "+edge)
	}
	if len(starts) > 0 {
		parts = append(parts, strings.Join(starts, ", "))
	}
	if l.stripCount > 1 {
		strips := "in %d lines, the first at the top"
		if l.inColumns() {
			strips = "in %d columns, the first at the left"
		}
		parts = append(parts, fmt.Sprintf(strips, l.stripCount))
	}
	if len(l.options.Sley) > 0 && !l.warpOwner().empty() {
		parts = append(parts, fmt.Sprintf("the reed row shows its dents in turn filled and empty, with %s", l.sleyWords()))
	}
	if l.draft.Shed == schema.Sinking {
		parts = append(parts, "the shafts marked for a pick go down")
	}
	if l.options.Floats > 0 && l.draws(PartCloth) {
		parts = append(parts, fmt.Sprintf("outlined: floats over more than %s", wording.Counted(l.options.Floats, "thread")))
	}
	return strings.Join(parts, "; ") + "."
}

// meanings says what the cells of the drawn parts mean.
func (l *layout) meanings() []string {
	if !l.draws(PartCloth) {
		var means []string
		for _, part := range []struct {
			part Parts
			text string
		}{
			{PartThreading, "in the threading, a filled cell is an end on that shaft"},
			{PartTieup, "in the tie-up, a filled cell ties the treadle to that shaft"},
			{PartTreadling, map[bool]string{true: "in the lift plan, a filled cell is a shaft of that pick", false: "in the treadling, a filled cell is a treadle of that pick"}[l.planned]},
		} {
			if l.draws(part.part) {
				means = append(means, part.text)
			}
		}
		means[0] = "I" + means[0][1:]
		return means
	}
	if l.options.Show == Weave {
		return []string{"A filled cell is warp up"}
	}
	if l.someUncolored() {
		return []string{"A cell has the color of the thread on top", "ends without a color are grey, picks without one white"}
	}
	return []string{"A cell has the color of the thread on top"}
}

// sleyWords describes the sleying order: "2-2-3 ends in a dent".
func (l *layout) sleyWords() string {
	var order []string
	for _, n := range l.options.Sley {
		order = append(order, strconv.Itoa(n))
	}
	return strings.Join(order, "-") + " ends in a dent"
}

// someUncolored reports whether a drawn thread has no color in the palette.
func (l *layout) someUncolored() bool {
	uncolored := func(s *schema.System, first, threads int) bool {
		return slices.ContainsFunc(stripes(s, first, threads), func(p stripe) bool { return !l.entry(p.color).Set })
	}
	return uncolored(&l.draft.Warp, l.firstEnd, l.ends) || uncolored(&l.draft.Weft, l.firstPick, l.picks)
}

// legend places a swatch for each color in use and returns the row below them.
func (l *layout) legend(x, y int, room float64) int {
	if len(l.colors) == 0 {
		return y
	}
	size := l.factType()
	high := l.cells(size + 0.4)
	below := func(words string) {
		y += high + l.cells(0.6)
		l.caption = append(l.caption, label{x: float64(x), y: float64(y) - (0.6+0.2*size)/l.mm, size: size / l.mm, color: ink(), words: words})
	}
	shown := l.colors[:min(len(l.colors), maxSwatches)]
	var lines []string
	widest := 0.0
	for _, n := range shown {
		lines = append(lines, l.legendLine(n))
		widest = max(widest, l.textMM(lines[len(lines)-1], size)*slack)
	}
	wide := high + l.cells(widest+4)
	across := max(int(room/l.mm)/wide, 1)
	for i, n := range shown {
		at := rect{x + i%across*wide, y + i/across*(high+l.cells(1)), high, high}
		l.swatches = append(l.swatches, swatch{at, n})
		l.caption = append(l.caption, label{x: float64(at.right()) + 1.2/l.mm, y: float64(at.y) + float64(high)/2 + 0.36*size/l.mm,
			size: size / l.mm, color: ink(), words: lines[i]})
	}
	y = l.swatches[len(l.swatches)-1].at.bottom()
	if len(l.colors) > maxSwatches {
		below(l.moreColors())
	}
	if l.missingLetters() {
		for _, line := range l.wrap("Some color changes are too close for a letter; larger cells have room for all.", size, false, room) {
			below(line)
		}
	}
	return y
}

// entry returns a color of the palette, unset if the palette lacks it.
func (l *layout) entry(n int) schema.Color {
	if n < 1 || n > len(l.draft.Palette) {
		return schema.Color{}
	}
	return l.draft.Palette[n-1]
}

// wrap breaks a text into lines that fit in room millimetres.
func (l *layout) wrap(text string, size float64, bold bool, room float64) []string {
	words := strings.Join(strings.Fields(text), " ")
	return wording.Wrap(words, func(line string) bool { return l.faces.width(line, bold)*size*slack <= room })
}

// slack allows for wider text, because an SVG uses whatever sans-serif font there is.
const slack = 1.12

// captionWidth returns the cells that the caption needs from the left edge.
func (l *layout) captionWidth() int {
	most := 0.0
	for _, c := range l.caption {
		most = max(most, c.x+l.faces.width(c.words, c.bold)*c.size*slack)
	}
	return int(most) + 1
}
