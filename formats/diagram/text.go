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
// tie-up and lifts, and warp up in the cloth. It uses only the options Back, End1, Pick1,
// Repeat, Ends, Picks and Bare.
func Text(w io.Writer, d *schema.Draft, o Options) error {
	l, err := newLayout(d, o, 1)
	if err != nil {
		return err
	}
	return writeText(w, l)
}

func writeText(w io.Writer, l *layout) error {
	t := textDrawing{layout: l, out: bufio.NewWriterSize(w, 1<<16)}
	if !l.options.Bare {
		t.writeCaption()
	}
	t.writeThreading()
	t.writeCloth()
	return flush(t.out)
}

// textDrawing is the current drawing. A line has the number of a shaft, the ends, a gap, the
// treadles, and the number of a pick.
type textDrawing struct {
	*layout
	out *bufio.Writer // keeps the first error until flush
}

func (t *textDrawing) writeCaption() {
	t.writeLine(Title(t.draft))
	for _, fact := range t.facts() {
		t.writeLine(fact)
	}
	t.writeLine("")
}

func (t *textDrawing) writeLine(line string) { t.out.WriteString(strings.TrimRight(line, " ") + "\n") }

func (t *textDrawing) indent() int { return len(strconv.Itoa(t.shafts)) }

const gapInText = "  "

// writeThreading draws the threading with the tie-up beside it.
func (t *textDrawing) writeThreading() {
	rows := make([][]byte, t.shafts+1)
	for shaft := range rows {
		rows[shaft] = []byte(strings.Repeat(".", t.ends))
	}
	for e := 1; e <= t.ends; e++ {
		for _, shaft := range t.draft.Threading.Row(e) {
			rows[shaft][t.column(e)-t.grid.x] = '#'
		}
	}
	tied := t.tieupRows()
	for shaft := t.shafts; shaft >= 1; shaft-- {
		t.writeLine(fmt.Sprintf("%*d %s%s%s", t.indent(), shaft, rows[shaft], gapInText, tied[shaft]))
	}
	t.writeLine("")
}

// tieupRows returns the tie-up by shaft; empty rows with a lift plan.
func (t *textDrawing) tieupRows() [][]byte {
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

// writeCloth draws the picks from the top. With pick 1 at the bottom, it keeps the lines until
// the end.
func (t *textDrawing) writeCloth() {
	var kept []string
	indent := strings.Repeat(" ", t.indent()+1)
	ends := t.endsAcross(t.grid.x, t.grid.right())
	face := make([]byte, len(ends))
	for pick, row := range t.cloth.Rows() {
		if pick > t.picks {
			break
		}
		for i, e := range ends {
			face[i] = symbol((row[e-1] == '1') != t.options.Back)
		}
		line := fmt.Sprintf("%s%s%s%s %d", indent, face, gapInText, t.liftRow(pick), pick)
		if t.options.Pick1 == Top {
			t.writeLine(line)
		} else {
			kept = append(kept, line)
		}
	}
	for i := len(kept) - 1; i >= 0; i-- {
		t.writeLine(kept[i])
	}
}

// liftRow returns the treadles or shafts of a pick.
func (t *textDrawing) liftRow(pick int) []byte {
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
