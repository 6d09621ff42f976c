package schema

import (
	"fmt"
)

// mostRuns is how many threads, or runs of threads, a message names before it
// only counts the rest.
const mostRuns = 6

// Numbered is a list of ascending numbers in words, runs drawn together:
// "end 4", "ends 3, 5–8 and 12", "ends 1–3, 9 and 40 more".
func Numbered(noun string, list []int) string {
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
	return noun + "s " + Listed(words)
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
