package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

// unused lists the numbers from 1 to most that no row names. It returns none if the
// rows name nothing at all, or if most is too high to be right.
func unused(rows *schema.Rows, most int) []int {
	if rows.Count() == 0 || most > rows.Count()+schema.MostExtraRows {
		return nil
	}
	named := make([]bool, most+1)
	for _, n := range rows.Numbers() {
		if int(n) <= most {
			named[n] = true
		}
	}
	var list []int
	for n := 1; n <= most; n++ {
		if !named[n] {
			list = append(list, n)
		}
	}
	return list
}

// reportUnused reports unused shafts or treadles, and offers to remove them and
// renumber the rest. uses is the thread that may be missing.
func reportUnused(p *lint.Pass, at schema.Place, noun, uses string, list []int, why string, edits func(schema.Editor) []schema.Edit) {
	names := wording.Numbered(noun, list)
	p.Report(at, schema.Data{{Key: noun + "s", Value: list}},
		"%s %s; check for missing %ss, or run fettle clean --risky to remove %s and renumber the rest", names, why, uses, wording.Plural(len(list), "it", "them"))
	offer(p, "remove "+names+", and renumber the rest", true, edits)
}
