package dressing

import (
	"slices"
	"strconv"

	"fettle/schema"
)

// Typo is the only row of the draft that names some shaft or treadle above the declared
// number.
type Typo struct {
	At       schema.Place // the row
	What     string       // "shaft" or "treadle"
	Number   int          // the number it names
	Declared int
	// Meant is the number without a digit that was typed twice: 3 for 33. It is 0 if that
	// number isn't declared either.
	Meant int
	Fixed []int32 // the numbers of the row as meant, if Meant is known
}

// Above describes the numbers in a draft that are above the declared one.
type Above struct {
	Typos   []Typo // in the order of the tables
	Highest int    // the highest number that is declared, or named without being a typo
	// Sure reports that the declared number is wrong: several rows name the highest
	// number, and every number below it is also named.
	Sure bool
}

// mostTypos is the most rows that count as typos. More than that can't be chance.
const mostTypos = 2

// ShaftsAbove describes the shafts that the draft names above those it declares.
func (f *Figures) ShaftsAbove() Above { return f.shaftsAbove.get(f.computeShaftsAbove) }

func (f *Figures) computeShaftsAbove() Above {
	d := f.Draft
	if d.Shafts == 0 || d.HighestShaft() <= d.Shafts {
		return Above{Highest: d.HighestShaft()}
	}
	s := typoSearch{what: "shaft", declared: d.Shafts, tables: []table{
		{schema.PartThreading, &d.Threading}, {schema.PartTieup, &d.Tieup}, {schema.PartLiftPlan, &d.LiftPlan}}}
	return s.search(d.HighestShaft())
}

// TreadlesAbove does the same for treadles. A tied treadle isn't a typo, unless its
// number has a double digit and the treadle without the extra digit isn't tied.
func (f *Figures) TreadlesAbove() Above { return f.treadlesAbove.get(f.computeTreadlesAbove) }

func (f *Figures) computeTreadlesAbove() Above {
	d := f.Draft
	if d.Treadles == 0 || d.HighestTreadle() <= d.Treadles {
		return Above{Highest: d.HighestTreadle()}
	}
	s := typoSearch{what: "treadle", declared: d.Treadles, tables: []table{{schema.PartTreadling, &d.Treadling}}, tieup: &d.Tieup}
	return s.search(d.HighestTreadle())
}

// table is a table of a draft whose rows name shafts or treadles.
type table struct {
	part schema.Part
	rows *schema.Rows
}

// typoSearch finds numbers above the declared one.
type typoSearch struct {
	what     string
	declared int
	tables   []table
	tieup    *schema.Rows // for treadles: the table whose rows are treadle numbers
	named    map[int]uses
}

// uses counts how often a number is named.
type uses struct {
	rows, lastTable int
	severalTables   bool
}

func (s *typoSearch) search(highest int) Above {
	s.named = map[int]uses{}
	s.each(func(table, _, number int) bool {
		u := s.named[number]
		u.severalTables = u.rows > 0 && (u.severalTables || table != u.lastTable)
		u.rows, u.lastTable = u.rows+1, table
		s.named[number] = u
		return true
	})
	found := Above{Highest: s.borneOut()}
	s.each(func(table, row, number int) bool {
		if number > found.Highest {
			found.Typos = append(found.Typos, s.typo(table, row, number))
		}
		return len(found.Typos) <= mostTypos
	})
	if len(found.Typos) > mostTypos {
		found = Above{Highest: highest}
	}
	found.Sure = s.named[found.Highest].rows > 1
	for n := s.declared + 1; n < found.Highest && found.Sure; n++ {
		found.Sure = s.named[n].rows > 0
	}
	return found
}

// each calls do for the rows that name a number above the declared one, until it
// returns false. A row of the tie-up names a treadle by its own number; its table comes
// after the others.
func (s *typoSearch) each(do func(table, row, number int) bool) {
	for i, t := range s.tables {
		for n := 1; n <= t.rows.Len(); n++ {
			for _, v := range t.rows.Row(n) {
				if int(v) > s.declared && !do(i, n, int(v)) {
					return
				}
			}
		}
	}
	if s.tieup == nil {
		return
	}
	for n := s.declared + 1; n <= s.tieup.Len(); n++ {
		if (len(s.tieup.Row(n)) > 0 || n == s.tieup.Len()) && !do(len(s.tables), n, n) {
			return
		}
	}
}

// borneOut returns the highest number that is declared, or named without being a typo. A
// number is a typo if only one row names it, or if it has a digit typed twice in all rows
// of one table. A tied treadle is a typo only if the treadle that was meant isn't tied.
func (s *typoSearch) borneOut() int {
	highest := s.declared
	for number, u := range s.named {
		meant := struckOnce(number, s.declared)
		typo := u.rows == 1 || meant > 0 && !u.severalTables
		if tied := u.lastTable == len(s.tables); tied && (meant == 0 || len(s.tieup.Row(meant)) > 0) {
			typo = false
		}
		if !typo {
			highest = max(highest, number)
		}
	}
	return highest
}

func (s *typoSearch) typo(table, row, number int) Typo {
	typo := Typo{At: schema.Place{Part: schema.PartTieup, Row: row}, What: s.what, Number: number, Declared: s.declared,
		Meant: struckOnce(number, s.declared)}
	if table < len(s.tables) {
		t := s.tables[table]
		typo.At.Part = t.part
		if typo.Meant > 0 {
			typo.Fixed = fixed(t.rows.Row(row), int32(number), int32(typo.Meant))
		}
	}
	return typo
}

// fixed returns a row with one number replaced by another.
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

// struckOnce returns a number without one of two equal digits side by side, if the result
// is at most the limit; otherwise 0.
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
