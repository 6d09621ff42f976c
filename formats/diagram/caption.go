package diagram

import (
	"cmp"
	"fmt"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
)

// swatch is a sample of a color, beside its number.
type swatch struct {
	at    rect
	color schema.Color
}

// maxSwatches is how many colors the caption shows.
const maxSwatches = 24

// layCaption lays out the caption from a row down and returns the row below it.
func (l *layout) layCaption(margin int) int {
	l.caption, l.swatches = nil, nil
	if l.options.Bare {
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
	set(Title(l.draft), titleType, true)
	for _, fact := range l.facts() {
		set(fact, factType, false)
	}
	return l.legend(margin, int(y)+1+l.cells(1), room) + l.cells(2)
}

// Title returns the title of a draft as drawings show it.
func Title(d *schema.Draft) string {
	return cmp.Or(strings.TrimSpace(Legible(d.Texts.Title, 200)), "Untitled draft")
}

// threadsWide returns the width of the drawing without margins, in cells.
func (l *layout) threadsWide() int {
	return l.ends + l.treadles + 2*l.cells(1.2) + l.cells(3.2) + l.cells(l.numberRoom())
}

// facts describes the draft and how to read the drawing.
func (l *layout) facts() []string {
	ends, picks := l.cloth.Repeat()
	size := fmt.Sprintf("%s, %s; repeat %s by %s; %s", wording.Counted(l.cloth.Ends(), "end"), wording.Counted(l.cloth.Picks(), "pick"),
		wording.Counted(ends, "end"), wording.Counted(picks, "pick"), wording.Counted(l.shafts, "shaft"))
	if l.planned {
		size += " by lift plan."
	} else {
		size += ", " + wording.Counted(l.treadles, "treadle") + "."
	}
	return []string{size, l.howToRead()}
}

// howToRead says what a filled cell means and where the drawing begins; conventions differ.
func (l *layout) howToRead() string {
	parts := []string{map[Show]string{Weave: "A filled cell is warp up", Yarn: "A cell has the color of the thread on top"}[l.options.Show]}
	if l.options.Show == Yarn && l.someUncolored() {
		parts = append(parts, "ends without a color are grey, picks without one white")
	}
	if l.options.Back {
		parts = append(parts, "the back of the cloth, turned over sideways")
	}
	if l.options.Repeat {
		parts = append(parts, "one repeat of the weave")
	}
	if l.options.Ends+l.options.Picks > 0 {
		parts = append(parts, fmt.Sprintf("ends 1 to %d and picks 1 to %d", l.ends, l.picks))
	}
	side := map[bool]string{true: "left", false: "right"}[l.fromLeft()]
	edge := map[Edge]string{Top: "top", Bottom: "bottom"}[l.options.Pick1]
	parts = append(parts, fmt.Sprintf("end 1 at the %s, pick 1 at the %s", side, edge))
	if l.draft.Shed == schema.Sinking {
		parts = append(parts, "the shafts marked for a pick go down")
	}
	if l.options.Floats > 0 {
		parts = append(parts, fmt.Sprintf("outlined: floats over more than %s", wording.Counted(l.options.Floats, "thread")))
	}
	return strings.Join(parts, "; ") + "."
}

// someUncolored reports whether a drawn thread has no color in the palette.
func (l *layout) someUncolored() bool {
	for n := 1; n <= max(l.ends, l.picks); n++ {
		if n <= l.ends && !l.entry(l.draft.Warp.ColorOf(n)).Set || n <= l.picks && !l.entry(l.draft.Weft.ColorOf(n)).Set {
			return true
		}
	}
	return false
}

// legend places a swatch for each color in use and returns the row below them.
func (l *layout) legend(x, y int, room float64) int {
	high, wide := l.cells(3.6), l.cells(30)
	across := max(int(room/l.mm)/wide, 1)
	for i, n := range l.colorsUsed() {
		if i == maxSwatches {
			break
		}
		at := rect{x + i%across*wide, y + i/across*(high+l.cells(1)), high, high}
		l.swatches = append(l.swatches, swatch{at, l.entry(n)})
		words := fmt.Sprintf("%d  %s", n, l.entry(n).Hex())
		l.caption = append(l.caption, label{x: float64(at.right()) + 1.2/l.mm, y: float64(at.y) + (1.8+0.36*factType)/l.mm,
			size: factType / l.mm, color: ink(), words: words})
	}
	if len(l.swatches) == 0 {
		return y
	}
	return l.swatches[len(l.swatches)-1].at.bottom()
}

// colorsUsed returns the palette numbers of the drawn threads, ascending, without missing
// colors.
func (l *layout) colorsUsed() []int {
	used := make([]bool, len(l.draft.Palette)+1)
	use := func(s *schema.System, threads int) {
		for n := 1; n <= threads; n++ {
			if c := s.ColorOf(n); c > 0 && c < len(used) {
				used[c] = true
			}
		}
	}
	use(&l.draft.Warp, l.ends)
	use(&l.draft.Weft, l.picks)
	var list []int
	for n, is := range used {
		if is && l.entry(n).Set {
			list = append(list, n)
		}
	}
	return list
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
