package settings

import (
	"fettle/schema/spelling"
)

// meant is the end of a message about an unknown name.
func meant(word string, known []string) string {
	if n := spelling.Nearest(word, known); n != "" {
		return "; is '" + n + "' meant?"
	}
	return ""
}
