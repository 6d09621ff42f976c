package schema

import (
	"regexp"
	"slices"
	"strings"
	"testing"
)

// TestUsualFiguresHaveASource allows only published figures. Any other figure is common
// practice, no source, and its text must call it a rule of thumb.
func TestUsualFiguresHaveASource(t *testing.T) {
	const unsourced = "rule of thumb"
	printed := map[string][]string{
		"take-up":        {"10", "15", "1", "10"}, // the last two: silk, Wolfensberger 1921
		"shrinkage warp": {"10", "15"},
		"weft take-up":   {"10"},
		"loom waste":     {"50", "90", "20", "36"}, // 20 to 36 in
	}
	for _, key := range []string{"take-up", "shrinkage warp", "shrinkage weft", "weft take-up", "draw-in", "loom waste"} {
		text := Usual(key)
		if text == "" {
			t.Errorf("%s: no usual size", key)
		}
		figures := regexp.MustCompile(`[\d.]+`).FindAllString(text, -1)
		if !strings.Contains(text, unsourced) && !slices.Equal(figures, printed[key]) {
			t.Errorf("%s: %q has the figures %q; %q are in print", key, text, figures, printed[key])
		}
		if strings.Contains(text, unsourced) && printed[key] != nil {
			t.Errorf("%s: %q says %q about a figure that is in print", key, text, unsourced)
		}
	}
}
