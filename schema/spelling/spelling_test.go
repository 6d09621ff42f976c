package spelling

import (
	"strings"
	"testing"
)

func TestNearest(t *testing.T) {
	known := []string{"shafts", "weaving width", "take-up", "jobs", "shed", "init", "lint"}
	for word, want := range map[string]string{
		"shaft": "shafts", "Weaving-Widht": "weaving width", "take_up": "take-up", "takeup": "take-up", "she": "shed",
		"lnit": "init", "ilnt": "lint", "lint": "lint", "shde": "shed", "hsed": "shed", "sehd": "shed", "dhes": "", "jbos": "jobs",
		"bogus": "", "x": "", "": "", "spindles": "", strings.Repeat("shafts", 1000): "",
	} {
		if got := Nearest(word, known); got != want {
			t.Errorf("%.20q: got %q, want %q", word, got, want)
		}
	}
}
