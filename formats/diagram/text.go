package diagram

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"strconv"
	"strings"

	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/wording"
)

// Cloth prints only the cloth: one line a pick from pick 1, one character an end from end 1, #
// for warp up and . for weft up. It returns an error if the draft can't be printed.
func Cloth(w io.Writer, d *schema.Draft) error {
	c := cloth.Of(d)
	if err := checkTextSize(c.Ends(), c.Picks()); err != nil {
		return err
	}
	out := bufio.NewWriterSize(w, 1<<16)
	line := make([]byte, c.Ends()+1)
	line[c.Ends()] = '\n'
	for _, row := range c.Rows() {
		for i, up := range row {
			line[i] = symbol(up == '1')
		}
		out.Write(line)
	}
	return flush(out)
}

func symbol(filled bool) byte {
	if filled {
		return '#'
	}
	return '.'
}

func flush(out *bufio.Writer) error {
	if err := out.Flush(); err != nil {
		return fmt.Errorf("can't write the drawing: %w", err)
	}
	return nil
}

func checkTextSize(wide, high int) error {
	if cells := float64(wide) * float64(high); cells > MostCells {
		return fmt.Errorf("the drawing would have %.0f characters (limit %d); draw one repeat with --repeat", cells, MostCells)
	}
	return nil
}

// Text draws a draft in plain characters, laid out like the other drawings: # marks threading,
// tie-up and lifts, and warp up in the cloth. The letters of the colors are below the threading
// and after the number of each pick. With a width, a wide draft is drawn in several pieces,
// one below the other. Text ignores the options about looks and paper.
func Text(w io.Writer, d *schema.Draft, o Options) error {
	o.Scales, o.Show, o.Floats, o.Sley, o.FitPage, o.Cell, o.Large = Scales{}, Weave, 0, nil, false, 0, false
	l, err := newLayout(d, o, 1)
	if err != nil {
		return err
	}
	return writeText(w, l)
}

func writeText(w io.Writer, l *layout) error {
	t := textDrawing{layout: l, out: bufio.NewWriterSize(w, 1<<16)}
	pieces, err := t.pieces()
	if err != nil {
		return err
	}
	if !l.options.Bare {
		t.writeCaption()
	}
	for i, piece := range pieces {
		p := textDrawing{layout: piece, out: t.out}
		if i > 0 {
			p.writeLine("")
		}
		if len(pieces) > 1 {
			p.writeLine(fmt.Sprintf("Ends %d to %d:", piece.firstEnd, piece.lastEnd()))
		}
		p.writeTop()
		p.writeCloth()
	}
	return flush(t.out)
}

// textDrawing is the current drawing. A line has the number of a shaft, the ends, a gap, the
// treadles, the number of a pick, and the letter of its color.
type textDrawing struct {
	*layout
	out *bufio.Writer // keeps the first error until flush
}

// leastPiece is the smallest number of ends in a piece.
const leastPiece = 8

// pieces divides the ends so that no line is wider than the options allow.
func (t *textDrawing) pieces() ([]*layout, error) {
	beside := t.indent() + t.rightWide()
	hasEnds := !t.warpOwner().empty()
	if hasEnds && t.rightWide() > 0 {
		beside += len(gapInText)
	}
	each, most := t.ends, t.options.Width
	if most > 0 {
		each = min(most-beside, each)
		if need := beside + min(t.ends, leastPiece); hasEnds && most < need || !hasEnds && most < beside {
			return nil, fmt.Errorf("a line needs at least %d characters for this draft, not %d; raise --width, or draw fewer parts with --part", max(need, beside), most)
		}
	}
	if !hasEnds {
		return []*layout{t.layout}, checkTextSize(beside, t.picks+t.shafts)
	}
	count := (t.ends + each - 1) / each
	if err := checkTextSize(count*(each+beside), t.picks+t.shafts); err != nil {
		return nil, err
	}
	var list []*layout
	for from := 0; from < t.ends; from += each {
		piece := *t.layout
		piece.firstEnd, piece.ends = t.firstEnd+from, min(each, t.ends-from)
		list = append(list, &piece)
	}
	return list, nil
}

// rightWide returns the width of the tie-up and the lifts.
func (t *textDrawing) rightWide() int {
	wide := t.tied
	if t.tieup.empty() {
		wide = 0
	}
	if owner := t.weftOwner(); !owner.empty() {
		lifts := 0
		if !t.lifts.empty() {
			lifts = t.treadles
		}
		wide = max(wide, lifts+1+len(t.lastPick())+t.pickLetterWide())
	}
	return wide
}

