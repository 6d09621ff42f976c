package diagram

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"

	"fettle/schema"
	"fettle/schema/cloth"
)

// Cloth prints just the cloth: a line a pick, pick 1 first, a character an end,
// end 1 first, # for warp up and . for weft up.
func Cloth(w io.Writer, d *schema.Draft) error {
	c := cloth.Of(d)
	if err := boundedText(c.Ends(), c.Picks()); err != nil {
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
	return written(out)
}

func symbol(filled bool) byte {
	if filled {
		return '#'
	}
	return '.'
}

func written(out *bufio.Writer) error {
	if err := out.Flush(); err != nil {
		return fmt.Errorf("the drawing could not be written: %w", err)
	}
	return nil
}

func boundedText(wide, high int) error {
	if cells := float64(wide) * float64(high); cells > MostCells {
		return fmt.Errorf("the drawing would have %.0f characters, and %d is the most: draw one repeat of it with --repeat", cells, MostCells)
	}
	return nil
}

// Text draws a draft in plain characters, laid out like the other drawings: #
// is a mark of threading, tie-up or lifts, and warp up in the cloth. Of the
// options it heeds Back, End1, Pick1, Repeat, Ends, Picks and Bare.
func Text(w io.Writer, d *schema.Draft, o Options) error {
	l, err := newLayout(d, o, 1)
	if err != nil {
		return err
	}
	return writeText(w, l)
}

func writeText(w io.Writer, l *layout) error {
	t := textual{layout: l, out: bufio.NewWriterSize(w, 1<<16)}
	if !l.o.Bare {
		t.writeCaption()
	}
	t.writeThreading()
	t.writeCloth()
	return written(t.out)
}

// textual is a drawing in characters under way. Each line has the number of a
// shaft, the ends, a gap, the treadles, and the number of a pick.
type textual struct {
	*layout
	out *bufio.Writer // keeps the first error until it is flushed
}

func (t *textual) writeCaption() {
	t.writeLine(Title(t.draft))
	for _, fact := range t.facts() {
		t.writeLine(fact)
	}
	t.writeLine("")
}

func (t *textual) writeLine(line string) { t.out.WriteString(strings.TrimRight(line, " ") + "\n") }

func (t *textual) indent() int { return len(strconv.Itoa(t.shafts)) }

const gapInText = "  "

// writeThreading draws the threading with the tie-up beside it.
func (t *textual) writeThreading() {
	rows := make([][]byte, t.shafts+1)
	for shaft := range rows {
		rows[shaft] = []byte(strings.Repeat(".", t.ends))
	}
	for e := 1; e <= t.ends; e++ {
		for _, shaft := range t.draft.Threading.Row(e) {
			rows[shaft][t.column(e)-t.grid.x] = '#'
		}
	}
	tied := t.tied()
	for shaft := t.shafts; shaft >= 1; shaft-- {
		t.writeLine(fmt.Sprintf("%*d %s%s%s", t.indent(), shaft, rows[shaft], gapInText, tied[shaft]))
	}
	t.writeLine("")
}

// tied is the tie-up by shaft; empty with a lift plan.
func (t *textual) tied() [][]byte {
	rows := make([][]byte, t.shafts+1)
	if t.planned {
		return rows
	}
	for shaft := range rows {
		rows[shaft] = []byte(strings.Repeat(".", t.treadles))
	}
	for treadle := 1; treadle <= t.draft.Tieup.Len(); treadle++ {
		for _, shaft := range t.draft.Tieup.Row(treadle) {
			rows[shaft][treadle-1] = '#'
		}
	}
	return rows
}

// writeCloth draws the picks from the top down. To have pick 1 at the bottom the
// rows are kept.
func (t *textual) writeCloth() {
	var kept []string
	indent := strings.Repeat(" ", t.indent()+1)
	ends := t.endsAcross(t.grid.x, t.grid.right())
	face := make([]byte, len(ends))
	for pick, row := range t.cloth.Rows() {
		if pick > t.picks {
			break
		}
		for i, e := range ends {
			face[i] = symbol((row[e-1] == '1') != t.o.Back)
		}
		line := fmt.Sprintf("%s%s%s%s %d", indent, face, gapInText, t.pressed(pick), pick)
		if t.o.Pick1 == Top {
			t.writeLine(line)
		} else {
			kept = append(kept, line)
		}
	}
	for i := len(kept) - 1; i >= 0; i-- {
		t.writeLine(kept[i])
	}
}

// pressed is what a pick presses or lifts.
func (t *textual) pressed(pick int) []byte {
	line := []byte(strings.Repeat(".", t.treadles))
	rows := &t.draft.Treadling
	if t.planned {
		rows = &t.draft.LiftPlan
	}
	for _, n := range rows.Row(pick) {
		line[n-1] = '#'
	}
	return line
}
