package wif

import (
	"strings"
	"testing"
)

func TestKindOf(t *testing.T) {
	for _, row := range []struct {
		name string
		want kind
	}{
		{"WIF", kindWIF}, {"wif", kindWIF}, {"Color Palette", kindColorPalette}, {"WARP   COLORS", kindWarpColors},
		{"warp\tsymbol  palette", kindWarpSymbolPalette}, {"LIFTPLAN", kindLiftPlan}, {"LIFT PLAN", kindUnknown},
		{"WARP", kindWarp}, {"WARPS", kindUnknown}, {"", kindUnknown}, {"PRIVATE", kindPrivate}, {"private x", kindPrivate},
		{"PRIVATEx", kindUnknown}, {"PRIVATE\tx", kindPrivate}, {"WARP SYMBOL PALETTES", kindUnknown},
		{strings.Repeat("WARP ", 100), kindUnknown}, {"COLOR PALETTE\xff", kindUnknown},
	} {
		if got := kindOf([]byte(row.name)); got != row.want {
			t.Errorf("%q is %s, want %s", row.name, sections[got].name, sections[row.want].name)
		}
	}
}

// TestKindsAreComplete checks that the table of sections has no gaps, and that every
// name is found.
func TestKindsAreComplete(t *testing.T) {
	for k := kindWIF; k < kinds; k++ {
		s := sections[k]
		if s.name == "" || kindOf([]byte(s.name)) != k || kindOf([]byte(strings.ToLower(s.name))) != k {
			t.Errorf("kind %d has the name %q of kind %d", k, s.name, kindOf([]byte(s.name)))
		}
		for i, key := range s.keys {
			if k.keyOf([]byte(strings.ToUpper(key.name))) != i {
				t.Errorf("%s: key %s is not found", s.name, key.name)
			}
		}
		if len(s.name) > maxName {
			t.Errorf("%s is longer than maxName", s.name)
		}
	}
}

func TestNearKeyIgnoresCase(t *testing.T) {
	if got := kindText.nearKey([]byte("tITEL")); got < 0 || sections[kindText].keys[got].name != "Title" {
		t.Errorf("key %d", got)
	}
}

func TestNearSection(t *testing.T) {
	for _, row := range []struct {
		name string
		want kind
	}{
		{"THREDING", kindThreading}, {"tie-up", kindTieup}, {"TREDLING", kindTreadling}, {"Colour Table", kindColorTable},
		{"TEST", kindText}, {"NOTE", kindNotes}, {"WIF", kindUnknown}, {"SPINDLES", kindUnknown}, {"", kindUnknown},
		{"WAFT", kindWeft}, {"WERT", kindWeft}, {"WRAP", kindWarp}, {"WEFP", kindWeft}, {"WERP", kindWarp},
		{"WIRP SYMBOLS", kindWarpSymbols}, {strings.Repeat("X", 1000), kindUnknown},
	} {
		if got := nearSection([]byte(row.name)); got != row.want {
			t.Errorf("%q is near %q, want %q", row.name, sections[got].name, sections[row.want].name)
		}
	}
}

func TestSameName(t *testing.T) {
	for _, row := range []struct {
		a, b string
		want bool
	}{
		{"rising shed", "Rising Shed", true}, {"Rising  \tShed", "Rising Shed", true}, {"RisingShed", "Rising Shed", false},
		{"Shafts", "Shafts", true}, {"Shaft", "Shafts", false}, {strings.Repeat("a", 100), strings.Repeat("b", 100), false},
	} {
		if got := sameName([]byte(row.a), row.b); got != row.want {
			t.Errorf("%q and %q: %v", row.a, row.b, got)
		}
	}
}

func TestNearNeedsOneMatch(t *testing.T) {
	known := []string{"CAT", "", "CAR", "DOG"}
	for name, want := range map[string]int{"CAB": -1, "DOT": 3, "CA": -1, "CAT": 2, "CART": -1, "GOD": -1, "dgo": 3} {
		if got := near([]byte(name), len(known), func(i int) string { return known[i] }); got != want {
			t.Errorf("%s is near %d, want %d", name, got, want)
		}
	}
}
