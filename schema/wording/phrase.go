package wording

import (
	"fmt"
	"strconv"
	"strings"
)

// Counted is a number with what it counts: 1 end, 2 ends.
func Counted(n int, what string) string {
	return strconv.Itoa(n) + " " + Plural(n, what, what+"s")
}

// Plural is the word that agrees with a count.
func Plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// Listed is several things in words: "1, 2 and 3"; "" for none.
func Listed(things []string) string { return joined(things, " and ") }

// Either is several things to choose from: "1, 2 or 3"; "" for none.
func Either(things []string) string { return joined(things, " or ") }

func joined(things []string, beforeLast string) string {
	last := len(things) - 1
	if last <= 0 {
		return strings.Join(things, "")
	}
	return strings.Join(things[:last], ", ") + beforeLast + things[last]
}

// Decimal writes a number with at most that many places and no trailing zeros.
func Decimal(v float64, places int) string {
	s := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

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

// TimesOver says how often: once, 2 times.
func TimesOver(n int) string {
	if n == 1 {
		return "once"
	}
	return strconv.Itoa(n) + " times"
}
