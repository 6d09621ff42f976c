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

func TestOneSlip(t *testing.T) {
	for _, row := range []struct {
		name, known string
		want        bool
	}{
		{"THREDING", "THREADING", true},   // missing
		{"THREEADING", "THREADING", true}, // too many
		{"THREADIMG", "THREADING", true},  // wrong
		{"THRAEDING", "THREADING", true},  // swapped
		{"HREADING", "THREADING", true},   // the first missing
		{"THREADINGS", "THREADING", true}, // an extra one
		{"TRHAEDING", "THREADING", false}, // swapped twice
		{"THREDIN", "THREADING", false},   // two missing
		{"THREADING", "THREADING", false}, // right
		{"TREADLING", "THREADING", false}, // another section
		{"GNIDAERHT", "THREADING", false}, // reversed
		{"", "A", true}, {"", "AB", false}, {"B", "A", true}, {"BA", "AB", true}, {"AB", "AC", true}, {"ABC", "CBA", false},
	} {
		if got, back := OneSlip([]byte(row.name), row.known), OneSlip(row.known, row.name); got != row.want || back != row.want {
			t.Errorf("%q for %q: %v, reversed %v", row.name, row.known, got, back)
		}
	}
}
