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

// slips is how many letters are wrong, missing or too many; two neighbours that
// have changed places are one slip.
func slips(word, name string) int {
	if swapped(word, name) {
		return 1
	}
	return levenshtein.ComputeDistance(word, name)
}

// swapped says whether two neighbours that have changed places are all that is
// wrong.
func swapped(word, name string) bool {
	if len(word) != len(name) {
		return false
	}
	for i := range len(word) - 1 {
		if word[i] != name[i] {
			return word[i] == name[i+1] && word[i+1] == name[i] && word[i+2:] == name[i+2:]
		}
	}
	return false
}
