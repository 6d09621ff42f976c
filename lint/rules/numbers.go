package rules

import "fettle/schema"

// threadsOf names a thread of a system, and a thread that it crosses.
func threadsOf(system schema.SystemName) (thread, crossed string) {
	if system == schema.Warp {
		return "end", "pick"
	}
	return "pick", "end"
}

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
