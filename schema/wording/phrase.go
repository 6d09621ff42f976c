package wording

import (
	"fmt"
	"strconv"
	"strings"
)

// Counted returns a number and its noun: "1 end", "2 ends".
func Counted(n int, what string) string {
	return strconv.Itoa(n) + " " + Plural(n, what, what+"s")
}

// Plural returns the word that agrees with a count.
func Plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// Listed joins things with "and": "1, 2 and 3"; "" for none.
func Listed(things []string) string { return joined(things, " and ") }

// Either joins things with "or": "1, 2 or 3"; "" for none.
func Either(things []string) string { return joined(things, " or ") }

func joined(things []string, beforeLast string) string {
	last := len(things) - 1
	if last <= 0 {
		return strings.Join(things, "")
	}
	return strings.Join(things[:last], ", ") + beforeLast + things[last]
}

// JoinNumbers writes numbers with a text between them: "1+3"; none for no numbers.
func JoinNumbers[N int | int32](list []N, between, none string) string {
	if len(list) == 0 {
		return none
	}
	var text []byte
	for i, n := range list {
		if i > 0 {
			text = append(text, between...)
		}
		text = strconv.AppendInt(text, int64(n), 10)
	}
	return string(text)
}

// Decimal writes a number with at most this many decimals and no trailing zeros.
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

// mostRuns is how many numbers and runs a message lists before it counts the rest.
const mostRuns = 6

// Numbered lists ascending numbers, with runs joined: "end 4", "ends 3, 5–8 and
// 12", "ends 1–3, 9 and 40 more".
func Numbered(noun string, list []int) string {
	if len(list) == 1 {
		return fmt.Sprintf("%s %d", noun, list[0])
	}
	var words []string
	listed := 0
	for listed < len(list) && len(words) < mostRuns {
		run := runAt(list, listed)
		words = append(words, runText(list[listed], run))
		listed += run
	}
	if rest := len(list) - listed; rest > 0 {
		words = append(words, fmt.Sprintf("%d more", rest))
	}
	return noun + "s " + Listed(words)
}

// runAt returns the length of the run of consecutive numbers at i. Two numbers are
// not a run.
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

// TimesOver writes a number of times: "once", "2 times".
func TimesOver(n int) string {
	if n == 1 {
		return "once"
	}
	return strconv.Itoa(n) + " times"
}
