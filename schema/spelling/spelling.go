// Package spelling finds the known name that a misspelt word was meant to be.
package spelling

import (
	"strings"

	"github.com/agnivade/levenshtein"
)

// longestName is more characters than any name of ours has; comparing takes
// time in the square of them.
const longestName = 60

// Fold returns a name as it is compared: in small letters, and one space for any
// spaces, hyphens and underscores.
func Fold(name string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(name), func(r rune) bool {
		return r == ' ' || r == '-' || r == '_' || r == '\t'
	}), " ")
}

// Nearest returns the known name that a word was most likely meant to be: the first of
// those with the fewest slips, or "" where none is near. Near is at most two slips
// away, and fewer than half of the letters of the known name.
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

// slips returns how many letters are wrong, missing or too many; two neighbours that
// have changed places are one slip.
func slips(word, name string) int {
	if OneSlip(word, name) {
		return 1
	}
	return levenshtein.ComputeDistance(word, name)
}

// OneSlip reports whether two names differ by one letter that is wrong, missing or too
// many, or by two neighbours that have changed places. Letters are bytes.
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
