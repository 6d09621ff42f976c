package rules

import (
	"fmt"
	"slices"
	"strings"

	"fettle/schema"
)

// mostRuns is how many threads, or runs of threads, a message names before it
// only counts the rest.
const mostRuns = 6

// numbered is a list of ascending numbers in words, runs drawn together:
// "end 4", "ends 3, 5–8 and 12", "ends 1–3, 9 and 40 more".
func numbered(noun string, list []int) string {
	if len(list) == 1 {
		return fmt.Sprintf("%s %d", noun, list[0])
	}
	var words []string
	told := 0
	for told < len(list) && len(words) < mostRuns {
		run := runAt(list, told)
		words = append(words, runText(list[told], run))
		told += run
	}
	if rest := len(list) - told; rest > 0 {
		words = append(words, fmt.Sprintf("%d more", rest))
	}
	last := len(words) - 1
	if last == 0 {
		return noun + "s " + words[0]
	}
	return noun + "s " + strings.Join(words[:last], ", ") + " and " + words[last]
}

// runAt is how many numbers of the list follow each other from i on; two make
// no run.
func runAt(list []int, i int) int {
	n := 1
	for i+n < len(list) && list[i+n] == list[i]+n {
		n++
	}
	if n == 2 {
		return 1
	}
	return n
}

func runText(first, run int) string {
	if run == 1 {
		return fmt.Sprint(first)
	}
	return fmt.Sprintf("%d–%d", first, first+run-1)
}

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
