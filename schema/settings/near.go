package settings

import (
	"strings"

	"github.com/agnivade/levenshtein"
)

// fold is a name as it is compared: small letters, and one space for any
// spaces, hyphens and underscores.
func fold(name string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(name), func(r rune) bool {
		return r == ' ' || r == '-' || r == '_' || r == '\t'
	}), " ")
}

// nearest is the known name that a word was most likely meant to be, "" where
// none is near.
func nearest(word string, known []string) string {
	const longest = 40 // no name is so long, and comparing takes time
	word = fold(word)
	if len(word) > longest {
		return ""
	}
	best, least := "", min(len(word)/3, 2)+1
	for _, name := range known {
		if d := levenshtein.ComputeDistance(word, fold(name)); d < least {
			best, least = name, d
		}
	}
	return best
}

// meant is the end of a message about an unknown name.
func meant(word string, known []string) string {
	if n := nearest(word, known); n != "" {
		return "; did you mean '" + n + "'?"
	}
	return ""
}
