package dressing

import (
	"fmt"
	"slices"
	"strconv"

	"fettle/schema"
	"fettle/schema/wording"
)

// Beyond is a row of the draft that names a shaft, or a treadle, above the number
// that the draft declares, and is most likely a slip: no other row bears it out.
type Beyond struct {
	At       schema.Place // the row
	Row      string       // what the row is of: "end 59"
	What     string       // "shaft" or "treadle"
	Number   int          // that it names
	Declared int
	// Meant is the number with one of two like figures left out, as where a key
	// was struck twice: 3 for 33. It is 0 where that is not one that is declared.
	Meant int
	Fixed []int32 // the numbers of the row as meant, where Meant is known
}

// Text says which row names what, and what to do.
func (b Beyond) Text() string {
	declares := "the draft declares " + wording.Counted(b.Declared, b.What)
	if b.Meant == 0 {
		return fmt.Sprintf("%s alone names %s %d, but %s; correct the slip, or declare %d", b.Row, b.What, b.Number, declares, b.Number)
	}
	return fmt.Sprintf("%s names %s %d, but %s; %s %d is probably meant", b.Row, b.What, b.Number, declares, b.What, b.Meant)
}

// Above is what a draft names above a number that it declares.
type Above struct {
	Slips   []Beyond // in the order of the tables
	Highest int      // the highest number named that is no slip, or is declared
	// Sure says that the declared number is wrong: several rows name the highest,
	// and some every number up to it.
	Sure bool
}

// mostBeyond is how many rows may be slips. More of them bear each other out.
const mostBeyond = 2

// ShaftsAbove returns what the draft names above the shafts that it declares.
func ShaftsAbove(d *schema.Draft) Above {
	if d.Shafts == 0 || d.HighestShaft() <= d.Shafts {
		return Above{Highest: d.HighestShaft()}
	}
	a := above{what: "shaft", declared: d.Shafts, tables: []naming{
		{"end", schema.PartThreading, &d.Threading}, {"treadle", schema.PartTieup, &d.Tieup}, {"pick", schema.PartLiftPlan, &d.LiftPlan}}}
	return a.look(d.HighestShaft())
}

// TreadlesAbove is ShaftsAbove for treadles. One that is tied is no slip, unless its
// own number has a figure twice and the treadle that is meant is not tied.
func TreadlesAbove(d *schema.Draft) Above {
	if d.Treadles == 0 || d.HighestTreadle() <= d.Treadles {
		return Above{Highest: d.HighestTreadle()}
	}
	a := above{what: "treadle", declared: d.Treadles, tables: []naming{{"pick", schema.PartTreadling, &d.Treadling}}, tieup: &d.Tieup}
	return a.look(d.HighestTreadle())
}

// naming is a table of a draft whose rows name shafts or treadles.
type naming struct {
	row  string // what one of its rows is of
	part schema.Part
	rows *schema.Rows
}

// above looks for what is named above a declared number.
type above struct {
	what     string
	declared int
	tables   []naming
	tieup    *schema.Rows // for treadles, which its rows are numbered by
	named    map[int]uses
}

// uses is how often a number is named.
type uses struct {
	rows, lastTable int
	severalTables   bool
}

func (a *above) look(highest int) Above {
	a.named = map[int]uses{}
	a.each(func(table, _, number int) bool {
		u := a.named[number]
		u.severalTables = u.rows > 0 && (u.severalTables || table != u.lastTable)
		u.rows, u.lastTable = u.rows+1, table
		a.named[number] = u
		return true
	})
	found := Above{Highest: a.borneOut()}
	a.each(func(table, row, number int) bool {
		if number > found.Highest {
			found.Slips = append(found.Slips, a.slip(table, row, number))
		}
		return len(found.Slips) <= mostBeyond
	})
	if len(found.Slips) > mostBeyond {
		found = Above{Highest: highest}
	}
	found.Sure = a.named[found.Highest].rows > 1
	for n := a.declared + 1; n < found.Highest && found.Sure; n++ {
		found.Sure = a.named[n].rows > 0
	}
	return found
}

// each goes through the rows that name a number above the declared one, until do
// says false. A row of the tie-up names a treadle by its own number; its table is
// the one behind the others.
func (a *above) each(do func(table, row, number int) bool) {
	for i, t := range a.tables {
		for n := 1; n <= t.rows.Len(); n++ {
			for _, v := range t.rows.Row(n) {
				if int(v) > a.declared && !do(i, n, int(v)) {
					return
				}
			}
		}
	}
	if a.tieup == nil {
		return
	}
	for n := a.declared + 1; n <= a.tieup.Len(); n++ {
		if (len(a.tieup.Row(n)) > 0 || n == a.tieup.Len()) && !do(len(a.tables), n, n) {
			return
		}
	}
}

// borneOut is the highest number that is no slip, or is declared. A number is a slip
// where a single row names it, or where rows of one table have the same figure
// twice in it; for a treadle that is tied, only if that is so and the one that is
// meant is not tied.
func (a *above) borneOut() int {
	highest := a.declared
	for number, u := range a.named {
		meant := struckOnce(number, a.declared)
		slip := u.rows == 1 || meant > 0 && !u.severalTables
		if tied := u.lastTable == len(a.tables); tied && (meant == 0 || len(a.tieup.Row(meant)) > 0) {
			slip = false
		}
		if !slip {
			highest = max(highest, number)
		}
	}
	return highest
}

func (a *above) slip(table, row, number int) Beyond {
	b := Beyond{Row: "the tie-up", At: schema.Place{Part: schema.PartTieup, Row: row}, What: a.what, Number: number, Declared: a.declared,
		Meant: struckOnce(number, a.declared)}
	if table < len(a.tables) {
		t := a.tables[table]
		b.At.Part, b.Row = t.part, fmt.Sprintf("%s %d", t.row, row)
		if b.Meant > 0 {
			b.Fixed = fixed(t.rows.Row(row), int32(number), int32(b.Meant))
		}
	}
	return b
}

// fixed is a row with one number in the place of another.
func fixed(row []int32, number, meant int32) []int32 {
	var list []int32
	for _, v := range row {
		if v == number {
			v = meant
		}
		if !slices.Contains(list, v) {
			list = append(list, v)
		}
	}
	return list
}

// struckOnce is a number with one of two neighbouring like figures left out, where
// one that is at most so high comes of it; else 0.
func struckOnce(number, most int) int {
	text := strconv.Itoa(number)
	meant := 0
	for i := 1; i < len(text); i++ {
		if text[i] != text[i-1] {
			continue
		}
		n, err := strconv.Atoi(text[:i] + text[i+1:])
		if err != nil || n < 1 || n > most || meant != 0 && meant != n {
			return 0
		}
		meant = n
	}
	return meant
}