// pickLetterWide returns the width of the letter of a pick and the space before it.
func (t *textDrawing) pickLetterWide() int {
	if !t.hasLetters() {
		return 0
	}
	return 1 + t.letterWide()
}

// hasLetters reports whether threads have letters. A page with a table of its own has none.
func (t *textDrawing) hasLetters() bool { return len(t.colors) > 0 && !t.options.Bare }

// letterWide returns the width of the longest letter.
func (t *textDrawing) letterWide() int {
	wide := 1
	for _, n := range t.colors {
		wide = max(wide, len(t.letterOf(n)))
	}
	return wide
}

func (t *textDrawing) writeCaption() {
	lines := append([]string{Title(t.draft)}, t.facts()...)
	for i, n := range t.colors {
		if i == maxSwatches {
			lines = append(lines, t.moreColors())
			break
		}
		lines = append(lines, t.legendLine(n))
	}
	for _, line := range lines {
		if t.options.Width == 0 {
			t.writeLine(line)
			continue
		}
		for _, part := range wording.Wrap(line, wording.Columns(t.options.Width)) {
			t.writeLine(part)
		}
	}
	t.writeLine("")
}

func (t *textDrawing) writeLine(line string) { t.out.WriteString(strings.TrimRight(line, " ") + "\n") }

// indent is the room for the numbers of shafts.
func (t *textDrawing) indent() int {
	if t.threading.empty() && t.tieup.empty() {
		return 0
	}
	return len(strconv.Itoa(t.shafts)) + 1
}

const gapInText = "  "

// line joins the parts of a line: what is left of the ends, the ends, and what is right of
// them.
func (t *textDrawing) line(left, ends, right string) string {
	if !t.warpOwner().empty() && (!t.grid.empty() || !t.tieup.empty() || ends != "") {
		ends = fmt.Sprintf("%-*s", t.ends, ends) + gapInText
	}
	return fmt.Sprintf("%*s", t.indent(), left) + ends + right
}

// columnOf returns the column of an end, from 0.
func (t *textDrawing) columnOf(end int) int {
	if t.fromLeft() {
		return end - t.firstEnd
	}
	return t.lastEnd() - end
}

// writeTop draws the threading with the tie-up beside it, and the colors of the ends.
func (t *textDrawing) writeTop() {
	owner := t.warpOwner()
	numbers := t.columnNumbers(t.tied)
	if t.tieup.empty() {
		numbers = nil
	}
	for i := range max(len(numbers), 1) {
		left, ends, right := "", "", ""
		if i < len(numbers) {
			right = numbers[i]
		}
		if i == max(len(numbers), 1)-1 && !owner.empty() {
			left, ends = t.endNumbers()
		}
		if ends+right != "" {
			t.writeLine(t.line(left, ends, right))
		}
	}
	if !t.threading.empty() || !t.tieup.empty() {
		t.writeShafts()
	}
	if !owner.empty() && t.hasLetters() {
		t.writeLine("")
		for _, line := range t.endLetters() {
			t.writeLine(t.line("", line, ""))
		}
	}
	if !t.weftOwner().empty() && t.indent() > 0 {
		t.writeLine("")
	}
}

// writeShafts draws the threading and the tie-up.
func (t *textDrawing) writeShafts() {
	var rows, tied [][]byte
	if !t.threading.empty() {
		rows = t.byShaft(&t.draft.Threading, t.firstEnd, t.ends, t.columnOf)
	}
	if !t.tieup.empty() {
		tied = t.byShaft(&t.draft.Tieup, 1, t.tied, func(n int) int { return n - 1 })
	}
	for shaft := t.shafts; shaft >= 1; shaft-- {
		ends, right := "", ""
		if rows != nil {
			ends = string(rows[shaft])
		}
		if tied != nil {
			right = string(tied[shaft])
		}
		t.writeLine(t.line(strconv.Itoa(shaft)+" ", ends, right))
	}
}

// byShaft returns a table of the shafts of ends or treadles, by shaft.
func (t *textDrawing) byShaft(table *schema.Rows, first, count int, column func(n int) int) [][]byte {
	rows := make([][]byte, t.shafts+1)
	for shaft := range rows {
		rows[shaft] = bytes.Repeat([]byte{symbol(false)}, count)
	}
	for n := first; n < first+count; n++ {
		for _, shaft := range table.Row(n) {
			if int(shaft) < len(rows) {
				rows[shaft][column(n)] = symbol(true)
			}
		}
	}
	return rows
}

