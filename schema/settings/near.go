package settings

import "fettle/schema"

// meant is the end of a message about an unknown name.
func meant(word string, known []string) string {
	if n := schema.Nearest(word, known); n != "" {
		return "; is '" + n + "' meant?"
	}
	return ""
}
