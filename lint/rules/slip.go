package rules

import (
	"fmt"
	"slices"

	"fettle/lint"
	"fettle/schema"
)

// naming is a table of a draft whose rows name shafts or treadles.
type naming struct {
	row  string // what one of its rows is of: an end, say
	rows *schema.Rows
}

// namedOnce gives the only row of the tables that names a number, in words. It
// says false where several do: one row may be a slip of the pen, several hardly.
func namedOnce(number int, tables ...naming) (where string, once bool) {
	found := 0
	for _, t := range tables {
		for n := 1; n <= t.rows.Len() && found < 2; n++ {
			if slices.Contains(t.rows.Row(n), int32(number)) {
				found++
				where = fmt.Sprintf("%s %d", t.row, n)
			}
		}
	}
	return where, found == 1
}

// reportHigher reports that a draft names a higher shaft or treadle than it
// declares. What one row alone names may be a slip: to declare it is then risky.
func reportHigher(p *lint.Pass, what string, field schema.Field, declared, used int, where string, once bool) {
	at := schema.Place{Part: schema.PartWeaving, Field: field}
	message := fmt.Sprintf("the draft declares %s and names %s %d; declare %d", schema.Counted(declared, what), what, used, used)
	if once {
		message = fmt.Sprintf("the draft declares %s, and %s alone names %s %d; put that right if it is a slip, else declare %d",
			schema.Counted(declared, what), where, what, used, used)
	}
	p.Report(at, schema.Data{{Key: "declared", Value: declared}, {Key: "used", Value: used}}, "%s", message)
	declare(p, at, used, once)
}
