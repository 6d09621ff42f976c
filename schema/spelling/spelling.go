// Package spelling finds the known name that a misspelt word was meant to be.
package spelling

import (
	"strings"

	"github.com/agnivade/levenshtein"
)

// longestName exceeds every known name. Comparing takes time quadratic in the
// length, so longer words are skipped.
const longestName = 60

// Fold returns a name for comparison: in lower case, with one space for any run of
// spaces, hyphens and underscores.
func Fold(name string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(name), func(r rune) bool {
		return r == ' ' || r == '-' || r == '_' || r == '\t'
	}), " ")
}

// Nearest returns the known name that a misspelt word most likely means: the one
// with the fewest slips, or the first of several. It returns "" unless there are
// at most two slips, in less than half of the letters of the name.
func Nearest(word string, known []string) string {
	if len(word) > longestName {
		return ""
	}
	word = Fold(word)
	best, least := "", 3
	for _, name := range known {
		folded := Fold(name)
		if d := slips(word, folded); d < least && 2*d < len(folded) {
			best, least = name, d
		}
	}
	return best
}

// slips counts letters that are wrong, missing or extra. Two swapped neighbours
// are one slip if nothing else is wrong.
func slips(word, name string) int {
	if OneSlip(word, name) {
		return 1
	}
	return levenshtein.ComputeDistance(word, name)
}

// OneSlip reports whether two names differ in one letter that is wrong, missing or
// extra, or in two swapped neighbours. Letters are bytes.
func OneSlip[A, B ~string | ~[]byte](a A, b B) bool {
	for len(a) > 0 && len(b) > 0 && a[0] == b[0] {
		a, b = a[1:], b[1:]
	}
	for len(a) > 0 && len(b) > 0 && a[len(a)-1] == b[len(b)-1] {
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	switch {
	case len(a)+len(b) == 1, len(a) == 1 && len(b) == 1:
		return true
	case len(a) == 2 && len(b) == 2:
		return a[0] == b[1] && a[1] == b[0]
	}
	return false
}
