package rules

import "fettle/schema"

// threadsOf are the names of one thread of a system and of what it crosses.
func threadsOf(system schema.SystemName) (thread, crossed string) {
	if system == schema.Warp {
		return "end", "pick"
	}
	return "pick", "end"
}

// unused lists the numbers from 1 to most that no row names. There are none
// where rows name nothing at all, or where most cannot be meant.
func unused(rows *schema.Rows, most int) []int {
	if rows.Count() == 0 || most > rows.Count()+schema.Belief {
		return nil
	}
	named := make([]bool, most+1)
	for n := 1; n <= rows.Len(); n++ {
		for _, v := range rows.Row(n) {
			if int(v) <= most {
				named[v] = true
			}
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
