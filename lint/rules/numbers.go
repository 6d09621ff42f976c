package rules

import (
	"slices"

	"fettle/schema"
)

// numbered is a list of ascending numbers in words.
func numbered(noun string, list []int) string { return schema.Numbered(noun, list) }

// plural is the word that agrees with a count.
func plural(count int, one, many string) string {
	if count == 1 {
		return one
	}
	return many
}

// threadsOf are the names of one thread of a system and of what it crosses.
func threadsOf(system schema.SystemName) (thread, crossed string) {
	if system == schema.Warp {
		return "end", "pick"
	}
	return "pick", "end"
}

// different is the numbers that rows name, ascending, each once.
func different(rows *schema.Rows) []int32 {
	list := make([]int32, 0, rows.Count())
	for n := 1; n <= rows.Len(); n++ {
		list = append(list, rows.Row(n)...)
	}
	slices.Sort(list)
	return slices.Compact(list)
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

// hair forgives what floating point adds, so that what is exactly at a limit is
// not over it.
const hair = 1e-9

// over says whether a figure is strictly over its limit.
func over(figure, limit float64) bool { return figure > limit*(1+hair) }