// endNumbers returns the numbers of ends, and those figures that are left of the ends. The last
// figure of a number is above its end.
func (t *textDrawing) endNumbers() (left, ends string) {
	line := bytes.Repeat([]byte{' '}, t.indent()+t.ends)
	put := func(n int) {
		words := strconv.Itoa(n)
		to := t.indent() + t.columnOf(n) + 1
		from := to - len(words)
		if from < 0 || bytes.ContainsAny(line[max(from-1, 0):min(to+1, len(line))], "0123456789") {
			return
		}
		copy(line[from:to], words)
	}
	step := numberStep(len(strconv.Itoa(t.lastEnd()))+1, t.options.every())
	put(t.firstEnd)
	put(t.lastEnd())
	for n := (t.firstEnd + step) / step * step; n <= t.lastEnd(); n += step {
		put(n)
	}
	return string(line[:t.indent()]), string(line[t.indent():])
}

// columnNumbers returns lines with the numbers of columns from 1, their figures one below the
// other.
func (t *textDrawing) columnNumbers(count int) []string {
	if count == 0 {
		return nil
	}
	lines := make([]string, len(strconv.Itoa(count)))
	for n := 1; n <= count; n++ {
		for i, figure := range fmt.Sprintf("%*d", len(lines), n) {
			lines[i] += string(figure)
		}
	}
	return lines
}

// endLetters returns lines with the letters of the ends' colors. Several letters of a color
// are one below the other.
func (t *textDrawing) endLetters() []string {
	lines := make([][]byte, t.letterWide())
	for i := range lines {
		lines[i] = bytes.Repeat([]byte{' '}, t.ends)
	}
	for n := t.firstEnd; n <= t.lastEnd(); n++ {
		words := t.textLetter(t.draft.Warp.ColorOf(n))
		for i := range words {
			lines[i][t.columnOf(n)] = words[i]
		}
	}
	list := make([]string, len(lines))
	for i, line := range lines {
		list[i] = string(line)
	}
	return list
}

// textLetter returns the letter of a color in plain characters.
func (t *textDrawing) textLetter(color int) string {
	if words := t.letterOf(color); words != noColor {
		return words
	}
	return "-"
}

// writeCloth draws the picks from the top. With pick 1 at the bottom, it keeps the lines until
// the end.
func (t *textDrawing) writeCloth() {
	if t.weftOwner().empty() {
		return
	}
	if t.planned && !t.lifts.empty() {
		for _, line := range t.columnNumbers(t.treadles) {
			t.writeLine(t.line("", "", line))
		}
	}
	var kept []string
	draw := func(pick int, cloth string) {
		line := t.line("", cloth, t.liftRow(pick)+fmt.Sprintf("%*d", len(t.lastPick()), pick)+t.pickLetter(pick))
		if t.options.Pick1 == Top {
			t.writeLine(line)
		} else {
			kept = append(kept, line)
		}
	}
	if t.grid.empty() {
		for pick := t.firstPick; pick < t.firstPick+t.picks; pick++ {
			draw(pick, "")
		}
	} else {
		ends := t.endsAcross(0, t.ends)
		face := make([]byte, len(ends))
		for pick, row := range t.rows() {
			for i, e := range ends {
				face[i] = symbol((row[e-t.firstEnd] == '1') != t.options.Back)
			}
			draw(pick, string(face))
		}
	}
	for i := len(kept) - 1; i >= 0; i-- {
		t.writeLine(kept[i])
	}
}

func (t *textDrawing) pickLetter(pick int) string {
	if !t.hasLetters() {
		return ""
	}
	return " " + t.textLetter(t.draft.Weft.ColorOf(pick))
}

// liftRow returns the treadles or shafts of a pick, and a space.
func (t *textDrawing) liftRow(pick int) string {
	if t.lifts.empty() {
		return ""
	}
	line := bytes.Repeat([]byte{symbol(false)}, t.treadles+1)
	line[t.treadles] = ' '
	for _, n := range t.liftsOf(pick) {
		if int(n) <= t.treadles {
			line[n-1] = symbol(true)
		}
	}
	return string(line)
}
