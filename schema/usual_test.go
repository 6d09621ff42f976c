package schema

import (
	"regexp"
	"slices"
	"strings"
	"testing"
)

// TestUsualFiguresHaveASource allows only figures that are in print. Any other
// figure must say that it is common practice.
func TestUsualFiguresHaveASource(t *testing.T) {
	const common = "common practice, no source"
	printed := map[string][]string{
		"take-up":        {"10", "15", "1", "10"}, // the last two: silk, Wolfensberger 1921
		"shrinkage warp": {"10", "15"},
		"weft take-up":   {"10"},
		"loom waste":     {"50", "90", "20", "36"}, // 20 to 36 in
	}
	for _, key := range []string{"take-up", "shrinkage warp", "shrinkage weft", "weft take-up", "draw-in", "loom waste"} {
		text := Usual(key)
		if text == "" {
			t.Errorf("%s: nothing is known", key)
		}
		figures := regexp.MustCompile(`[\d.]+`).FindAllString(text, -1)
		if !strings.Contains(text, common) && !slices.Equal(figures, printed[key]) {
			t.Errorf("%s: %q has figures %q, in print are %q", key, text, figures, printed[key])
		}
		if strings.Contains(text, common) && printed[key] != nil {
			t.Errorf("%s: %q says %q of a figure that is in print", key, text, common)
		}
	}
}
