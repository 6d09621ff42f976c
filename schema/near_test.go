package schema

import (
	"strings"
	"testing"
)

func TestNearest(t *testing.T) {
	known := []string{"shafts", "weaving width", "take-up", "jobs", "shed"}
	for word, want := range map[string]string{
		"shaft": "shafts", "Weaving-Widht": "weaving width", "take_up": "take-up", "takeup": "take-up", "she": "shed",
		"bogus": "", "x": "", "": "", "spindles": "", strings.Repeat("shafts", 1000): "",
	} {
		if got := Nearest(word, known); got != want {
			t.Errorf("%.20q: got %q, want %q", word, got, want)
		}
	}
}
